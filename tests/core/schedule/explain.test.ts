import { expect, test } from 'vitest';
import { build } from '../../../core/schedule/build.ts';
import type { Problem, Task, WaitKind } from '../../../core/schedule/problem.ts';

const step = (id: string, over: Partial<Task> = {}): Task => ({
  id,
  label: id,
  minutes: 60,
  calendar: 'bench',
  shape: 'whole',
  demands: [{ resource: 'me', amount: 1 }],
  heldUntil: null,
  after: [],
  release: null,
  due: null,
  weight: 0,
  pinned: null,
  progress: null,
  ...over,
});

/** Two days of one four-hour window; you, another person, one board shear. Tasks are placed in the order given, longest chain first. */
function reasonsOf(...tasks: readonly Task[]) {
  const problem: Problem = {
    now: 540,
    calendars: {
      bench: [
        { from: 540, to: 780 },
        { from: 1980, to: 2220 },
      ],
    },
    resources: [
      { id: 'me', label: 'you', kind: 'hands', capacity: 1 },
      { id: 'other', label: 'Anna', kind: 'hands', capacity: 1 },
      { id: 'shear', label: 'board shear', kind: 'tool', capacity: 1 },
    ],
    pools: [],
    tasks,
  };
  const plan = build(problem, { rule: 'longest tail' });
  if (!plan.ok) throw new Error(plan.refusal.sentence);
  return plan.value.reasons;
}

const afterTask = (task: string) => [{ task, minLag: 0 }];
const airing = { calendar: null, demands: [], minutes: 100 };
const shearing = (who: string) => [
  { resource: who, amount: 1 },
  { resource: 'shear', amount: 1 },
];

test.each<[string, readonly Task[], WaitKind, string | null, string]>([
  ['starts at once', [step('paste')], 'nothing', null, 'Starts at once.'],
  [
    'waits for hands that have another step',
    [step('sew'), step('paste', { minutes: 50 })],
    'hands',
    'sew',
    'Waits for you, which sew has until then.',
  ],
  [
    'waits for a tool',
    [step('cut', { demands: shearing('other') }), step('cut more', { minutes: 50, demands: shearing('me') })],
    'tool',
    'cut',
    'Waits for the board shear, which cut has until then.',
  ],
  [
    'follows the step before it',
    [step('sew'), step('paste', { after: afterTask('sew') })],
    'task',
    'sew',
    'Follows sew.',
  ],
  [
    'waits for drying',
    [step('glue', { ...airing, label: 'glue' }), step('paste', { after: afterTask('glue') })],
    'drying',
    'glue',
    'Waits for glue to dry.',
  ],
  [
    'waits for drying that ends at night',
    [step('glue', { ...airing, minutes: 600 }), step('paste', { after: afterTask('glue') })],
    'drying',
    'glue',
    'Waits for glue to dry.',
  ],
  [
    'waits for hours that are long enough',
    [step('sew'), step('paste', { minutes: 200, after: afterTask('sew') })],
    'hours',
    null,
    'Waits for working hours.',
  ],
  [
    'waits for the time it may begin',
    [step('paste', { release: 600 })],
    'release',
    null,
    'Cannot begin before this time.',
  ],
  ['stays where it is pinned', [step('paste', { pinned: 640 })], 'pinned', null, 'Is pinned to this time.'],
  [
    'has been started',
    [step('paste', { progress: { state: 'started', start: 500, left: 20 } })],
    'started',
    null,
    'Has been started.',
  ],
])('a step %s', (_what, tasks, waitsFor, blocker, sentence) => {
  expect(reasonsOf(...tasks).at(-1)).toMatchObject({ waitsFor, blocker, sentence });
});
