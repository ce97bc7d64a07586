/** Putting an allocation right in its thread, with HiGHS beside it; raising the stop flag keeps the best so far. */
import type { AllocationProblem } from '../../core/course/allocation-model.ts';
import type { OwnedBy } from '../../core/course/compare.ts';
import { type Mended, mendAllocation } from '../../core/course/mend.ts';
import { loadSolver } from './highs.ts';
import { answerThread } from './thread.ts';

export type MenderInput = Readonly<{
  problem: AllocationProblem;
  before: readonly OwnedBy[];
  begun: readonly OwnedBy[];
  seconds: number;
}>;

await answerThread<MenderInput, string, Mended>(async ({ problem, before, begun, seconds }, say, shouldStop) => {
  const solve = await loadSolver(shouldStop);
  return mendAllocation(problem, before, begun, solve, { seconds, clock: () => performance.now(), say, shouldStop });
});
