/**
 * Lots: what came in together. On hand by lot is the sum of its movements; what belongs to no lot (from before lots were kept, or taken beyond
 * what the ledger held) stands in a lot without a name. What expires first goes out first, unless a person picks the lot. Quantities are
 * integer millionths of the material's unit.
 */
import { amountWords, isOrAre } from './ledger.ts';
import type { Material } from './material.ts';
import { dateOf, dayNumber } from './projection.ts';

export type LotBalance = Readonly<{
  /** Null: in no lot. */
  lotId: string | null;
  /** YYYY-MM-DD; empty for what is in no lot. */
  receivedOn: string;
  bestBefore: string | null;
  quantityMillionths: number;
}>;

/** What one line of the ledger adds to one lot, signed. */
export type Portion = Readonly<{ lotId: string | null; quantityMillionths: number }>;

/**
 * In the order they are used: what is in no lot first, being the oldest; then by best-before, what does not spoil last; equals by the day they
 * came, then by id, so that the order is always the same.
 */
export function inOrderOfUse<T extends LotBalance>(lots: readonly T[]): readonly T[] {
  const key = ({ lotId, bestBefore, receivedOn }: LotBalance) =>
    lotId === null ? '' : `${bestBefore ?? '9999-12-31'} ${receivedOn} ${lotId}`;
  return lots.toSorted((one, other) => (key(one) < key(other) ? -1 : 1));
}

/** Takes so much, the first to expire first. What no lot holds is taken from none, so that the portions always add up to it. */
export function takeOldest(lots: readonly LotBalance[], quantityMillionths: number): readonly Portion[] {
  let left = quantityMillionths;
  const portions: Portion[] = [];
  for (const lot of inOrderOfUse(lots)) {
    const taken = Math.min(left, Math.max(0, lot.quantityMillionths));
    if (taken > 0) portions.push({ lotId: lot.lotId, quantityMillionths: -taken });
    left -= taken;
  }
  if (left > 0) portions.push({ lotId: null, quantityMillionths: -left });
  return together(portions);
}

/**
 * Brings the lots to a count of all of them: what was taken beyond a lot is set right, then what is missing is taken from the first to expire,
 * and what was found is in no lot. Afterwards no lot is below nothing, and all add up to the count. A count that agrees is one line of zero.
 */
export function countAll(lots: readonly LotBalance[], countMillionths: number): readonly Portion[] {
  const owed = lots.filter((lot) => lot.quantityMillionths < 0);
  const portions: Portion[] = owed.map((lot) => ({ lotId: lot.lotId, quantityMillionths: -lot.quantityMillionths }));
  const held = lots.filter((lot) => lot.quantityMillionths > 0);
  const difference = countMillionths - held.reduce((sum, lot) => sum + lot.quantityMillionths, 0);
  if (difference < 0) portions.push(...takeOldest(held, -difference));
  if (difference > 0) portions.push({ lotId: null, quantityMillionths: difference });
  const all = together(portions);
  return all.length > 0 ? all : [{ lotId: null, quantityMillionths: 0 }];
}

function together(portions: readonly Portion[]): readonly Portion[] {
  return [...Map.groupBy(portions, ({ lotId }) => lotId)]
    .map(([lotId, members]) => ({
      lotId,
      quantityMillionths: members.reduce((sum, one) => sum + one.quantityMillionths, 0),
    }))
    .filter(({ quantityMillionths }) => quantityMillionths !== 0);
}

/** The last day it keeps, from the day it came. */
export function bestBeforeOf(receivedOn: string, shelfLifeDays: number | null): string | null {
  return shelfLifeDays === null ? null : dateOf(dayNumber(receivedOn) + shelfLifeDays);
}

export type Keeping = 'past' | 'soon' | 'keeps';

/** Said so many days ahead at most; of what keeps shorter, in the last third of its time. Common practice, no source. */
const warnDays = 30;

/**
 * Whether a lot is past its best-before on a day, in its last days, or keeps. `shelfLifeDays` is what the material keeps as a rule: a lot that
 * came late in its life is in its last days from the start.
 */
export function keepingOf(
  { receivedOn, bestBefore }: Pick<LotBalance, 'receivedOn' | 'bestBefore'>,
  today: string,
  shelfLifeDays: number | null,
): Keeping {
  if (bestBefore === null) return 'keeps';
  const left = dayNumber(bestBefore) - dayNumber(today);
  if (left < 0) return 'past';
  const own = receivedOn === '' ? 0 : dayNumber(bestBefore) - dayNumber(receivedOn);
  return left <= Math.min(warnDays, Math.ceil(Math.max(own, shelfLifeDays ?? 0) / 3)) ? 'soon' : 'keeps';
}

/** "40 g is past its best before of 3 May: …": what to do about a lot that no longer keeps, or not for long. */
export function expiryWords(
  lot: LotBalance,
  { unit, shelfLifeDays }: Pick<Material, 'unit' | 'shelfLifeDays'>,
  today: string,
): string | null {
  const keeping = keepingOf(lot, today, shelfLifeDays);
  if (keeping === 'keeps' || lot.bestBefore === null) return null;
  const amount = amountWords(lot.quantityMillionths, unit);
  const days = Math.abs(dayNumber(lot.bestBefore) - dayNumber(today));
  const inDays = days === 0 ? 'today' : days === 1 ? 'tomorrow' : `in ${days} days`;
  const ago = days === 1 ? 'yesterday' : `${days} days ago`;
  return keeping === 'past'
    ? `${amount} ${isOrAre(amount)} past keeping since ${ago}: try it on waste before it goes near a book, or write it off.`
    : `${amount} will be past keeping ${inDays}: use it first.`;
}

/** What so much costs at a lot's price, in minor units, not rounded; by the pack's price where the lot's is not known. */
export function costOfUse(
  quantityMillionths: number,
  lot: Readonly<{ costMinor: number | null; receivedMillionths: number }> | null,
  pack: Readonly<{ packQuantity: number; packPriceMinor: number }>,
): number {
  if (lot !== null && lot.costMinor !== null && lot.receivedMillionths > 0) {
    return (quantityMillionths * lot.costMinor) / lot.receivedMillionths;
  }
  return ((quantityMillionths / 1e6) * pack.packPriceMinor) / pack.packQuantity;
}
