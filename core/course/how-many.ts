/**
 * How many people the course holds, by laying it out for each number: people beyond those confirmed work on the like of what the others work
 * on. Shown apart: whether the week can be laid out, whether the copies there are suffice, benches and beds; and what one more press, tutor
 * or day would change.
 */
import type { SolveModel } from '../optimise/mip.ts';
import type { BenchTool } from '../schedule/bench-week.ts';
import { build } from '../schedule/build.ts';
import { improve } from '../schedule/improve.ts';
import { type ToolKind, toolKinds } from '../treatment/treatment.ts';
import { type AllocationProblem, draftAllocation, needsOf } from './allocation-model.ts';
import { courseLoads, share } from './loads.ts';
import { learnerMinutes } from './pace.ts';
import { type CourseFrame, type CourseWork, courseWeek, type Demonstration } from './timetable.ts';

export type HowManyTask = Readonly<{
  frame: CourseFrame;
  people: readonly Readonly<{ id: string; name: string }>[];
  works: readonly CourseWork[];
  demonstrations: readonly Demonstration[];
  tools: readonly BenchTool[];
  allocation: AllocationProblem;
  /** Null where rooms are not kept. */
  beds: number | null;
  /** Numbers of people to try, both ends in. */
  from: number;
  to: number;
}>;

export type AtNumber = Readonly<{
  people: number;
  /** Copies that are not out by the course's last hour; `proven` where no timetable at all brings them out. */
  late: number;
  proven: boolean;
  /** The shared thing most in demand. */
  busiest: Readonly<{ what: string; share: number }>;
  copies: 'enough' | 'short' | 'not known';
  /** What does not suffice at this number, the most pressing first; empty where it fits. */
  short: readonly string[];
}>;

export type OneMore = Readonly<{
  what: 'press' | 'tutor' | 'day';
  words: string;
  /** The most people for whom the week can be laid out with it. */
  most: number;
}>;

export type HowMany = Readonly<{
  at: readonly AtNumber[];
  /** The most people for whom the week can be laid out as it is; below `from` where not even so many. */
  most: number;
  oneMore: readonly OneMore[];
}>;

type Effort = Readonly<{
  solve: SolveModel;
  say: (soFar: HowMany, words: string) => void;
  shouldStop: () => boolean;
}>;

/** Timetables tried for one number of people before it is said not to fit. */
const schedulesEach = 400;
const copySeconds = 2;

/** Deterministic but for the copies' time limit. Told to stop, it answers with what it has. */
export async function howMany(task: HowManyTask, effort: Effort): Promise<HowMany> {
  const at: AtNumber[] = [];
  const oneMore: OneMore[] = [];
  const soFar = (): HowMany => ({ at: [...at], most: mostOf(at, task.from), oneMore: [...oneMore] });
  for (let people = task.from; people <= task.to && !effort.shouldStop(); people++) {
    at.push(await atNumber(task, people, effort, at.at(-1)?.copies === 'short'));
    effort.say(soFar(), `${people} people laid out`);
  }
  const most = mostOf(at, task.from);
  for (const more of changes(task, Math.min(most + 1, task.to))) {
    if (effort.shouldStop() || most >= task.to) break;
    let reached = most;
    while (reached < task.to && !effort.shouldStop() && layOut(more.task, reached + 1, effort).late === 0) reached++;
    oneMore.push({ what: more.what, words: more.words, most: reached });
    effort.say(soFar(), more.words);
  }
  return soFar();
}

/** The largest number up to which every week could be laid out. */
function mostOf(at: readonly AtNumber[], from: number): number {
  const first = at.findIndex(({ late }) => late > 0);
  return (first < 0 ? at.length : first) + from - 1;
}

async function atNumber(task: HowManyTask, people: number, effort: Effort, alreadyShort: boolean): Promise<AtNumber> {
  const { late, proven, busiest } = layOut(task, people, effort);
  // More people of the same kinds never need fewer copies.
  const copies = alreadyShort ? 'short' : await copiesFor(task, people, effort.solve);
  const short = [
    ...(late > 0
      ? [
          `${late} ${late === 1 ? 'copy is' : 'copies are'} not done by the last hour${proven ? ', however the week is laid out' : ''}; most in demand: ${busiest.what}, ${Math.round(busiest.share * 100)} %`,
        ]
      : []),
    ...(copies === 'short' ? ['the copies do not go round'] : []),
    ...(people > task.frame.benches ? [`${task.frame.benches} benches`] : []),
    ...(task.beds !== null && people > task.beds ? [`${task.beds} beds`] : []),
  ];
  return { people, late, proven, busiest, copies, short };
}

function layOut(task: HowManyTask, count: number, effort: Pick<Effort, 'shouldStop'>) {
  const { people, works } = crowd(task, count);
  const frame = { ...task.frame, benches: Math.max(task.frame.benches, count) };
  const week = courseWeek(frame, people, works, task.demonstrations, task.tools);
  if (!week.ok) return { late: works.length, proven: true, busiest: { what: week.refusal.sentence, share: 1 } };
  const { problem } = week.value;
  const first = build(problem);
  if (!first.ok) return { late: works.length, proven: true, busiest: { what: first.refusal.sentence, share: 1 } };
  let plan = first.value;
  if (plan.objective.lateness > 0) {
    const steps = improve(problem, plan, { seed: 1, schedules: schedulesEach, shouldStop: effort.shouldStop });
    for (;;) {
      const step = steps.next();
      if (step.done) {
        plan = step.value;
        break;
      }
      if (step.value.objective.lateness === 0) {
        plan = { ...plan, objective: step.value.objective };
        break;
      }
    }
  }
  const late =
    plan.objective.lateness === 0
      ? 0
      : Math.max(
          1,
          problem.tasks.filter(({ due }, index) => due !== null && (plan.placed[index]?.out ?? 0) > due).length,
        );
  return { late, proven: plan.bound.lateness > 0, busiest: busiestOf({ ...task, frame }, works) };
}

/** The heaviest load: a shared thing, or the hours of the person who has most to do. */
function busiestOf(task: HowManyTask, works: readonly CourseWork[]): AtNumber['busiest'] {
  const [heaviest] = courseLoads(task.frame, works, task.demonstrations, task.tools);
  const own = new Map<string, number>();
  for (const { personId, steps, level } of works) {
    const minutes = steps.reduce((sum, step) => sum + learnerMinutes(step.minutes.likely, level), 0);
    own.set(personId, (own.get(personId) ?? 0) + minutes);
  }
  const open = task.frame.teaching
    .filter(({ from }) => from < task.frame.end)
    .reduce((sum, { from, to }) => sum + to - from, 0);
  const hours = {
    what: 'the hours of whoever has most to do',
    share: Math.max(0, ...own.values()) / Math.max(1, open),
  };
  const shared = heaviest ? { what: heaviest.what, share: share(heaviest) } : hours;
  return shared.share >= hours.share ? shared : hours;
}

/** So many people: those there are, or the first of them, and beyond them others like them in turn. */
function crowd(
  task: HowManyTask,
  count: number,
): Readonly<{ people: HowManyTask['people']; works: readonly CourseWork[] }> {
  const present = task.people;
  const people: { id: string; name: string }[] = [];
  const works: CourseWork[] = [];
  for (let index = 0; index < count; index++) {
    const like = present[index % present.length];
    if (!like) break;
    const round = Math.floor(index / present.length);
    const mark = (text: string) => (round === 0 ? text : `${text}, ${round + 1}`);
    people.push({ id: mark(like.id), name: mark(like.name) });
    for (const work of task.works) {
      if (work.personId === like.id)
        works.push({ ...work, personId: mark(work.personId), name: mark(work.name), copyId: mark(work.copyId) });
    }
  }
  return { people, works };
}

async function copiesFor(task: HowManyTask, count: number, solve: SolveModel): Promise<AtNumber['copies']> {
  const { learners } = task.allocation;
  const more = Array.from({ length: count }, (_, index) => {
    const like = learners[index % Math.max(1, learners.length)];
    const round = Math.floor(index / Math.max(1, learners.length));
    return like && (round === 0 ? like : { ...like, id: `${like.id}, ${round + 1}` });
  }).filter((learner) => learner !== undefined);
  const there = new Set(more.map(({ id }) => id));
  const rules = task.allocation.rules.filter(({ personId }) => there.has(personId));
  const problem = { ...task.allocation, learners: more, rules };
  const { draft } = draftAllocation(problem, needsOf(problem));
  const { status, values } = await solve(draft.model('least', new Map()), { seconds: copySeconds });
  return status === 'infeasible' ? 'short' : values === null ? 'not known' : 'enough';
}

const presses: ReadonlySet<string> = new Set(['nipping press', 'standing press', 'lying press', 'weights']);

/** The course with one more of the press most in demand, one more tutor, one more day. */
function changes(
  task: HowManyTask,
  people: number,
): readonly Readonly<{ what: OneMore['what']; words: string; task: HowManyTask }>[] {
  const { works } = crowd(task, people);
  const loads = courseLoads(task.frame, works, task.demonstrations, task.tools);
  const wanted = loads.find(({ what }) => presses.has(what))?.what;
  const kind = toolKinds.find((one) => one === wanted);
  const { tutors } = task.frame;
  return [
    ...(kind === undefined
      ? []
      : [{ what: 'press', words: `one more ${oneOf(kind)}`, task: withTool(task, kind) } as const]),
    {
      what: 'tutor',
      words: 'one more tutor',
      task: { ...task, frame: { ...task.frame, tutors: tutors + 1 } },
    },
    { what: 'day', words: 'one more day', task: { ...task, frame: dayMore(task.frame) } },
  ];
}

function oneOf(kind: ToolKind): string {
  return kind === 'weights' ? 'set of weights' : kind;
}

/** As large as the largest of its kind. */
function withTool(task: HowManyTask, kind: ToolKind): HowManyTask {
  const capacity = Math.max(1, ...task.tools.filter((tool) => tool.kind === kind).map((tool) => tool.capacity));
  return { ...task, tools: [...task.tools, { id: 'one more', kind, name: `another ${kind}`, capacity }] };
}

/** The teaching hours that follow the last night belong to it as well. */
function dayMore(frame: CourseFrame): CourseFrame {
  const rest = frame.teaching.filter(({ from }) => from >= frame.end);
  const [first] = rest;
  if (!first) return frame;
  const night = rest.findIndex(({ from }, index) => index > 0 && from - (rest[index - 1]?.to ?? from) >= 360);
  const day = rest.slice(0, night < 0 ? rest.length : night);
  return { ...frame, days: [...frame.days, first.from], end: day.at(-1)?.to ?? frame.end };
}
