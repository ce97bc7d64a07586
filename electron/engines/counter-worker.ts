/** How many people a course holds, in its thread; raising the stop flag answers with what is known so far. */
import { type HowMany, type HowManyTask, howMany } from '../../core/course/how-many.ts';
import { loadSolver } from './highs.ts';
import { answerThread } from './thread.ts';

export type CounterProgress = Readonly<{ soFar: HowMany; words: string }>;

await answerThread<HowManyTask, CounterProgress, HowMany>(async (task, say, shouldStop) => {
  const solve = await loadSolver(shouldStop);
  return howMany(task, { solve, shouldStop, say: (soFar, words) => say({ soFar, words }) });
});
