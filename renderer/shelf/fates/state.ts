/** What is being decided: kept outside of the screen, so that opening a book and coming back loses nothing. */
import { create } from 'zustand';
import type { FatesProposed, Need } from '../../../core/contract/fates.ts';
import { client } from '../../app/client.ts';

type State = Readonly<{
  /** As typed; null until a person says otherwise. */
  hours: string | null;
  needs: readonly Need[] | null;
  proposed: FatesProposed | null;
  /** Books whose proposed fate is not to be taken. */
  without: ReadonlySet<string>;
  words: string | null;
  error: unknown;
}>;

const nothing: State = { hours: null, needs: null, proposed: null, without: new Set(), words: null, error: null };

export const useFates = create<State>(() => nothing);

/** Long enough to prove most shelves best; the person can stop sooner. */
const seconds = 10;

/** Weighs the shelf and shows what it says meanwhile. */
export async function decide(handMinutes: number, needs: readonly Need[]): Promise<void> {
  useFates.setState({ words: 'Reading the shelf', error: null });
  try {
    for await (const piece of await client.fates.propose({ handMinutes, needs: [...needs], seconds })) {
      if (piece.kind === 'progress') useFates.setState({ words: piece.words });
      else useFates.setState({ proposed: piece.proposed, without: new Set() });
    }
  } catch (error) {
    useFates.setState({ error });
  } finally {
    useFates.setState({ words: null });
  }
}

export function stopDeciding(): void {
  client.fates.stop().catch((error: unknown) => useFates.setState({ error }));
}

/** The decisions that were taken are what stands in the books now. */
export function noteAccepted(taken: ReadonlySet<string>): void {
  const { proposed } = useFates.getState();
  if (proposed === null) return;
  const decisions = proposed.decisions.map((line) => (taken.has(line.bookId) ? { ...line, now: line.fate } : line));
  useFates.setState({ proposed: { ...proposed, decisions } });
}
