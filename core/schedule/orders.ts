/** Orders of items to place: from a rule of thumb, from a schedule, always with what comes first first. */
import { never } from './clock.ts';
import type { Compiled } from './compile.ts';

export const rules = ['longest tail', 'earliest due', 'shortest book', 'slack'] as const;
/**
 * How the first plan ranks what is ready: the longest chain still to come first (latest start in the literature), the earliest due
 * time counted back first, the book with least work for its weight first (Smith 1956), or due times and weights together.
 */
export type Rule = (typeof rules)[number];

/** Items in the order of their keys, small first, as far as what comes first allows. */
export function orderByKey(compiled: Compiled, key: ArrayLike<number>): Int32Array {
  const count = compiled.items.length;
  const waiting = Int32Array.from(compiled.itemBefore, (list) => list.length);
  const heap: number[] = [];
  const less = (a: number, b: number) => key[a]! < key[b]! || (key[a]! === key[b]! && a < b);
  const push = (item: number) => {
    let k = heap.push(item) - 1;
    while (k > 0 && less(item, heap[(k - 1) >> 1]!)) {
      heap[k] = heap[(k - 1) >> 1]!;
      k = (k - 1) >> 1;
    }
    heap[k] = item;
  };
  const pop = (): number => {
    const top = heap[0]!;
    const last = heap.pop()!;
    if (heap.length === 0) return top;
    let k = 0;
    for (;;) {
      let child = 2 * k + 1;
      if (child >= heap.length) break;
      if (child + 1 < heap.length && less(heap[child + 1]!, heap[child]!)) child++;
      if (!less(heap[child]!, last)) break;
      heap[k] = heap[child]!;
      k = child;
    }
    heap[k] = last;
    return top;
  };
  for (let item = 0; item < count; item++) if (waiting[item] === 0) push(item);
  const order = new Int32Array(count);
  for (let position = 0; position < count; position++) {
    const item = pop();
    order[position] = item;
    for (const next of compiled.itemAfter[item]!) if (--waiting[next]! === 0) push(next);
  }
  return order;
}

/** Items by the first start of their tasks. */
export function orderBySchedule(compiled: Compiled, start: ArrayLike<number>): Int32Array {
  return orderByKey(
    compiled,
    compiled.items.map((members) => members.reduce((least, task) => Math.min(least, start[task]!), never)),
  );
}

export function orderByRule(compiled: Compiled, rule: Rule): Int32Array {
  const tail = tails(compiled);
  const key = taskKeys(compiled, rule, tail);
  const urgent = lastMoments(compiled);
  return orderByKey(
    compiled,
    compiled.items.map((members) => {
      const pressed = members.reduce((least, task) => Math.min(least, urgent[task]!), never);
      if (pressed < never) return pressed - 1e9 * 4;
      return members.reduce((least, task) => Math.min(least, key[task]!), Number.POSITIVE_INFINITY);
    }),
  );
}

/** Minutes from the start of each task to the end of all that must follow, hours and resources aside. */
export function tails(compiled: Compiled): Float64Array {
  const { after } = compiled;
  const tail = new Float64Array(compiled.count);
  for (let position = compiled.count - 1; position >= 0; position--) {
    const task = compiled.topological[position]!;
    let rest = 0;
    for (let a = after.at[task]!; a < after.at[task + 1]!; a++)
      rest = Math.max(rest, after.minLag[a]! + tail[after.task[a]!]!);
    tail[task] = compiled.minutes[task]! + rest;
  }
  return tail;
}

/** When each task must be out for the pinned tasks after it; `never` where none follows. */
function lastMoments(compiled: Compiled): Float64Array {
  const { after } = compiled;
  const moment = Float64Array.from(compiled.outCeiling);
  for (let position = compiled.count - 1; position >= 0; position--) {
    const task = compiled.topological[position]!;
    for (let a = after.at[task]!; a < after.at[task + 1]!; a++) {
      const next = after.task[a]!;
      if (compiled.fixed[next] || moment[next]! >= never) continue;
      moment[task] = Math.min(moment[task]!, moment[next]! - compiled.minutes[next]! - after.minLag[a]!);
    }
  }
  return moment;
}

function taskKeys(compiled: Compiled, rule: Rule, tail: Float64Array): Float64Array {
  if (rule === 'longest tail') return tail.map((length) => -length);
  const goals = [...compiled.weight.keys()].filter((task) => compiled.weight[task]! > 0);
  const keys = new Float64Array(compiled.count).fill(1e15);
  for (const goal of goals) {
    const ancestors = ancestorsOf(compiled, goal);
    const work = ancestors.reduce((sum, task) => sum + (compiled.clocks[task] ? compiled.minutes[task]! : 0), 1);
    const due = Math.min(compiled.due[goal]!, 1e8);
    for (const task of ancestors) {
      const smith = work / compiled.weight[goal]!;
      const left = due - tail[task]!;
      const key =
        rule === 'earliest due'
          ? left * 1e4 + smith
          : rule === 'shortest book'
            ? smith * 1e6 - tail[task]!
            : smith + Math.max(0, left - compiled.problem.now) / 4;
      keys[task] = Math.min(keys[task]!, key);
    }
  }
  return keys.map((key, task) => (key >= 1e15 ? 1e15 - tail[task]! : key));
}

/** The task and all that must come before it. */
export function ancestorsOf(compiled: Compiled, goal: number): number[] {
  const { before } = compiled;
  const found = new Set([goal]);
  for (const task of found) for (let a = before.at[task]!; a < before.at[task + 1]!; a++) found.add(before.task[a]!);
  return [...found];
}
