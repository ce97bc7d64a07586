/** What is left of each delivery when the oldest is used first (first in, first out), and until when the oldest keeps. */
import { amountWords } from './ledger.ts';
import type { Material } from './material.ts';

/** What is left of one line that brought something in. */
export type Layer = Readonly<{ at: number; quantityMillionths: number }>;

/**
 * The layers that on hand is made of, oldest first: the newest lines that brought something, as far as they reach. `lines` in the order of
 * the ledger; their sum is on hand. Nothing where on hand is nothing or less.
 */
export function layersOf(lines: readonly Layer[]): readonly Layer[] {
  let left = lines.reduce((sum, line) => sum + line.quantityMillionths, 0);
  const layers: Layer[] = [];
  for (const line of lines.toReversed()) {
    if (left <= 0) break;
    if (line.quantityMillionths <= 0) continue;
    const quantityMillionths = Math.min(left, line.quantityMillionths);
    layers.unshift({ at: line.at, quantityMillionths });
    left -= quantityMillionths;
  }
  return layers;
}

const dayMs = 86_400_000;
/** Said so many days ahead. Common practice, no source. */
const warnDays = 30;

/** A sentence where some of it is past its keeping or soon will be; null otherwise. The days are counted from when it came in, since makers’ dates are not kept. */
export function keepingWords(
  lines: readonly Layer[],
  material: Pick<Material, 'unit' | 'shelfLifeDays'>,
  now: number,
): string | null {
  const { shelfLifeDays, unit } = material;
  if (shelfLifeDays === null) return null;
  const layers = layersOf(lines);
  const olderThan = (days: number) =>
    layers.filter(({ at }) => at <= now - days * dayMs).reduce((sum, layer) => sum + layer.quantityMillionths, 0);
  const past = olderThan(shelfLifeDays);
  if (past > 0) {
    return `${amountWords(past, unit)} came in longer ago than the ${shelfLifeDays} days it keeps: try it on waste before it goes near a book, or write it off as spoilt.`;
  }
  const soon = olderThan(shelfLifeDays - warnDays);
  return soon > 0 ? `${amountWords(soon, unit)} will be past keeping within ${warnDays} days: use it first.` : null;
}
