/**
 * Search for weeks with calendars, weights and due times: moves of one task or of a whole book in the order, accepted when no worse
 * than now or than some moves ago (late acceptance; Burke & Bykov 2017), every new best pushed late and early again.
 */
import { improveOnce } from './build.ts';
import type { Compiled } from './compile.ts';
import type { Decoder } from './decode.ts';
import type { Schedule } from './fit.ts';
import { copySchedule, emptySchedule } from './fit.ts';
import { compare, measure } from './objective.ts';
import { ancestorsOf, orderByKey, orderBySchedule } from './orders.ts';
import type { Objective } from './problem.ts';
import type { Chance } from './random.ts';

/** How many moves ago still counts. */
const memory = 60;
/** Moves without a new best before the search goes back to the best. */
const patience = 4000;

/** Improves `best` in place for as long as it is asked; yields how many schedules each stretch took. */
export function* anneal(compiled: Compiled, decoder: Decoder, best: Schedule, chance: Chance): Generator<number, void> {
  const books = listBooks(compiled);
  const [current, trial] = [emptySchedule(compiled), emptySchedule(compiled)];
  let [order, value, bestValue] = [
    orderBySchedule(compiled, best.start),
    measure(compiled, best),
    measure(compiled, best),
  ];
  let past: Objective[] = new Array(memory).fill(value);
  copySchedule(best, current);
  let quiet = 0;
  for (let move = 0; ; move++) {
    let made = 1;
    const changed =
      chance() < 0.5 || books.length === 0
        ? moveTask(compiled, order, chance)
        : moveBook(compiled, order, books, chance);
    const fits = decoder.forward(changed, trial) < 0;
    const trialValue = fits ? measure(compiled, trial) : value;
    if (fits && (compare(trialValue, value) <= 0 || compare(trialValue, past[move % memory]!) <= 0)) {
      copySchedule(trial, current);
      [order, value] = [changed, trialValue];
    }
    past[move % memory] = value;
    quiet++;
    if (compare(value, bestValue) < 0) {
      made += improveOnce(compiled, decoder, current);
      order = orderBySchedule(compiled, current.start);
      value = measure(compiled, current);
      bestValue = value;
      copySchedule(current, best);
      quiet = 0;
    } else if (quiet > patience) {
      order = orderBySchedule(compiled, best.start);
      value = bestValue;
      past = new Array(memory).fill(value);
      quiet = 0;
    }
    yield made;
  }
}

/** The items of each book: what only one weighted task needs. */
function listBooks(compiled: Compiled): Int32Array[] {
  const owner = new Map<number, number>();
  const goals = [...compiled.weight.keys()].filter((task) => compiled.weight[task]! > 0);
  for (const [g, goal] of goals.entries())
    for (const task of ancestorsOf(compiled, goal)) {
      const item = compiled.itemOf[task]!;
      if (item >= 0) owner.set(item, owner.has(item) && owner.get(item) !== g ? -1 : g);
    }
  return goals
    .map((_, g) => Int32Array.from([...owner].filter(([, book]) => book === g).map(([item]) => item)))
    .filter((items) => items.length > 0);
}

/** One item elsewhere between what must come before it and what must come after. */
function moveTask(compiled: Compiled, order: Int32Array, chance: Chance): Int32Array {
  const changed = order.slice();
  for (let attempt = 0; attempt < 10; attempt++) {
    const from = Math.floor(chance() * order.length);
    const item = order[from]!;
    let [low, high] = [from, from];
    const reach = 1 + Math.floor(order.length * chance() ** 3);
    while (low > 0 && from - low < reach && !compiled.itemBefore[item]!.includes(order[low - 1]!)) low--;
    while (high < order.length - 1 && high - from < reach && !compiled.itemAfter[item]!.includes(order[high + 1]!))
      high++;
    const to = low + Math.floor(chance() * (high - low + 1));
    if (to === from) continue;
    if (to < from) changed.copyWithin(to + 1, to, from);
    else changed.copyWithin(from, from + 1, to + 1);
    changed[to] = item;
    return changed;
  }
  return changed;
}

/** A whole book, or its later part, earlier or later in the order. */
function moveBook(compiled: Compiled, order: Int32Array, books: readonly Int32Array[], chance: Chance): Int32Array {
  const key = new Float64Array(order.length);
  for (const [position, item] of order.entries()) key[item] = position;
  const book = books[Math.floor(chance() * books.length)]!;
  const shift = (chance() < 0.6 ? -1 : 1) * order.length * chance() ** 2;
  const since = chance() < 0.6 ? -1 : order.length * chance();
  for (const item of book) if (key[item]! > since) key[item]! += shift - 0.5;
  return orderByKey(compiled, key);
}
