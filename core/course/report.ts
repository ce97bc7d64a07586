/** After the course: minutes as they were beside minutes as planned, by operation and by level. */
import type { Level } from '../book/book.ts';
import { levels } from '../book/book.ts';
import { learnerMinutes } from './pace.ts';

/** One operation of one person on one copy: what the bench takes, and what the person took. */
export type Sitting = Readonly<{ operationId: string; level: Level; benchMinutes: number; minutes: number }>;

export type OperationLine = Readonly<{ operationId: string; times: number; planned: number; actual: number }>;
export type LevelLine = Readonly<{
  level: Level;
  times: number;
  planned: number;
  actual: number;
  /** Their minutes for one of the bench's own: the middle of all their sittings. */
  pace: number;
}>;

/** Planned is the bench's time at a learner's pace. Sittings whose bench time is unknown (0) count as actual only. */
export function operationLines(sittings: readonly Sitting[]): readonly OperationLine[] {
  return [...Map.groupBy(sittings, ({ operationId }) => operationId)]
    .map(([operationId, group]) => ({ operationId, ...sums(group) }))
    .toSorted((one, other) => other.actual - one.actual);
}

export function levelLines(sittings: readonly Sitting[]): readonly LevelLine[] {
  return levels.flatMap((level) => {
    const known = sittings.filter((one) => one.level === level && one.benchMinutes > 0);
    if (known.length === 0) return [];
    const ratios = known.map(({ minutes, benchMinutes }) => minutes / benchMinutes).toSorted((a, b) => a - b);
    const half = ratios.length >> 1;
    const [low, high] = [ratios[ratios.length % 2 === 0 ? half - 1 : half] ?? 1, ratios[half] ?? 1];
    return [{ level, ...sums(known), pace: (low + high) / 2 }];
  });
}

function sums(group: readonly Sitting[]) {
  return {
    times: group.length,
    planned: group.reduce(
      (sum, one) => sum + (one.benchMinutes > 0 ? learnerMinutes(one.benchMinutes, one.level) : 0),
      0,
    ),
    actual: group.reduce((sum, one) => sum + one.minutes, 0),
  };
}
