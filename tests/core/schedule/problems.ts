/** Random bench weeks for tests: invented, repeatable from a seed. */
import type { Calendar, Problem, Resource, Task } from '../../../core/schedule/problem.ts';
import { type Chance, chanceFrom } from '../../../core/schedule/random.ts';

export type Shape = Readonly<{
  books: number;
  steps: number;
  /** Minutes of one grain: all durations, windows and lags are multiples. */
  grain: number;
  days: number;
  pins?: boolean;
  people?: number;
}>;

/** Hand-work with drying and pressing between, in a calendar with a midday break, for one or more people. */
export function randomProblem(seed: number, shape: Shape): Problem {
  const chance = chanceFrom(seed);
  const upTo = (most: number) => Math.floor(chance() * most);
  const { grain, days } = shape;
  const bench: Calendar = Array.from({ length: days }, (_, day) => day * 24 * grain).flatMap((midnight) => [
    { from: midnight + 2 * grain, to: midnight + 7 * grain },
    { from: midnight + 8 * grain, to: midnight + 13 * grain },
  ]);
  const people: Resource[] = Array.from({ length: shape.people ?? 1 }, (_, k) => ({
    id: `person ${k}`,
    label: `person ${k}`,
    kind: 'hands',
    capacity: 1,
  }));
  const resources: Resource[] = [
    ...people,
    {
      id: 'press',
      label: 'nipping press',
      kind: 'press',
      capacity: 1 + upTo(2),
      ...(chance() < 0.3 ? { changes: [{ at: 30 * grain, capacity: 2 }] } : {}),
    },
    { id: 'shear', label: 'board shear', kind: 'tool', capacity: 1 },
  ];
  const tasks: Task[] = [];
  for (let book = 0; book < shape.books; book++) {
    for (let step = 0; step < shape.steps; step++) tasks.push(randomStep(chance, upTo, shape, book, step, tasks));
    const last = tasks.pop()!;
    tasks.push({ ...last, weight: 1 + upTo(3), due: chance() < 0.6 ? (10 + upTo(days * 20)) * grain : null });
  }
  return {
    now: chance() < 0.3 ? 3 * grain : 0,
    calendars: { bench },
    resources,
    pools: [{ id: 'hands', label: 'somebody', members: people.map((person) => person.id) }],
    tasks,
  };
}

function randomStep(
  chance: Chance,
  upTo: (most: number) => number,
  shape: Shape,
  book: number,
  step: number,
  earlier: readonly Task[],
): Task {
  const { grain } = shape;
  const before = step === 0 ? undefined : earlier.at(-1);
  const kind = chance() < 0.55 || step === 0 ? 'work' : chance() < 0.5 ? 'drying' : 'pressing';
  // Pressing at once only after hand-work: work that ends in the evening could never be followed by drying and then pressing at once.
  const atOnce = kind !== 'work' && before?.calendar === 'bench' && chance() < 0.6;
  const hands = chance() < 0.3 ? 'person 0' : 'hands';
  const common: Omit<Task, 'id' | 'label' | 'minutes' | 'calendar' | 'shape' | 'demands' | 'heldUntil'> = {
    after: before
      ? [{ task: before.id, minLag: kind === 'work' ? upTo(2) * grain : 0, ...(atOnce ? { maxLag: 0 } : {}) }]
      : [],
    release: chance() < 0.2 ? upTo(20) * grain : null,
    due: null,
    weight: 0,
    pinned: null,
    progress: null,
  };
  const name = { id: `${book}.${step}`, label: `${kind} ${book}.${step}` };
  if (kind === 'drying')
    return {
      ...common,
      ...name,
      minutes: (1 + upTo(8)) * grain,
      calendar: null,
      shape: 'whole',
      demands: [],
      heldUntil: null,
    };
  if (kind === 'pressing')
    return {
      ...common,
      ...name,
      minutes: (1 + upTo(6)) * grain,
      calendar: null,
      shape: 'whole',
      demands: [{ resource: 'press', amount: 1 }],
      heldUntil: 'bench',
    };
  const tool = chance() < 0.25 ? [{ resource: 'shear', amount: 1 }] : [];
  return {
    ...common,
    ...name,
    minutes: (1 + upTo(4)) * grain,
    calendar: 'bench',
    shape: chance() < 0.3 ? 'breakable' : 'whole',
    demands: [{ resource: hands, amount: 1 }, ...tool],
    heldUntil: null,
  };
}

/** A project of the literature's kind: always open, finish to start, several resources. */
export function randomTextbook(
  seed: number,
  shape: Readonly<{ tasks: number; resources: number; longest: number }>,
): Problem {
  const chance = chanceFrom(seed);
  const upTo = (most: number) => Math.floor(chance() * most);
  const resources = Array.from({ length: shape.resources }, (_, k) => ({
    id: `r${k}`,
    label: `resource ${k}`,
    kind: 'tool' as const,
    capacity: 4 + upTo(4),
  }));
  const tasks = Array.from({ length: shape.tasks }, (_, k): Task => {
    const earlier = Array.from({ length: k }, (_one, other) => other).filter(() => chance() < 2 / (k + 1));
    return {
      id: `${k}`,
      label: `task ${k}`,
      minutes: upTo(shape.longest + 1),
      calendar: null,
      shape: 'whole',
      demands: resources.filter(() => chance() < 0.7).map((resource) => ({ resource: resource.id, amount: upTo(5) })),
      heldUntil: null,
      after: earlier.map((other) => ({ task: `${other}`, minLag: 0 })),
      release: null,
      due: null,
      weight: 0,
      pinned: null,
      progress: null,
    };
  });
  return { now: 0, calendars: {}, resources, pools: [], tasks };
}
