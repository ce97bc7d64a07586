import { ok, type Result, refuse } from '../result.ts';
import { plainFractions, quoted, readNumber } from './numbers.ts';

/**
 * Lengths. Everything inside the program is millimetres; people write and read millimetres, centimetres and inches to the sixteenth.
 */

/** The size of a book or its text block, closed and standing: head to tail, spine to fore-edge, through. */
export type BookSize = Readonly<{ heightMm: number; widthMm: number; thicknessMm: number }>;

export type LengthUnit = 'mm' | 'cm' | 'in';

/** One inch, exactly. International yard and pound agreement, 1959. */
export const mmPerInch = 25.4;

/** `225 mm`, `231.8 mm`, and below a centimetre to the hundredth: `0.53 mm`. */
export function formatMm(mm: number): string {
  const places = Math.abs(mm) < 10 ? 100 : 10;
  const rounded = Math.round(mm * places) / places;
  return `${Object.is(rounded, -0) ? 0 : rounded} mm`;
}

/** Inches to the nearest sixteenth in lowest terms: `9 1/8 in`. What is smaller than that says `under 1/16 in`. */
export function formatInches(mm: number): string {
  const sixteenths = Math.round((Math.abs(mm) / mmPerInch) * 16);
  if (sixteenths === 0) return mm === 0 ? '0 in' : 'under 1/16 in';
  const whole = Math.floor(sixteenths / 16);
  let above = sixteenths % 16;
  let below = 16;
  while (above > 0 && above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  const words = [whole > 0 ? String(whole) : '', above > 0 ? `${above}/${below}` : ''].filter((word) => word !== '');
  return `${mm < 0 ? '-' : ''}${words.join(' ')} in`;
}

/**
 * Reads one length in millimetres: `9 1/8 in`, `9⅛"`, `22.5 cm`, `22,5`, `1 ft 2 in`, `c. 225 mm`. A figure without a unit is in
 * `defaultUnit`. Refuses what is not a length, and a length that is nothing, negative or beyond a hundred metres.
 */
export function readLength(text: string, { defaultUnit }: Readonly<{ defaultUnit: LengthUnit }>): Result<number> {
  const read = readWithUnit(text);
  if (!read.ok) return read;
  return within(read.value.amount * mmPer[read.value.unit ?? defaultUnit], text);
}

/**
 * Reads two or three measures: `225 x 143 mm`, `9" x 6"`, `22,5 × 14,3 × 3 cm`, `H 225 W 143 D 30`. The book trade gives the height
 * first; letters or words (height, wide, thick) overrule that, and so does `oblong` or `landscape`, where the shorter side is the height.
 * A measure without a unit takes the next unit written after it, else `defaultUnit`. Refuses what no book measures (over 1.5 m; common
 * practice, no source).
 */
export function readSize(
  text: string,
  { defaultUnit }: Readonly<{ defaultUnit: LengthUnit }>,
): Result<Readonly<{ heightMm: number; widthMm: number; thicknessMm?: number }>> {
  const shown = quoted(text);
  if (text.length > 200) return refuse(`${shown} is too long to be a size.`);
  const landscape = /\b(oblong|obl|landscape)\b\.?/i;
  const parts = plainFractions(text)
    .replace(landscape, ' ')
    .replace(/\bby\b/gi, ' x ')
    .split(/\s*[x×✕*]\s*|\s*;\s*|(?<=\d|[a-z"”″])\s*,\s+|(?<=[\d"”″]\s*(?:mm|cm|in)?\.?)\s+(?=[a-z]+\s*[:=]?\s*\d)/i)
    .map((part) => part.replace(/^[\s,]+|[\s,]+$/g, ''))
    .filter((part) => part !== '');
  if (parts.length === 0) return refuse('No size was written.');

  const measures: Measure[] = [];
  for (const part of parts) {
    const { side, rest } = takeSide(part);
    const read = readWithUnit(rest);
    if (!read.ok) return refuse(`${shown} is not a size: ${read.refusal.sentence}`);
    measures.push({ side, ...read.value });
  }
  if (measures.length === 1)
    return refuse(`${shown} gives only one measure; a size needs a height and a width.`, 'width');
  if (measures.length > 3)
    return refuse(`${shown} gives ${measures.length} measures; a book has height, width and thickness.`);

  const sides = placeSides(measures);
  if (sides === undefined) return refuse(`${shown} names the same side of the book twice.`);
  const mm: Partial<Record<Side, number>> = {};
  for (const [index, measure] of measures.entries()) {
    const unit = measures.slice(index).find((later) => later.unit !== undefined)?.unit ?? defaultUnit;
    const length = within(measure.amount * mmPer[unit], text);
    if (!length.ok) return length;
    if (length.value > 1500) {
      return refuse(
        `${shown} makes a book ${formatMm(length.value)} across; are the units right?`,
        sides[index] ?? 'height',
      );
    }
    mm[sides[index] ?? 'height'] = length.value;
  }
  const { height, width, thickness } = mm;
  if (height === undefined || width === undefined) {
    return refuse(
      `${shown} gives no ${height === undefined ? 'height' : 'width'}.`,
      height === undefined ? 'height' : 'width',
    );
  }
  const turned = landscape.test(text) && height > width;
  return ok({
    heightMm: turned ? width : height,
    widthMm: turned ? height : width,
    ...(thickness === undefined ? {} : { thicknessMm: thickness }),
  });
}

type Side = 'height' | 'width' | 'thickness';
type Unit = LengthUnit | 'm' | 'ft';
type Measure = Readonly<{ side: Side | undefined; amount: number; unit: Unit | undefined }>;

const mmPer: Readonly<Record<Unit, number>> = { mm: 1, cm: 10, m: 1000, in: mmPerInch, ft: 12 * mmPerInch };

const unitWords: readonly (readonly [RegExp, Unit])[] = [
  [/(millimet(re|er)s?|mm)\.?$/i, 'mm'],
  [/(centimet(re|er)s?|cms?)\.?$/i, 'cm'],
  [/(inch(es)?|ins?)\.?$|["“”″]$|(''|’’|′′)$/i, 'in'],
  [/(foot|feet|ft)\.?$|['’′]$/i, 'ft'],
  [/(met(re|er)s?|m)\.?$/i, 'm'],
];

/** A figure and the unit written after it, if any; feet and inches together come back as inches. */
function readWithUnit(text: string): Result<Readonly<{ amount: number; unit: Unit | undefined }>> {
  const tidy = plainFractions(text)
    .trim()
    .replace(/^(c(irc)?a?\.?|about|approx(imately)?\.?|~)\s*(?=[\d.,])/i, '')
    .trim();
  if (tidy === '') return refuse('No length was written.');
  if (tidy.length > 60) return refuse(`${quoted(text)} is too long to be a length.`);
  const feet = /^(\d+)\s*(?:ft\.?|foot|feet|['’′])\s*(\d.*)$/i.exec(tidy);
  if (feet) {
    const inches = readWithUnit(feet[2] ?? '');
    if (!inches.ok) return inches;
    if ((inches.value.unit ?? 'in') !== 'in')
      return refuse(`${quoted(text)} mixes feet with another unit than inches.`);
    return ok({ amount: Number(feet[1]) * 12 + inches.value.amount, unit: 'in' });
  }
  for (const [words, unit] of unitWords) {
    const figures = tidy.replace(words, '');
    if (figures === tidy) continue;
    const amount = readNumber(figures.trim());
    return amount.ok ? ok({ amount: amount.value, unit }) : amount;
  }
  const amount = readNumber(tidy);
  return amount.ok ? ok({ amount: amount.value, unit: undefined }) : refuse(`${quoted(text)} is not a length.`);
}

function within(mm: number, text: string): Result<number> {
  if (mm <= 0) return refuse(`${quoted(text)}: a length has to be more than nothing.`);
  if (mm > 100_000) return refuse(`${quoted(text)} is over a hundred metres; are the units right?`);
  return ok(mm);
}

const sideWords = (
  [
    ['height|high|tall|hgt|ht|h', 'height'],
    ['width|wide|w', 'width'],
    ['thickness|thick|depth|deep|th|t|d', 'thickness'],
  ] as const
).map(([words, side]) => ({
  side,
  before: new RegExp(`^(?:${words})(?:\\b\\.?\\s*[:=]?\\s*|(?=\\d))`, 'i'),
  after: new RegExp(`(?:(?<![a-z])|(?<=(?:mm|cm|in)\\.?))\\s*\\(?(?:${words})\\)?\\.?$`, 'i'),
}));

function takeSide(part: string): Readonly<{ side: Side | undefined; rest: string }> {
  for (const { side, before, after } of sideWords) {
    if (before.test(part)) return { side, rest: part.replace(before, '') };
    const rest = part.replace(after, '');
    if (rest !== part && /\d/.test(rest)) return { side, rest };
  }
  return { side: undefined, rest: part };
}

/** Gives each measure its side: the named ones as named, the rest in the trade's order. */
function placeSides(measures: readonly Measure[]): readonly Side[] | undefined {
  const named = measures.flatMap((measure) => (measure.side === undefined ? [] : [measure.side]));
  if (new Set(named).size < named.length) return undefined;
  const free = (['height', 'width', 'thickness'] as const).filter((side) => !named.includes(side));
  return measures.map((measure) => measure.side ?? free.shift() ?? 'thickness');
}
