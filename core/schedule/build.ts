/** A first plan in milliseconds: the serial scheme under each rule of thumb, the best of them pushed late and early again once. */
import type { Refusal, Result } from '../result.ts';
import { ok, refuse } from '../result.ts';
import { planFrom } from './answer.ts';
import { boundOf } from './bound.ts';
import { type Compiled, compile } from './compile.ts';
import type { Decoder } from './decode.ts';
import { brokenLag, makeDecoder } from './decode.ts';
import type { Schedule } from './fit.ts';
import { copySchedule, emptySchedule } from './fit.ts';
import { compare, measure } from './objective.ts';
import type { Rule } from './orders.ts';
import { ancestorsOf, orderByKey, orderByRule, orderBySchedule, rules } from './orders.ts';
import type { Objective, Plan, Problem } from './problem.ts';
import { type Chance, chanceFrom } from './random.ts';
import { validate } from './validate.ts';

/**
 * A valid plan, good but not searched for. With `rule` only that rule is tried, as the serial scheme gives it. Refuses in words where
 * the problem contradicts itself, pinned tasks clash, or a task finds no place in its hours.
 */
export function build(problem: Problem, options: Readonly<{ seed?: number; rule?: Rule }> = {}): Result<Plan> {
  const valid = validate(problem);
  if (!valid.ok) return valid;
  const compiled = compile(problem);
  const decoder = makeDecoder(compiled);
  if ('task' in decoder) return refuse(clashSentence(compiled, decoder.task), problem.tasks[decoder.task]!.id);
  const first = firstSchedule(compiled, decoder, options.rule ? [options.rule] : rules);
  if ('sentence' in first) return { ok: false, refusal: first };
  if (!options.rule) first.count += improveOnce(compiled, decoder, first.schedule);
  return ok(
    planFrom(compiled, first.schedule, boundOf(compiled), { schedules: first.count, seed: options.seed ?? 0 }, []),
  );
}

/** The best schedule of these rules, or why there is none. */
export function firstSchedule(
  compiled: Compiled,
  decoder: Decoder,
  tried: readonly Rule[],
): { schedule: Schedule; count: number } | Refusal {
  const [trial, best] = [emptySchedule(compiled), emptySchedule(compiled)];
  let found = false;
  let stuck = -1;
  for (const rule of tried) {
    const failed = decoder.forward(orderByRule(compiled, rule), trial);
    if (failed >= 0) {
      stuck = failed;
      continue;
    }
    if (!found || compare(measure(compiled, trial), measure(compiled, best)) < 0) copySchedule(trial, best);
    found = true;
  }
  if (found) return { schedule: best, count: tried.length };
  const count = unstick(compiled, decoder, stuck, best);
  return count < mostPushes ? { schedule: best, count: tried.length + count } : stuckRefusal(compiled, stuck);
}

/** Orders tried to find a place for what the rules leave none for, and after how many the search begins from another one. */
const mostPushes = 400;
const pushesARound = 40;

/**
 * Where pins or ties leave a task no place, it goes before all others with what must come before it, and so on with the next that finds
 * none ("squeaky wheel"; Joslin & Clements 1999); where that goes in a circle, again from a shuffled order and, of those who could each do
 * a pinned task, with others at it. How many orders that took; `mostPushes` when it did not help.
 */
function unstick(compiled: Compiled, decoder: Decoder, stuck: number, into: Schedule): number {
  const size = compiled.items.length;
  const chance = chanceFrom(size);
  const key = new Float64Array(size);
  const standing = orderByRule(compiled, 'longest tail');
  let [failed, ways] = [stuck, decoder];
  for (let count = 0; count < mostPushes - 1; count++) {
    const first = count < pushesARound;
    if (count % pushesARound === 0) {
      for (const [position, item] of standing.entries()) key[item] = position + (first ? 0 : size * chance());
      const others = first ? decoder : makeDecoder(withOthers(compiled, chance));
      ways = 'task' in others ? decoder : others;
    }
    const needed = new Set(ancestorsOf(compiled, failed).map((task) => compiled.itemOf[task]!));
    for (const item of needed) if (item >= 0) key[item]! -= size * (first ? 1 : 0.2 + chance());
    failed = ways.forward(orderByKey(compiled, key), into);
    if (failed < 0) return count + 1;
  }
  return mostPushes;
}

/** The same with the members of every pool asked in another order. */
function withOthers(compiled: Compiled, chance: Chance): Compiled {
  const candidates = compiled.candidates.map((members) => {
    const rank = new Map(Array.from(members, (member) => [member, chance()]));
    return members.toSorted((a, b) => rank.get(a)! - rank.get(b)!);
  });
  return { ...compiled, candidates };
}

/** Forward-backward improvement in place until nothing more is won; schedules used. */
export function improveOnce(compiled: Compiled, decoder: Decoder, schedule: Schedule): number {
  const [late, early] = [emptySchedule(compiled), emptySchedule(compiled)];
  let count = 0;
  for (;;) {
    count += 2;
    if (!decoder.justify(schedule, late)) return count;
    if (decoder.forward(orderBySchedule(compiled, late.start), early) >= 0) return count;
    if (compare(measure(compiled, early), measure(compiled, schedule)) >= 0) return count;
    copySchedule(early, schedule);
  }
}

/** Why a pinned task cannot be where it is pinned, among pinned and begun work. */
export function clashSentence(compiled: Compiled, task: number): string {
  const { tasks } = compiled.problem;
  const other = brokenLag(compiled, { start: compiled.release, out: compiled.fixedOut }, task);
  if (other >= 0)
    return `${tasks[task]!.label} is pinned to a time that does not go with ${tasks[other]!.label}, which it follows.`;
  return `${tasks[task]!.label} is pinned to a time when what it needs is taken by other pinned or begun work.`;
}

function stuckRefusal(compiled: Compiled, task: number): Refusal {
  const { id, label } = compiled.problem.tasks[task]!;
  const tied = [...compiled.items[compiled.itemOf[task]!]!].map((member) => compiled.problem.tasks[member]!.label);
  const pinned = compiled.after.task
    .subarray(compiled.after.at[task]!, compiled.after.at[task + 1]!)
    .find((next) => compiled.fixed[next] === 1);
  if (pinned !== undefined)
    return {
      sentence: `${compiled.problem.tasks[pinned]!.label} is pinned to a time before ${label} can be done.`,
      field: id,
    };
  if (tied.length > 1)
    return {
      sentence: `These must follow each other closely and find no place together in the hours given: ${tied.join(', ')}.`,
      field: id,
    };
  return {
    sentence: `No place was found for ${label} in the hours given; more days or more hours are needed.`,
    field: id,
  };
}

/** Least lateness, completion and finish of any plan, each on its own; refuses as `build` does. */
export function bound(problem: Problem): Result<Objective> {
  const valid = validate(problem);
  return valid.ok ? ok(boundOf(compile(problem))) : valid;
}
