/**
 * The ledger of a material: signed movements that are added and never changed, on hand always their sum. Quantities are integer millionths
 * of the material's unit, so that a sum of thousands of small ones is exact whatever their order.
 */
import { ok, type Result, refuse } from '../result.ts';
import type { Movement, MovementKind, StockUnit } from './material.ts';

/** One line: signed millionths of the material's unit. */
export type LedgerEntry = Readonly<{ quantityMillionths: number }> & Pick<Movement, 'kind' | 'reason'>;

const million = 1_000_000;
/** Above this no cupboard of one person holds anything: ten million sheets, or ten tonnes of paste. */
const most = 10_000_000;

/** An amount in the material's unit as integer millionths, rounded to the nearest. */
export function toMillionths(quantity: number): number {
  return Math.round(quantity * million);
}

export function fromMillionths(millionths: number): number {
  return millionths / million;
}

/** On hand: the sum of the ledger, in millionths. */
export function onHandOf(entries: readonly Readonly<{ quantityMillionths: number }>[]): number {
  let sum = 0;
  for (const entry of entries) sum += entry.quantityMillionths;
  return sum;
}

export type MovementWish = Readonly<{
  kind: MovementKind;
  /** In the material's unit: what came, went or was wasted, above zero; for a count, what is there, zero or more. */
  quantity: number;
  reason: string;
}>;

/**
 * The line a wish adds to a ledger that stands at `balance` millionths. A count is entered as its difference from the ledger. Refuses amounts
 * that are no amounts, a count that differs without saying why, and taking more than there is without saying why.
 */
export function enter(balance: number, wish: MovementWish, unit: StockUnit): Result<LedgerEntry> {
  const { kind, quantity } = wish;
  const reason = wish.reason.trim();
  if (!Number.isFinite(quantity) || quantity > most) {
    return refuse('Give the quantity as a number; ten million is the most a cupboard holds.', 'quantity');
  }
  const amount = toMillionths(quantity);
  if (kind === 'counted') {
    if (quantity < 0) return refuse('A count is zero or more.', 'quantity');
    const difference = amount - balance;
    if (difference !== 0 && reason === '') {
      return refuse(
        `The ledger says ${exactWords(balance, unit)}, the count ${exactWords(amount, unit)}. Say what you think became of the difference.`,
        'reason',
      );
    }
    return ok({ kind, quantityMillionths: difference, reason });
  }
  if (amount <= 0)
    return refuse('The quantity must be more than zero; what goes out is entered as going out.', 'quantity');
  if (kind === 'in') return ok({ kind, quantityMillionths: amount, reason });
  if (amount > balance && reason === '') {
    return refuse(
      `The ledger holds only ${exactWords(balance, unit)}. Say why more could be taken, or count the shelf first.`,
      'reason',
    );
  }
  return ok({ kind, quantityMillionths: -amount, reason });
}

/** The line that answers a wrong one: the same kind, the other way, so that sums by kind come right as well. Refuses without a reason. */
export function answerEntry(wrong: LedgerEntry, reason: string): Result<LedgerEntry> {
  if (reason.trim() === '')
    return refuse('Say what was wrong with the line; the answer stands in the ledger for good.', 'reason');
  // Not −0 for a count that agreed.
  return ok({ kind: wrong.kind, quantityMillionths: 0 - wrong.quantityMillionths, reason: reason.trim() });
}

/** What a hand can measure of each unit: whole pieces, tenths of a sheet and of a metre, whole grams and millilitres. Common practice, no source. */
const steps: Readonly<Record<StockUnit, number>> = { sheet: 0.1, m: 0.1, g: 1, ml: 1, piece: 1 };

/** "2.4 m", "1 sheet", "less than 1 g": as a hand measures it, `whole` rounded to the nearest or up. */
export function amountWords(millionths: number, unit: StockUnit, whole: 'nearest' | 'up' = 'nearest'): string {
  const step = steps[unit];
  const counted = Math.abs(millionths) / million / step;
  // A millionth over a whole step is what adding many small amounts leaves, not another step.
  const taken = whole === 'up' ? Math.ceil(counted - 1e-4) : Math.round(counted);
  const amount = Math.round(taken * step * 10) / 10;
  // A remainder too small to measure is still not nothing.
  if (amount === 0 && millionths !== 0) return `less than ${inUnit(step, unit)}`;
  return `${millionths < 0 ? '−' : ''}${inUnit(amount, unit)}`;
}

/** "2.45 m": as it was typed, to a hundredth; what a ledger's own lines are said in, so that they add up on the page. */
export function exactWords(millionths: number, unit: StockUnit): string {
  const amount = Math.round(millionths / 10_000) / 100;
  if (amount === 0 && millionths !== 0) return `less than ${inUnit(0.01, unit)}`;
  return `${amount < 0 ? '−' : ''}${inUnit(Math.abs(amount), unit)}`;
}

function inUnit(amount: number, unit: StockUnit): string {
  const plural = (unit === 'sheet' || unit === 'piece') && amount !== 0.1 && amount !== 0.01 && amount !== 1 ? 's' : '';
  return `${amount} ${unit}${plural}`;
}

/** "is" or "are" after `amountWords`: one of a thing is, several are; so are grams and metres, but for one. */
export function isOrAre(words: string): 'is' | 'are' {
  return /^(less than|1 )/.test(words) ? 'is' : 'are';
}
