/** What is known of what came in: batch number, best-before and price. */
import type { Came } from '../../core/contract/stockroom.ts';
import { useHabits } from '../app/queries.ts';
import { TextField } from '../parts/controls.tsx';
import { typedNumber } from './words.ts';

export type CameDraft = Readonly<{ number: string; bestBefore: string; cost: string }>;
export const nothingCame: CameDraft = { number: '', bestBefore: '', cost: '' };

type Props = Readonly<{
  draft: CameDraft;
  onDraft: (draft: CameDraft) => void;
  shelfLifeDays: number | null;
  trouble: (field: string) => string | undefined;
}>;

export function CameFields({ draft, onDraft, shelfLifeDays, trouble }: Props) {
  const { currency } = useHabits();
  return (
    <div className="fields came-fields">
      <TextField
        name="Batch number"
        autoComplete="off"
        value={draft.number}
        onChange={(event) => onDraft({ ...draft, number: event.target.value })}
        trouble={trouble('came.number')}
      />
      <TextField
        name="Best before"
        type="date"
        value={draft.bestBefore}
        onChange={(event) => onDraft({ ...draft, bestBefore: event.target.value })}
        trouble={trouble('came.bestBefore')}
        hint={shelfLifeDays === null ? undefined : `Empty: ${shelfLifeDays} days from today.`}
      />
      <TextField
        name={`What it cost in all, ${currency}`}
        inputMode="decimal"
        autoComplete="off"
        value={draft.cost}
        onChange={(event) => onDraft({ ...draft, cost: event.target.value })}
        trouble={trouble('came.costMinor')}
      />
    </div>
  );
}

export function cameOf({ number, bestBefore, cost }: CameDraft, currency: string): Came {
  return {
    ...(number.trim() === '' ? {} : { number: number.trim() }),
    ...(bestBefore === '' ? {} : { bestBefore }),
    ...(cost.trim() === '' ? {} : { costMinor: minorOf(cost, currency) }),
  };
}

export function digitsOf(currency: string): number {
  return new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2;
}

/** A typed amount of money in minor units; not a number where it is none. */
export function minorOf(text: string, currency: string): number {
  return Math.round(typedNumber(text) * 10 ** digitsOf(currency));
}

export function majorText(minor: number, currency: string): string {
  const digits = digitsOf(currency);
  return (minor / 10 ** digits).toFixed(digits);
}
