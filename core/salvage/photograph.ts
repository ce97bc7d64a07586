/**
 * A colour out of a photograph that shows the cloth beside a neutral card. Pixels are sRGB (IEC 61966-2-1); the light is read off the card
 * and everything is adapted from it to D50 (Bradford transform, as in ICC.1:2022, annex E), so that lamps and exposure drop out. The answer
 * carries its spread and what speaks against it.
 */
import { ok, type Result, refuse } from '../result.ts';
import { colourDifference } from './colour.ts';
import type { Lab } from './piece.ts';

/** Pixels of a rectangle of the photograph, row by row, four bytes each: red, green, blue and one not looked at. */
export type Patch = Readonly<{ width: number; height: number; pixels: Uint8ClampedArray | Uint8Array }>;

export type MeasuredColour = Readonly<{
  /** D50, to a tenth. */
  lab: Lab;
  /** Mean CIEDE2000 of small squares of the patch from their mean: the cloth's own unevenness. */
  spread: number;
  warnings: readonly string[];
}>;

/** Fewer are a matter of luck. Common practice, no source. */
const fewestPixels = 64;
/** Shares and steps at which a warning is given. Common practice, no source. */
const clippedShare = 0.01;
const unevenCard = 0.1;
const unevenCloth = 0.25;
const wideSpread = 6;

/** The cloth's colour, `cardL` being the card's own L*: 50 for an 18 % grey card. Refuses patches too small or too dark to tell. */
export function measureColour(cloth: Patch, card: Patch, cardL: number): Result<MeasuredColour> {
  if (!(cardL > 5 && cardL <= 100))
    return refuse('A neutral card has an L* between 5 and 100; a grey card about 50.', 'cardL');
  for (const [patch, name] of [
    [cloth, 'cloth'],
    [card, 'card'],
  ] as const) {
    if (patch.width * patch.height < fewestPixels)
      return refuse(`The patch of ${name} is too small; draw it larger.`, name);
  }
  const warnings: string[] = [];
  for (const [patch, name, most] of [
    [card, 'card', unevenCard],
    [cloth, 'cloth', unevenCloth],
  ] as const) {
    if (clipped(patch) > clippedShare)
      warnings.push(
        `Part of the ${name} is burnt out or black: photograph it again with ${name === 'card' ? 'less' : 'other'} light.`,
      );
    if (unevenness(patch) > most)
      warnings.push(`The light on the ${name} is uneven: turn it away from the lamp, or diffuse it.`);
  }
  const light = meanXyz(card, 0, 0, card.width, card.height);
  if (light[1] < 1e-4) return refuse('The card is black in the photograph; draw its patch where it is lit.', 'card');
  const adapt = adaptation(light, luminance(cardL));
  const lab = labOf(adapt(meanXyz(cloth, 0, 0, cloth.width, cloth.height)));
  const squares = squaresOf(cloth).map((square) => labOf(adapt(square)));
  const spread = squares.reduce((sum, square) => sum + colourDifference(square, lab), 0) / squares.length;
  if (spread > wideSpread) warnings.push('The patch of cloth is of several colours: draw it where it is of one.');
  const tenth = (value: number) => Math.round(value * 10) / 10;
  return ok({ lab: [tenth(lab[0]), tenth(lab[1]), tenth(lab[2])], spread: tenth(spread), warnings });
}

type Triple = readonly [number, number, number];
type Matrix = readonly [Triple, Triple, Triple];

/** sRGB, linear, to XYZ under D65. IEC 61966-2-1. */
const toXyz: Matrix = [
  [0.4124564, 0.3575761, 0.1804375],
  [0.2126729, 0.7151522, 0.072175],
  [0.0193339, 0.119192, 0.9503041],
];
/** Bradford cone responses. ICC.1:2022, annex E. */
const toCones: Matrix = [
  [0.8951, 0.2664, -0.1614],
  [-0.7502, 1.7135, 0.0367],
  [0.0389, -0.0685, 1.0296],
];
const fromCones: Matrix = [
  [0.9869929, -0.1470543, 0.1599627],
  [0.4323053, 0.5183603, 0.0492912],
  [-0.0085287, 0.0400428, 0.9684867],
];
/** D50, ICC.1:2022. */
const d50: Triple = [0.9642, 1, 0.8249];

function times(matrix: Matrix, [x, y, z]: Triple): Triple {
  const row = ([a, b, c]: Triple) => a * x + b * y + c * z;
  return [row(matrix[0]), row(matrix[1]), row(matrix[2])];
}

/** From under the light that makes a card of this luminance look as it does, to under D50. */
function adaptation(card: Triple, cardY: number): (xyz: Triple) => Triple {
  const seen = times(toCones, card);
  const wanted = times(toCones, d50);
  const gains = [0, 1, 2].map((k) => (wanted[k]! * cardY) / seen[k]!);
  return (xyz) => {
    const [r, g, b] = times(toCones, xyz);
    return times(fromCones, [r * gains[0]!, g * gains[1]!, b * gains[2]!]);
  };
}

/** Relative luminance of an L*. CIE 15:2004. */
function luminance(l: number): number {
  return l > 8 ? ((l + 16) / 116) ** 3 : l / (24389 / 27);
}

/** CIE 15:2004, under D50. */
function labOf(xyz: Triple): Lab {
  const f = (value: number) => (value > 216 / 24389 ? Math.cbrt(value) : ((24389 / 27) * value + 16) / 116);
  const [x, y, z] = [f(xyz[0] / d50[0]), f(xyz[1] / d50[1]), f(xyz[2] / d50[2])];
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** Linear light of each byte. IEC 61966-2-1. */
const linear = Float64Array.from({ length: 256 }, (_, byte) => {
  const value = byte / 255;
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
});

function meanXyz({ width, pixels }: Patch, left: number, top: number, right: number, bottom: number): Triple {
  const sums = [0, 0, 0];
  for (let y = top; y < bottom; y++) {
    for (let x = left; x < right; x++) {
      for (let k = 0; k < 3; k++) sums[k]! += linear[pixels[4 * (y * width + x) + k]!]!;
    }
  }
  const count = (right - left) * (bottom - top);
  return times(toXyz, [sums[0]! / count, sums[1]! / count, sums[2]! / count]);
}

/** The patch in up to eight by eight squares. */
function squaresOf(patch: Patch): readonly Triple[] {
  const across = Math.min(8, patch.width);
  const down = Math.min(8, patch.height);
  const squares: Triple[] = [];
  for (let i = 0; i < down; i++) {
    for (let j = 0; j < across; j++) {
      const at = (part: number, parts: number, whole: number) => Math.floor((part * whole) / parts);
      squares.push(
        meanXyz(
          patch,
          at(j, across, patch.width),
          at(i, down, patch.height),
          at(j + 1, across, patch.width),
          at(i + 1, down, patch.height),
        ),
      );
    }
  }
  return squares;
}

/** Share of pixels of which a channel is at its end. */
function clipped({ pixels, width, height }: Patch): number {
  let count = 0;
  for (let at = 0; at < width * height; at++) {
    const [r, g, b] = [pixels[4 * at]!, pixels[4 * at + 1]!, pixels[4 * at + 2]!];
    if (Math.max(r, g, b) >= 254 || Math.max(r, g, b) <= 2) count += 1;
  }
  return count / (width * height);
}

/** Difference of luminance between the brightest and the darkest quarter, as a share of their mean. */
function unevenness(patch: Patch): number {
  const [w, h] = [patch.width, patch.height];
  const [x, y] = [Math.floor(w / 2), Math.floor(h / 2)];
  const quarters = [
    meanXyz(patch, 0, 0, x, y),
    meanXyz(patch, x, 0, w, y),
    meanXyz(patch, 0, y, x, h),
    meanXyz(patch, x, y, w, h),
  ].map((xyz) => xyz[1]);
  const mean = quarters.reduce((sum, value) => sum + value, 0) / 4;
  return mean === 0 ? 0 : (Math.max(...quarters) - Math.min(...quarters)) / mean;
}
