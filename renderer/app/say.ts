/** The quiet sentence at the foot of the page: what was just kept, undone or done again. */
import { create } from 'zustand';

type Said = Readonly<{ sentence: string; seq: number }>;

export const useSaid = create<Readonly<{ said: Said | null }>>(() => ({ said: null }));

export function say(sentence: string): void {
  useSaid.setState(({ said }) => ({ said: { sentence, seq: (said?.seq ?? 0) + 1 } }));
}

/** What was said belongs to what was on the page: another room or view ends it. */
export function hushAll(): void {
  useSaid.setState({ said: null });
}

export function hush(seq: number): void {
  useSaid.setState(({ said }) => (said?.seq === seq ? { said: null } : {}));
}
