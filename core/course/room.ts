/** Who has too little to do for the hours they have come for, and how many more copies each could be given. */
import { type Learner, type PracticeCopy, whyNot } from './eligible.ts';
import { learnerMinutes } from './pace.ts';

export type Underworked = Readonly<{
  learner: Learner;
  /** Minutes of the work they have. */
  minutes: number;
  /** Copies they have. */
  has: number;
  /** Free copies more, the shortest first, that they may be given and that fit into the hours they have left. */
  fitting: number;
}>;

/** Below this share of their hours people sit idle for days. Common practice, no source. */
const enoughWork = 0.6;

/** `free` are copies that may be handed out and are nobody's; each could go to any of those whom it fits. */
export function underworked(
  learners: readonly Learner[],
  copiesOf: (learner: Learner) => readonly PracticeCopy[],
  free: readonly PracticeCopy[],
): readonly Underworked[] {
  return learners.flatMap((learner): Underworked[] => {
    const own = copiesOf(learner);
    const minutes = own.reduce((sum, copy) => sum + learnerMinutes(copy.minutes, learner.level), 0);
    if (minutes >= learner.minutes * enoughWork) return [];
    const suited = free
      .filter((copy) => whyNot(learner, copy) === null)
      .map((copy) => learnerMinutes(copy.minutes, learner.level))
      .toSorted((one, other) => one - other);
    let left = learner.minutes - minutes;
    const fitting = suited.filter((takes) => {
      left -= takes;
      return left >= 0;
    }).length;
    return [{ learner, minutes, has: own.length, fitting }];
  });
}
