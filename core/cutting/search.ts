/** The search for the best filling: every rule on sorted orders, then pieces moved in the best order, then sheets exchanged for cheaper ones. */
import { type Chance, chanceFrom } from '../schedule/random.ts';
import { type Filled, type Frame, fillBest, fillShelves, fitRules, type Rules, splitRules } from './fill.ts';
import type { Item, Sheet, Source } from './layout.ts';
import { isUseful } from './sequence.ts';

export type SearchOptions = Readonly<{ seed: number; shouldStop?: () => boolean }>;

/** What a filling is judged by, in order; less is better. */
type Score = readonly number[];

function scoreOf({ sheets, left }: Filled, frame: Frame, usefulUm: number): Score {
  let cost = 0;
  let fromOffcuts = 0;
  let opened = 0;
  let largest = 0;
  for (const { source, used, free } of sheets) {
    cost += source.cost;
    opened += source.area;
    if (source.offcut) fromOffcuts += used;
    for (const part of free) {
      const area = part.height * part.width;
      if (area > largest && isUseful(part, usefulUm)) largest = area;
    }
  }
  const uncut = left.reduce((sum, index) => sum + frame.items[index]!.height * frame.items[index]!.width, 0);
  return [uncut, cost, -fromOffcuts, opened, -largest];
}

/** What the search goes by on its way: at the same cost, the nearer the emptiest sheet is to being spared, the better. */
function progressOf({ sheets }: Filled, score: Score): Score {
  const emptiest = sheets.reduce((least, { used }) => Math.min(least, used), Number.POSITIVE_INFINITY);
  return [score[0]!, score[1]!, sheets.length > 1 ? emptiest : 0, ...score.slice(2)];
}

function isLess(a: Score, b: Score): boolean {
  for (const [k, value] of a.entries()) if (value !== b[k]) return value < b[k]!;
  return false;
}

/** Tries the shelves and every rule on sorted orders, then moves pieces in the best order for as long as is worth it. */
export function search(frame: Frame, sources: readonly Source[], usefulUm: number, options: SearchOptions): Filled {
  const shouldStop = options.shouldStop ?? (() => false);
  const chance = chanceFrom(options.seed);
  const { items } = frame;
  const opening = openingOrders(sources);
  let best: Filled = { sheets: [], left: items.map((_, index) => index) };
  let bestScore = scoreOf(best, frame, usefulUm);
  let kept = { order: best.left as readonly number[], sources: opening[0]!, rules: anyRules(chance), score: bestScore };

  function look(filled: Filled): Score {
    const score = scoreOf(filled, frame, usefulUm);
    if (isLess(score, bestScore)) {
      best = filled;
      bestScore = score;
    }
    return progressOf(filled, score);
  }

  for (const order of opening) {
    look(fillShelves(frame, order, false));
    look(fillShelves(frame, order, true));
  }
  for (const order of sortedOrders(items)) {
    for (const fit of fitRules) {
      for (const split of splitRules) {
        for (const from of opening) {
          if (shouldStop()) return best;
          const score = look(fillBest(frame, order, from, { fit, split }));
          if (isLess(score, kept.score)) kept = { order, sources: from, rules: { fit, split }, score };
        }
      }
    }
  }
  const tries = Math.max(100, Math.min(3000, Math.round(100_000 / Math.max(1, items.length))));
  for (let k = 0; k < tries && !shouldStop(); k++) {
    const order = moved(kept.order, chance);
    const from = chance() < 0.25 ? openedOtherwise(kept.sources, best.sheets.length, chance) : kept.sources;
    const rules = chance() < 0.15 ? anyRules(chance) : kept.rules;
    const score = look(fillBest(frame, order, from, rules));
    if (!isLess(kept.score, score)) kept = { order, sources: from, rules, score };
  }
  return cheaper(frame, best, sources, usefulUm, chance);
}

/** Orders in which stock is opened, of sources that differ: offcuts before sheets, small or cheap ones first, and as they were given. */
function openingOrders(sources: readonly Source[]): readonly (readonly Source[])[] {
  const offcutsFirst = (a: Source, b: Source) => Number(b.offcut) - Number(a.offcut);
  const perArea = ({ cost, area }: Source) => cost / area;
  const orders = [
    sources,
    [...sources].sort((a, b) => offcutsFirst(a, b) || a.cost - b.cost || a.area - b.area),
    [...sources].sort((a, b) => offcutsFirst(a, b) || perArea(a) - perArea(b) || b.area - a.area),
    [...sources].sort((a, b) => offcutsFirst(a, b) || b.area - a.area || a.cost - b.cost),
  ];
  const seen = new Set<string>();
  return orders.filter((order) => {
    const name = order.map((source) => source.stock).join();
    if (seen.has(name)) return false;
    seen.add(name);
    return true;
  });
}

function sortedOrders(items: readonly Item[]): readonly (readonly number[])[] {
  const by = (size: (item: Item) => number) =>
    items.map((_, index) => index).sort((a, b) => size(items[b]!) - size(items[a]!) || a - b);
  return [
    by((item) => item.height),
    by((item) => item.height * item.width),
    by((item) => item.width),
    by((item) => Math.max(item.height, item.width)),
    by((item) => item.height + item.width),
  ];
}

function anyRules(chance: Chance): Rules {
  return {
    fit: fitRules[Math.floor(chance() * 3)]!,
    split: splitRules[Math.floor(chance() * splitRules.length)]!,
  };
}

/** The order with one to three pieces taken out and put in elsewhere. */
function moved(order: readonly number[], chance: Chance): readonly number[] {
  const next = [...order];
  const moves = 1 + Math.floor(chance() * 3);
  for (let k = 0; k < moves && next.length > 1; k++) {
    const [item] = next.splice(Math.floor(chance() * next.length), 1);
    next.splice(Math.floor(chance() * (next.length + 1)), 0, item!);
  }
  return next;
}

/** One of the sheets that are opened early takes its turn with one of another kind. */
function openedOtherwise(sources: readonly Source[], inUse: number, chance: Chance): readonly Source[] {
  const a = Math.floor(chance() * Math.min(sources.length, inUse + 1));
  const others = sources.map((_, index) => index).filter((index) => sources[index]!.stock !== sources[a]!.stock);
  if (others.length === 0) return sources;
  const kinds = [...new Set(others.map((index) => sources[index]!.stock))];
  const kind = kinds[Math.floor(chance() * kinds.length)];
  const b = others.find((index) => index > a && sources[index]!.stock === kind) ?? others[0]!;
  const next = [...sources];
  [next[a], next[b]] = [next[b]!, next[a]!];
  return next;
}

/** Sheet by sheet: where its pieces all go onto a cheaper or a smaller one that is not in use, they do. */
function cheaper(frame: Frame, best: Filled, sources: readonly Source[], usefulUm: number, chance: Chance): Filled {
  let filled = best;
  for (let at = 0; at < filled.sheets.length; at++) {
    const { root, source } = filled.sheets[at]!;
    const pieces = itemsOn(root);
    const free = [...sources];
    for (const sheet of filled.sheets) free.splice(free.indexOf(sheet.source), 1);
    const others = [...new Set(free)]
      .filter((one) => one.cost < source.cost || (one.cost === source.cost && one.area < source.area))
      .sort((a, b) => a.cost - b.cost || a.area - b.area);
    for (const other of others) {
      const small = { ...frame, items: pieces.map((index) => frame.items[index]!) };
      const sheet = fitAll(small, other, chance);
      if (sheet === null) continue;
      rename(sheet.root, pieces);
      const next = { ...filled, sheets: filled.sheets.with(at, sheet) };
      if (!isLess(scoreOf(next, frame, usefulUm), scoreOf(filled, frame, usefulUm))) continue;
      filled = next;
      break;
    }
  }
  return filled;
}

/** All of them on one sheet, if some order and rule manages it. */
function fitAll(frame: Frame, source: Source, chance: Chance): Sheet | null {
  for (let k = 0; k < 60; k++) {
    const orders = sortedOrders(frame.items);
    const order = moved(orders[k % orders.length]!, chance);
    const { sheets, left } = fillBest(frame, order, [source], anyRules(chance));
    if (left.length === 0) return sheets[0] ?? null;
  }
  return null;
}

function itemsOn(part: { item: number; before: Sheet['root'] | null; after: Sheet['root'] | null }): number[] {
  if (part.item >= 0) return [part.item];
  return [...(part.before ? itemsOn(part.before) : []), ...(part.after ? itemsOn(part.after) : [])];
}

function rename(part: Sheet['root'], names: readonly number[]): void {
  if (part.item >= 0) part.item = names[part.item]!;
  if (part.before) rename(part.before, names);
  if (part.after) rename(part.after, names);
}
