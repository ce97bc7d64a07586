/** The fates of the shelf in their thread, with HiGHS beside them; raising the stop flag keeps the best so far. */
import { decideFates, type FateBook, type FateLimits, type Fates } from '../../core/triage/fates.ts';
import { loadSolver } from './highs.ts';
import { answerThread } from './thread.ts';

export type FatesInput = Readonly<{ books: readonly FateBook[]; limits: FateLimits; seconds: number }>;

/** Says the bound that no plan can pass as soon as it is known. */
await answerThread<FatesInput, number, Fates>(async ({ books, limits, seconds }, say, shouldStop) => {
  const solve = await loadSolver(shouldStop);
  return decideFates(books, limits, solve, seconds, say);
});
