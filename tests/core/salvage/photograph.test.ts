import { describe, expect, test } from 'vitest';
import { colourDifference } from '../../../core/salvage/colour.ts';
import { measureColour, type Patch } from '../../../core/salvage/photograph.ts';
import type { Lab } from '../../../core/salvage/piece.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';

type Triple = [number, number, number];

/** What a camera would see, by another road than the one that is tested: CAT16 (Li et al. 2017) instead of Bradford. */
const cat16 = [
  [0.401288, 0.650173, -0.051461],
  [-0.250268, 1.204414, 0.045854],
  [-0.002079, 0.048952, 0.953127],
];
const xyzToRgb = [
  [3.2404542, -1.5371385, -0.4985314],
  [-0.969266, 1.8760108, 0.041556],
  [0.0556434, -0.2040259, 1.0572252],
];
const times = (m: readonly (readonly number[])[], v: readonly number[]) =>
  m.map((row) => row.reduce((sum, value, k) => sum + value * v[k]!, 0)) as Triple;
function solve(m: readonly (readonly number[])[], v: Triple): Triple {
  const determinant = (a: readonly (readonly number[])[]) =>
    a[0]![0]! * (a[1]![1]! * a[2]![2]! - a[1]![2]! * a[2]![1]!) -
    a[0]![1]! * (a[1]![0]! * a[2]![2]! - a[1]![2]! * a[2]![0]!) +
    a[0]![2]! * (a[1]![0]! * a[2]![1]! - a[1]![1]! * a[2]![0]!);
  const whole = determinant(m);
  return [0, 1, 2].map(
    (k) => determinant(m.map((row, i) => row.map((x, j) => (j === k ? v[i]! : x)))) / whole,
  ) as Triple;
}

/** Whites of lights, CIE 15:2004: daylight of an overcast sky, of a warm window, a cool tube, a warm lamp half way to illuminant A. */
const lights: Readonly<Record<string, Triple>> = {
  'north window, D65': [0.95047, 1, 1.08883],
  'evening window, D50': [0.9642, 1, 0.8249],
  'cool tube, F2': [0.99186, 1, 0.67393],
  'warm lamp': [1.03, 1, 0.6],
};
const d50: Triple = [0.9642, 1, 0.8249];

function xyzOf([l, a, b]: Lab): Triple {
  const f = (t: number) => (t > 6 / 29 ? t ** 3 : 3 * (6 / 29) ** 2 * (t - 4 / 29));
  const y = (l + 16) / 116;
  return [d50[0] * f(y + a / 500), f(y), d50[2] * f(y - b / 200)];
}

type Photograph = Readonly<{ light: Triple; exposure: number; noise: number; slope: number; seed: number }>;

/** A patch of one colour under a light, with noise in the bytes and light that falls off by `slope` from left to right. */
function photographed(lab: Lab, { light, exposure, noise, slope, seed }: Photograph): Patch {
  const chance = chanceFrom(seed);
  const [width, height] = [40, 30];
  const cones = times(cat16, xyzOf(lab));
  const from = times(cat16, d50);
  const to = times(cat16, light);
  const xyz = solve(cat16, cones.map((value, k) => (value * to[k]!) / from[k]!) as Triple);
  const rgb = times(xyzToRgb, xyz);
  const pixels = new Uint8ClampedArray(4 * width * height);
  for (let at = 0; at < width * height; at++) {
    const here = exposure * (1 - slope / 2 + (slope * (at % width)) / width);
    for (let k = 0; k < 3; k++) {
      const value = Math.max(0, rgb[k]! * here);
      const coded = value <= 0.0031308 ? 12.92 * value : 1.055 * value ** (1 / 2.4) - 0.055;
      const bell = chance() + chance() + chance() + chance() - 2;
      pixels[4 * at + k] = Math.round(255 * coded + noise * bell);
    }
  }
  return { width, height, pixels };
}

const cloths: readonly (readonly [string, Lab])[] = [
  ['brown', [32, 11, 16]],
  ['dark green', [29, -18, 8]],
  ['dark blue', [26, 2, -24]],
  ['maroon', [27, 28, 11]],
  ['plum', [34, 18, -16]],
  ['buff', [71, 4, 17]],
  ['black', [19, 0, 1]],
];
const grey: Lab = [50, 0, 0];

describe('a colour measured from a photograph', () => {
  test.each(
    Object.entries(lights).flatMap(([name, light]) => cloths.map(([cloth, lab]) => [cloth, name, lab, light] as const)),
  )('of %s by the %s is within ΔE00 2 of the truth, through noise and a fall of light', (_cloth, _name, lab, light) => {
    const how = { light, exposure: 0.9, noise: 6, slope: 0.06, seed: 81 };
    const measured = measureColour(photographed(lab, how), photographed(grey, { ...how, seed: 82 }), 50);
    if (!measured.ok) throw new Error(measured.refusal.sentence);
    expect(colourDifference(measured.value.lab, lab)).toBeLessThan(2);
    expect(measured.value.warnings).toEqual([]);
  });

  test('does not depend on the exposure', () => {
    const of = (exposure: number) => {
      const how = { light: lights['north window, D65']!, exposure, noise: 0, slope: 0, seed: 83 };
      const measured = measureColour(photographed([45, 20, 20], how), photographed(grey, how), 50);
      return measured.ok ? measured.value.lab : ([0, 0, 0] as const);
    };
    expect(colourDifference(of(0.7), of(1.6))).toBeLessThan(0.6);
  });

  test('warns of uneven light, of a burnt-out card and of a patch of two colours', () => {
    const how = { light: lights['north window, D65']!, exposure: 1, noise: 2, slope: 0, seed: 84 };
    const cloth = photographed([32, 11, 16], how);
    const warningsOf = (first: Patch, card: Patch, l = 50) => {
      const measured = measureColour(first, card, l);
      return measured.ok ? measured.value.warnings.join(' ') : 'refused';
    };
    expect(warningsOf(cloth, photographed(grey, { ...how, slope: 0.5 }))).toContain('light on the card is uneven');
    expect(warningsOf(cloth, photographed([96, 0, 0], { ...how, exposure: 1.5 }), 96)).toContain('card is burnt out');
    const other = photographed([70, -10, 30], how);
    const half = cloth.pixels.slice();
    half.set(other.pixels.subarray(0, half.length / 2));
    expect(warningsOf({ ...cloth, pixels: half }, photographed(grey, how))).toContain('of several colours');
  });

  test('is refused for a patch of a few pixels, a black card and a card of no lightness', () => {
    const how = { light: lights['north window, D65']!, exposure: 1, noise: 0, slope: 0, seed: 85 };
    const patch = photographed(grey, how);
    const few = { width: 4, height: 4, pixels: patch.pixels.slice(0, 64) };
    const black = { ...patch, pixels: new Uint8ClampedArray(patch.pixels.length) };
    expect(measureColour(few, patch, 50)).toMatchObject({ ok: false, refusal: { field: 'cloth' } });
    expect(measureColour(patch, black, 50)).toMatchObject({ ok: false, refusal: { field: 'card' } });
    expect(measureColour(patch, patch, 0)).toMatchObject({ ok: false, refusal: { field: 'cardL' } });
  });
});
