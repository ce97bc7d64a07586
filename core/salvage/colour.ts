/**
 * Colours of cloth and paper: what words stand for, and how far apart two are to the eye. CIEDE2000 is reckoned on Lab as it is given,
 * both under D50; the library measures in Lab under D65 and would convert anything else first, so that Lab is handed to it under that
 * name.
 */
import { differenceCiede2000 } from 'culori';
import type { Lab } from './piece.ts';

const difference = differenceCiede2000();

/** CIEDE2000 between two colours under the same light, kL = kC = kH = 1. */
export function colourDifference([l1, a1, b1]: Lab, [l2, a2, b2]: Lab): number {
  return difference({ mode: 'lab65', l: l1, a: a1, b: b1 }, { mode: 'lab65', l: l2, a: a2, b: b2 });
}

export type Band = Readonly<{ below: number; words: string }>;

/**
 * Steps of difference by name. Up to 5 after W. S. Mokrzycki and M. Tatol, “Colour difference ΔE – a survey”, Machine Graphics and
 * Vision 20 (2011), from memory; the wider ones are common practice, no source.
 */
const bands: readonly Band[] = [
  { below: 1, words: 'no difference to the eye' },
  { below: 2, words: 'told apart only side by side' },
  { below: 3.5, words: 'close' },
  { below: 5, words: 'plainly another shade' },
  { below: 10, words: 'of the same colour, no match' },
  { below: Number.POSITIVE_INFINITY, words: 'another colour' },
];

export function bandOf(difference: number): Band {
  return bands.find((band) => difference < band.below) ?? bands.at(-1)!;
}

/** What plain colour words stand for, Lab under D50: our own estimates for finding a candidate, no source. First that is named counts. */
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
