/** Words of the Offcuts room that more than one of its parts uses. */
import type { PieceLine } from '../../core/contract/offcuts.ts';
import { formatInches, formatMm, readLength } from '../../core/units/lengths.ts';
import { useHabits } from '../app/queries.ts';
import { Refusal } from '../parts/refusal.ts';

/** Lengths in the workshop's own unit. */
export function useLengths(): (mm: number) => string {
  const { units } = useHabits();
  return units === 'mm' ? formatMm : formatInches;
}

/** A length as typed, in millimetres; throws the sentence to show below its field. */
export function lengthOf(text: string, units: 'mm' | 'in'): number {
  const read = readLength(text, { defaultUnit: units });
  if (!read.ok) throw new Refusal(read.refusal.sentence);
  return Math.round(read.value * 10) / 10;
}

/** “1851”, “1860–65”, or nothing. */
export function yearsWords({ yearFrom, yearTo }: Pick<PieceLine, 'yearFrom' | 'yearTo'>): string {
  if (yearFrom === null && yearTo === null) return '';
  if (yearFrom === null || yearTo === null || yearFrom === yearTo) return String(yearFrom ?? yearTo);
  return `${yearFrom}–${Math.floor(yearFrom / 100) === Math.floor(yearTo / 100) ? String(yearTo).slice(2) : yearTo}`;
}

/** “1860”, “1860-1865” or nothing at all; throws what to say where it is none of these. */
export function yearsOf(text: string): Readonly<{ yearFrom: number | null; yearTo: number | null }> {
  if (text.trim() === '') return { yearFrom: null, yearTo: null };
  const found = /^\s*(\d{4})\s*(?:[-–]\s*(\d{2}|\d{4})\s*)?$/.exec(text);
  if (!found) throw new Refusal('Give a year, or two like 1860–65.');
  const first = found[1] ?? '';
  const last = found[2] ?? first;
  const full = last.length === 2 ? first.slice(0, 2) + last : last;
  return { yearFrom: Number(first), yearTo: Number(full) };
}

/** “32, 11, 16” as L*, a*, b*; nothing at all is null; throws what to say otherwise. */
export function labOf(text: string): PieceLine['lab'] {
  if (text.trim() === '') return null;
  const numbers = text
    .trim()
    .split(/[\s,;]+/)
    .map(Number);
  const [l, a, b] = numbers;
  const sound = numbers.length === 3 && numbers.every(Number.isFinite);
  if (!sound || l === undefined || a === undefined || b === undefined || l < 0 || l > 100)
    throw new Refusal('Give L*, a* and b* under D50, like 32, 11, 16.');
  return [l, a, b];
}

export function labWords(lab: PieceLine['lab']): string {
  return lab === null ? '' : lab.map((value) => Math.round(value * 10) / 10).join(', ');
}
