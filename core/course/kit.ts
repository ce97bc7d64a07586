/** What a course uses up, day by day: what every copy's steps ask for on the day they are done, and what learners spoil on top. */
import type { MaterialNeed } from '../stock/material.ts';
import type { DatedNeed } from '../stock/projection.ts';
import type { Step } from '../treatment/treatment.ts';

export type KitWork = Readonly<{
  copyId: string;
  title: string;
  colour: string;
  steps: readonly Step[];
  /** Day of each step, YYYY-MM-DD, in the order of the steps. */
  dates: readonly string[];
}>;

/** A learner's first cut is not always the one that is used. The workshop's own figure, to be set right after the first course. */
export const spoiltShare = 0.25;

export function kitNeeds(courseId: string, works: readonly KitWork[]): readonly DatedNeed[] {
  return works.flatMap((work) =>
    work.steps.flatMap((step, index) =>
      step.needs.flatMap((need): DatedNeed[] => {
        const dated = {
          date: work.dates[index] ?? null,
          purpose: 'course',
          bookId: work.copyId,
          courseId,
          title: work.title,
          colour: work.colour,
        } as const;
        return [
          { ...dated, need, why: step.name },
          { ...dated, need: spoilt(need), why: `${step.name}, spoilt by learners` },
        ];
      }),
    ),
  );
}

function spoilt(need: MaterialNeed): MaterialNeed {
  return {
    ...need,
    quantity: need.quantity * spoiltShare,
    cut: null,
    working: `${Math.round(spoiltShare * 100)} % more for what learners spoil`,
  };
}
