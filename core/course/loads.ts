/** What a course week leans on: each person's hours, the tutors' attention, presses and tools, against what there is of them. */

import { learnerMinutes } from './pace.ts';
import type { CourseFrame, CourseWork, Demonstration } from './timetable.ts';
import { attentionFor, eyesOfTutor } from './timetable.ts';

export type Load = Readonly<{
  what: string;
  /** Minutes wanted and minutes there are, over the whole course. */
  wanted: number;
  there: number;
}>;

type CountedTool = Readonly<{ kind: string; capacity: number }>;

/**
 * Loads of shared things, the heaviest first. A press or weight works nights as well; a tool in the hand only in teaching hours. Attention
 * is counted in tutor's minutes: near by takes a quarter of a tutor or helper, beside takes a whole tutor.
 */
export function courseLoads(
  frame: CourseFrame,
  works: readonly CourseWork[],
  demonstrations: readonly Demonstration[],
  tools: readonly CountedTool[],
): readonly Load[] {
  const open = frame.teaching
    .filter((window) => window.from < frame.end)
    .reduce((sum, window) => sum + Math.min(window.to, frame.end) - window.from, 0);
  const first = frame.teaching[0]?.from ?? 0;
  const used = new Set(works.flatMap((work) => work.steps.map((step) => step.operationId)));
  const shown = demonstrations
    .filter(({ operationId }) => used.has(operationId))
    .reduce((sum, { minutes }) => sum + minutes, 0);
  let [beside, nearby] = [shown, 0];
  const byTool = new Map<string, { hand: number; waiting: number }>();
  const add = (kind: string, hand: number, waiting: number) => {
    const sum = byTool.get(kind) ?? { hand: 0, waiting: 0 };
    byTool.set(kind, { hand: sum.hand + hand, waiting: sum.waiting + waiting });
  };
  for (const { steps, level } of works) {
    for (const step of steps) {
      const minutes = learnerMinutes(step.minutes.likely, level);
      const attention = attentionFor(step, level);
      if (attention === 'beside') beside += minutes;
      else if (attention === 'nearby') nearby += minutes / eyesOfTutor;
      for (const kind of step.tools) add(kind, minutes, 0);
      if (step.wait && step.wait.held !== 'air') add(step.wait.held, 0, step.wait.minutes);
    }
  }
  const loads: Load[] = [
    { what: 'tutor standing beside or demonstrating', wanted: beside, there: open * frame.tutors },
    { what: 'tutors and helpers together', wanted: beside + nearby, there: open * (frame.tutors + frame.helpers) },
  ];
  for (const [kind, { hand, waiting }] of byTool) {
    const capacity = tools.filter((tool) => tool.kind === kind).reduce((sum, tool) => sum + tool.capacity, 0);
    const there = (waiting > 0 ? Math.max(0, frame.end - first) : open) * capacity;
    loads.push({ what: kind, wanted: hand + waiting, there });
  }
  return loads.toSorted((one, other) => share(other) - share(one));
}

export function share({ wanted, there }: Load): number {
  return there > 0 ? wanted / there : wanted > 0 ? Number.MAX_SAFE_INTEGER : 0;
}
