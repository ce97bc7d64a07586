import { describe, expect, test } from 'vitest';
import { build } from '../../../core/schedule/build.ts';
import type { Problem, Task } from '../../../core/schedule/problem.ts';

const plain: Task = {
  id: 'paste',
  label: 'pasting down',
  minutes: 60,
  calendar: 'bench',
  shape: 'whole',
  demands: [{ resource: 'me', amount: 1 }],
  heldUntil: null,
  after: [],
  release: null,
  due: null,
  weight: 1,
  pinned: null,
  progress: null,
};

/** Two four-hour mornings, one person, one press. */
function week(...tasks: readonly Partial<Task>[]): Problem {
  return {
    now: 0,
    calendars: {
      bench: [
        { from: 540, to: 780 },
        { from: 1980, to: 2220 },
      ],
    },
    resources: [
      { id: 'me', label: 'you', kind: 'hands', capacity: 1 },
      { id: 'press', label: 'nipping press', kind: 'press', capacity: 1 },
    ],
    pools: [{ id: 'all', label: 'the helpers', members: ['me'] }],
    tasks: tasks.map((task) => ({ ...plain, ...task })),
  };
}

describe('a problem that cannot be planned is refused in words', () => {
  test.each<[string, Problem]>([
    [
      'pasting down takes 300 minutes in one go, but the longest window of its hours is 240 minutes.',
      week({ minutes: 300 }),
    ],
    [
      'pasting down takes 500 minutes, but its hours end before that much is left.',
      week({ minutes: 500, shape: 'breakable' }),
    ],
    [
      'pasting down needs 3 of nipping press, but there is only 1.',
      week({ demands: [{ resource: 'press', amount: 3 }] }),
    ],
    [
      'pasting down needs 2 of the helpers, but there are only 1.',
      week({
        demands: [
          { resource: 'all', amount: 1 },
          { resource: 'all', amount: 1 },
        ],
      }),
    ],
    [
      'These wait for each other in a circle: sewing, then pasting down.',
      week(
        { after: [{ task: 'sew', minLag: 0 }] },
        { id: 'sew', label: 'sewing', after: [{ task: 'paste', minLag: 0 }] },
      ),
    ],
    [
      'pasting down must start at least 60 and at most 30 minutes after “sew”, which contradict each other.',
      week({ after: [{ task: 'sew', minLag: 60, maxLag: 30 }] }, { id: 'sew', label: 'sewing' }),
    ],
    ['pasting down is pinned to a time that has gone.', { ...week({ pinned: 600 }), now: 650 }],
    ['pasting down is pinned to a time when its hours have no room for it.', week({ pinned: 750 })],
    [
      'pasting down is pinned to a time before sewing can be done.',
      week({ pinned: 560, after: [{ task: 'sew', minLag: 0 }] }, { id: 'sew', label: 'sewing' }),
    ],
    [
      'sewing is pinned to a time when what it needs is taken by other pinned or begun work.',
      week({ pinned: 560 }, { id: 'sew', label: 'sewing', pinned: 580 }),
    ],
    [
      'pasting down is pinned to a time that does not go with sewing, which it follows.',
      week(
        { pinned: 580, after: [{ task: 'sew', minLag: 0 }] },
        { id: 'sew', label: 'sewing', demands: [], pinned: 560 },
      ),
    ],
    ['No place was found for', week(...Array.from({ length: 9 }, (_, k) => ({ id: `${k}`, label: `book ${k}` })))],
    [
      'These must follow each other closely and find no place together in the hours given: sewing, pasting down.',
      week(
        { after: [{ task: 'sew', minLag: 0, maxLag: 0 }], minutes: 200 },
        { id: 'sew', label: 'sewing', minutes: 200 },
      ),
    ],
    ['pasting down follows the calendar “night”, which does not exist.', week({ calendar: 'night' })],
    ['pasting down needs “saw”, which does not exist.', week({ demands: [{ resource: 'saw', amount: 1 }] })],
    ['pasting down: the minutes must be a whole number, none or more.', week({ minutes: 1.5 })],
  ])('%s', (sentence, problem) => {
    const plan = build(problem);
    expect(plan.ok ? 'a plan' : plan.refusal.sentence).toContain(sentence);
    expect(plan.ok ? undefined : plan.refusal.field).toBeTypeOf('string');
  });
});
