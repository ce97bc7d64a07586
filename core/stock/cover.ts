/** How long a material lasts, in one word, one mark and one sentence that names what would find too little. */
import { amountWords, isOrAre } from './ledger.ts';
import type { StockUnit } from './material.ts';
import type { OrderAdvice, UsageFigures } from './orders.ts';
import { dateOf, dayNumber, type Projection } from './projection.ts';

/**
 * `short`: something on a day will find too little, whatever is ordered now. `order`: in time, if ordered by its day. `later`: only agreed
 * treatments without a day would run it out. `lasts`: everything promised is there. `unused`: nothing asks for it.
 */
export type CoverState = 'short' | 'order' | 'later' | 'lasts' | 'unused';

export type Cover = Readonly<{
  state: CoverState;
  /** Whole days until the first thing on a day finds too little; null where none does. */
  days: number | null;
  /** Whole days that what is on hand lasts at its usual use; null where the ledger is too short to say, or nothing is used. */
  usualDays: number | null;
  sentence: string;
}>;

export type CoverInput = Readonly<{
  today: string;
  unit: StockUnit;
  leadDays: number;
  projection: Projection;
  advice: OrderAdvice | null;
  /** Whether anything at all is promised. */
  promised: boolean;
  onHandMillionths: number;
  usage: UsageFigures;
  /** When the next of what is ordered is due; null where nothing is. */
  nextDueOn: string | null;
}>;

export function coverOf(input: CoverInput): Cover {
  const { usage, onHandMillionths, unit } = input;
  const usualDays =
    usage.enough && usage.perDay > 0 ? Math.max(0, Math.floor(onHandMillionths / 1e6 / usage.perDay)) : null;
  const usual =
    usualDays === null
      ? ''
      : ` At its usual use, ${amountWords(Math.round(usage.perDay * 7e6), unit)} a week, it lasts ${usualDays} ${usualDays === 1 ? 'day' : 'days'}.`;
  const { sentence, ...rest } = standing(input);
  return { ...rest, usualDays, sentence: `${sentence}${usual}` };
}

function standing(input: CoverInput): Omit<Cover, 'usualDays'> {
  const { projection, advice, unit, today, leadDays } = input;
  const { shortage } = projection;
  const days = projection.coverDays;
  if (shortage !== null) {
    const { cause, date } = shortage;
    const who = `“${cause.title}” (${cause.why})`;
    if (date === null) {
      const all = amountWords(-projection.afterAll, unit, 'up');
      return {
        state: 'later',
        days,
        sentence: `Enough for everything with a day. Of the treatments agreed without one, ${who} is the first to find too little; ${all} ${isOrAre(all)} missing for all of them.`,
      };
    }
    const meets = `On ${dayName(date)} ${who} ${lackWords(shortage.missingMillionths, unit)}.`;
    if (dayNumber(date) > dayNumber(today) + leadDays) {
      const by = advice?.orderBy ? ` Order by ${dayName(advice.orderBy)}.` : '';
      return { state: 'order', days, sentence: `${meets}${by}` };
    }
    const { nextDueOn } = input;
    const comes = advice?.late
      ? ` Ordered today it comes on ${dayName(dateOf(dayNumber(today) + leadDays))}: too late.`
      : nextDueOn === null
        ? ''
        : ` What is on its way is due on ${dayName(nextDueOn)}.`;
    return {
      state: 'short',
      days,
      sentence: `${meets}${comes} Move the work, find a substitute or ask for it sooner.`,
    };
  }
  if (advice !== null) {
    const by = advice.orderBy === null || advice.late ? 'today' : `by ${dayName(advice.orderBy)}`;
    return { state: 'order', days, sentence: `It would fall below its safety stock. Order ${by}.` };
  }
  if (!input.promised) return { state: 'unused', days, sentence: 'Nothing planned or agreed asks for it.' };
  const left = projection.afterAll === 0 ? 'nothing' : amountWords(projection.afterAll, unit);
  const verb = left === 'nothing' ? 'is' : isOrAre(left);
  return { state: 'lasts', days, sentence: `Everything promised is there; ${left} ${verb} left after it.` };
}

/** What is counted is short by whole ones, however small a part of one would do; what is measured, by what a hand can measure. */
function lackWords(missingMillionths: number, unit: StockUnit): string {
  const missing = amountWords(missingMillionths, unit, 'up');
  return unit === 'piece' ? `asks for ${missing} more than there will be` : `finds ${missing} too little`;
}

/** "Tue 12 May". */
export function dayName(date: string): string {
  return new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' }).format(
    Date.parse(`${date}T00:00:00Z`),
  );
}
