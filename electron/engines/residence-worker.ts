/** Beds in their thread, with HiGHS beside them. */
import { type Placing, placePeople, type Room, type Sleeper } from '../../core/course/residence.ts';
import type { Result } from '../../core/result.ts';
import { loadSolver } from './highs.ts';
import { answerThread } from './thread.ts';

export type ResidenceInput = Readonly<{ people: readonly Sleeper[]; rooms: readonly Room[]; seconds: number }>;

await answerThread<ResidenceInput, never, Result<Placing>>(async ({ people, rooms, seconds }, _, shouldStop) =>
  placePeople(people, rooms, await loadSolver(shouldStop), seconds),
);
