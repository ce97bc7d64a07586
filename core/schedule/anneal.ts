/**
 * Search for weeks with calendars, weights and due times: moves of one task or of a whole book in the order, accepted when no worse
 * than now or than some moves ago (late acceptance; Burke & Bykov 2017), every new best pushed late and early again.
 */
import { improveOnce } from './build.ts';
import { never } from './clock.ts';
import type { Compiled } from './compile.ts';
import type { Decoder } from './decode.ts';
import type { Schedule } from './fit.ts';
import { copySchedule, emptySchedule } from './fit.ts';
import { compare, measure } from './objective.ts';
import { ancestorsOf, orderByKey, orderBySchedule } from './orders.ts';
import type { Objective } from './problem.ts';
import type { Chance } from './random.ts';

/** How many moves ago still counts. */
const memory = 15;
/** Moves without a new best before the search goes back to the best. */
const patience = 4000;

/**
 * Improves `best` in place for as long as it is asked; yields how many schedules each step took. First it orders whole books, each filling
 * the gaps that the books before it leave; then it moves single tasks as well.
 */
export function* anneal(compiled: Compiled, decoder: Decoder, best: Schedule, chance: Chance): Generator<number, void> {
  const books = listBooks(compiled);
  yield* orderBooks(compiled, decoder, best, books, chance);
  const [current, trial] = [emptySchedule(compiled), emptySchedule(compiled)];
  let [order, value] = [orderBySchedule(compiled, best.start), measure(compiled, best)];
  let bestValue = value;
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

/** Searches for the best order of whole books, each placed in the gaps that those before it leave. */
function* orderBooks(
  compiled: Compiled,
  decoder: Decoder,
  best: Schedule,
  books: readonly Int32Array[],
  chance: Chance,
): Generator<number, void> {
  if (books.length < 2) return;
  const key = new Float64Array(compiled.items.length).fill(-1);
  const firstStart = books.map((items) =>
    items.reduce((least, item) => Math.min(least, best.start[compiled.items[item]![0]!]!), never),
  );
  const goalOut = books.map((items) =>
    items.reduce((latest, item) => Math.max(latest, best.out[compiled.items[item]!.at(-1)!]!), 0),
  );
  let ranking = [...books.keys()].toSorted((a, b) => goalOut[a]! - goalOut[b]! || firstStart[a]! - firstStart[b]!);
  const trial = emptySchedule(compiled);
  const decode = (books_: readonly number[]) => {
    for (const [rank, book] of books_.entries()) for (const item of books[book]!) key[item] = rank;
    return decoder.forward(orderByKey(compiled, key), trial) < 0 ? measure(compiled, trial) : null;
  };
  let bestValue = measure(compiled, best);
  let value = decode(ranking) ?? bestValue;
  yield 1;
  const past: Objective[] = new Array(memory).fill(value);
  let quiet = 0;
  for (let move = 0; quiet < 25 * books.length; move++) {
    const changed = ranking.slice();
    const from = Math.floor(chance() * changed.length);
    const reach = 1 + Math.floor(changed.length * chance() ** 2);
    const to = Math.max(0, Math.min(changed.length - 1, from + (chance() < 0.5 ? -reach : reach)));
    if (chance() < 0.6) changed.splice(to, 0, changed.splice(from, 1)[0]!);
    else [changed[from], changed[to]] = [changed[to]!, changed[from]!];
    const trialValue = decode(changed);
    yield 1;
    quiet++;
    if (!trialValue || (compare(trialValue, value) > 0 && compare(trialValue, past[move % memory]!) > 0)) continue;
    [ranking, value] = [changed, trialValue];
    past[move % memory] = value;
    if (compare(value, bestValue) >= 0) continue;
    bestValue = value;
    copySchedule(trial, best);
    quiet = 0;
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
