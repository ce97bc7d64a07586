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
        `The ledger says ${amountWords(balance, unit)}, the count ${amountWords(amount, unit)}. Say what you think became of the difference.`,
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
      `Only ${amountWords(balance, unit)} are in the ledger. Say why more could be taken, or count the shelf first.`,
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

/** "2.4 m", "1 sheet", "12 sheets": at most two decimals, as a person would say it. */
export function amountWords(millionths: number, unit: StockUnit): string {
  const amount = Math.round(millionths / 10_000) / 100;
  // A remainder too small to show is still not nothing.
  if (amount === 0 && millionths !== 0) return `under 0.01 ${unit}`;
  const plural = (unit === 'sheet' || unit === 'piece') && amount !== 1 ? 's' : '';
  return `${amount < 0 ? '−' : ''}${Math.abs(amount)} ${unit}${plural}`;
}
