/**
 * How far apart two colours of cloth or paper are to the eye. CIEDE2000 is reckoned on Lab as it is given,
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
