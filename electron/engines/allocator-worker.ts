/** The allocation of practice copies in its thread, with HiGHS beside it; raising the stop flag keeps the best so far. */
import { type Allocated, allocate } from '../../core/course/allocation.ts';
import type { AllocationProblem } from '../../core/course/allocation-model.ts';
import { loadSolver } from './highs.ts';
import { answerThread } from './thread.ts';

export type AllocatorInput = Readonly<{ problem: AllocationProblem; seconds: number }>;

await answerThread<AllocatorInput, string, Allocated>(async ({ problem, seconds }, say, shouldStop) => {
  const solve = await loadSolver(shouldStop);
  return allocate(problem, solve, { seconds, clock: () => performance.now(), say, shouldStop });
});
