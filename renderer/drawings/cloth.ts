/**
 * What colour a covering is when it is described in words: "dark olive green", "faded purple", "half red morocco". A picture for finding a
 * book by eye, not a measurement. Values chosen for this drawing; no source.
 */
import type { Binding } from '../../core/book/book.ts';

/** OKLCH: lightness 0–1, chroma, hue in degrees. */
export type Cloth = Readonly<{ lightness: number; chroma: number; hue: number }>;

const named: readonly (readonly [RegExp, Cloth])[] = [
  [/\b(black|ebony)/, { lightness: 0.24, chroma: 0.01, hue: 60 }],
  [/\b(white|ivory)/, { lightness: 0.93, chroma: 0.02, hue: 95 }],
  [/\b(cream|vellum|parchment|natural)/, { lightness: 0.88, chroma: 0.045, hue: 90 }],
  [/\b(buff|drab|fawn|sand|stone|beige)/, { lightness: 0.74, chroma: 0.05, hue: 80 }],
  [/\b(gr[ea]y|slate|pewter|marbled)/, { lightness: 0.56, chroma: 0.012, hue: 240 }],
  [/\bolive/, { lightness: 0.47, chroma: 0.07, hue: 112 }],
  [/\b(turquoise|teal)/, { lightness: 0.55, chroma: 0.09, hue: 195 }],
  [/\bemerald/, { lightness: 0.55, chroma: 0.14, hue: 155 }],
  [/\b(green|sage|bottle)/, { lightness: 0.44, chroma: 0.085, hue: 150 }],
  [/\bnavy/, { lightness: 0.31, chroma: 0.07, hue: 265 }],
  [/\b(blue|indigo|azure)/, { lightness: 0.43, chroma: 0.1, hue: 258 }],
  [/\b(purple|violet|mauve|lilac|plum)/, { lightness: 0.4, chroma: 0.09, hue: 315 }],
  [/\b(pink|rose)/, { lightness: 0.68, chroma: 0.09, hue: 10 }],
  [/\b(maroon|claret|burgundy|wine|oxblood)/, { lightness: 0.33, chroma: 0.09, hue: 20 }],
  [/\b(red|crimson|scarlet|vermilion|madder)/, { lightness: 0.46, chroma: 0.15, hue: 26 }],
  [/\b(orange|terracotta|rust|russet)/, { lightness: 0.57, chroma: 0.12, hue: 48 }],
  [/\b(ochre|mustard|gold|yellow)/, { lightness: 0.7, chroma: 0.115, hue: 85 }],
  [/\b(tan|calf|sheep)/, { lightness: 0.54, chroma: 0.08, hue: 60 }],
  [/\b(brown|chocolate|russia|sepia|tobacco)/, { lightness: 0.39, chroma: 0.06, hue: 55 }],
];

const byBinding: Readonly<Record<Binding, Cloth>> = {
  'cloth case': { lightness: 0.5, chroma: 0.03, hue: 90 },
  'quarter cloth': { lightness: 0.5, chroma: 0.03, hue: 90 },
  'half cloth': { lightness: 0.5, chroma: 0.03, hue: 90 },
  'quarter leather': { lightness: 0.42, chroma: 0.065, hue: 55 },
  'half leather': { lightness: 0.42, chroma: 0.065, hue: 55 },
  'full leather': { lightness: 0.45, chroma: 0.07, hue: 58 },
  'paper boards': { lightness: 0.72, chroma: 0.025, hue: 85 },
  'paper wrappers': { lightness: 0.8, chroma: 0.03, hue: 85 },
  vellum: { lightness: 0.88, chroma: 0.045, hue: 90 },
  unbound: { lightness: 0.86, chroma: 0.03, hue: 88 },
};

/** The colour of these words, else the usual one of the binding. */
export function clothOf(words: string, binding: Binding | null): Cloth {
  const lower = words.toLowerCase();
  const base = named.find(([pattern]) => pattern.test(lower))?.[1] ?? byBinding[binding ?? 'cloth case'];
  let { lightness, chroma } = base;
  if (/\b(dark|deep|blackish)/.test(lower)) lightness *= 0.74;
  if (/\b(light|pale|washed)/.test(lower)) lightness += (0.92 - lightness) * 0.5;
  if (/\b(bright|vivid)/.test(lower)) chroma *= 1.35;
  if (/\b(dull|faded|sunned|greyish|grayish|dusty)/.test(lower)) chroma *= 0.55;
  return { lightness, chroma, hue: base.hue };
}

export function inCss({ lightness, chroma, hue }: Cloth): string {
  return `oklch(${lightness.toFixed(3)} ${chroma.toFixed(3)} ${hue})`;
}
