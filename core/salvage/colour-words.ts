/**
 * What a covering looks like when it is described in words: "dark olive green", "faded purple", "half red morocco". The one table of colour
 * words, for the picture of the shelf and for finding a candidate in the drawer alike. Estimates, never measurements; no source.
 */
import type { Binding } from '../book/book.ts';
import type { Lab } from './piece.ts';

/** What plain colour words stand for, Lab under D50. The first that is named counts. */
const named: readonly (readonly [RegExp, Lab])[] = [
  [/\b(black|ebony)/, [18, 0, 1]],
  [/\b(white|ivory)/, [92, 0, 6]],
  [/\b(cream|vellum|parchment|natural)/, [87, 1, 15]],
  [/\b(buff|drab|fawn|sand|stone|beige)/, [71, 4, 17]],
  [/\b(gr[ea]y|slate|pewter|marbled)/, [52, -1, -2]],
  [/\bolive/, [42, -5, 25]],
  [/\b(turquoise|teal)/, [50, -24, -8]],
  [/\bemerald/, [50, -42, 20]],
  [/\b(green|sage|bottle)/, [38, -23, 13]],
  [/\bnavy/, [21, 3, -20]],
  [/\b(blue|indigo|azure)/, [36, 3, -32]],
  [/\b(purple|violet|mauve|lilac|plum)/, [33, 22, -22]],
  [/\b(pink|rose)/, [65, 26, 6]],
  [/\b(maroon|claret|burgundy|wine|oxblood)/, [24, 26, 11]],
  [/\b(red|crimson|scarlet|vermilion|madder)/, [39, 46, 25]],
  [/\b(orange|terracotta|rust|russet)/, [52, 30, 35]],
  [/\b(ochre|mustard|gold|yellow)/, [68, 7, 50]],
  [/\b(tan|calf|sheep)/, [48, 14, 25]],
  [/\b(brown|chocolate|russia|sepia|tobacco)/, [32, 11, 16]],
];

/** Lab for words like “dark olive green” or “faded purple”; null where no colour is named. An estimate, never a measurement. */
export function labOfWords(words: string): Lab | null {
  const lower = words.toLowerCase();
  const base = named.find(([pattern]) => pattern.test(lower))?.[1];
  if (base === undefined) return null;
  let [l, a, b] = base;
  let chroma = 1;
  if (/\b(dark|deep|blackish)/.test(lower)) l *= 0.7;
  if (/\b(light|pale|washed)/.test(lower)) l += (92 - l) * 0.5;
  if (/\b(bright|vivid)/.test(lower)) chroma = 1.35;
  if (/\b(dull|faded|sunned|greyish|grayish|dusty)/.test(lower)) chroma = 0.55;
  [a, b] = [a * chroma, b * chroma];
  return [Math.round(l * 10) / 10, Math.round(a * 10) / 10, Math.round(b * 10) / 10];
}

const plain =
  'black grey white cream buff tan brown maroon red orange ochre olive green emerald teal blue navy purple pink'.split(
    ' ',
  );

/** Colours to pick from by eye, light, plain and dark, each with the Lab its words stand for. */
export const swatches: readonly Readonly<{ words: string; lab: Lab }>[] = plain.flatMap((name) =>
  [`light ${name}`, name, `dark ${name}`].flatMap((words) => {
    const lab = labOfWords(words);
    return lab === null ? [] : [{ words, lab }];
  }),
);

/** What a binding of unnamed colour mostly looks like, Lab under D50. */
const usual: Readonly<Record<Binding, Lab>> = {
  'cloth case': [42, 0, 12],
  'quarter cloth': [42, 0, 12],
  'half cloth': [42, 0, 12],
  'quarter leather': [32, 14, 23],
  'half leather': [32, 14, 23],
  'full leather': [36, 15, 25],
  'paper boards': [68, 1, 10],
  'paper wrappers': [77, 1, 12],
  vellum: [86, 0, 18],
  unbound: [84, 1, 12],
};

/** Lab of a covering by its words, else what is usual for the binding: for a picture, where something has to be shown. */
export function labOfCovering(words: string, binding: Binding | null): Lab {
  return labOfWords(words) ?? usual[binding ?? 'cloth case'];
}
