/**
 * Ways of filling sheets one piece after another: shelf by height, first fit (Coffman, Garey, Johnson and Tarjan 1980), and best fit into
 * the free part under several rules of fit and of dividing what is left (after Jylänki, “A Thousand Ways to Pack the Bin”, 2010).
 */
import { fits, type Item, type Lie, liesOn, openSheet, type Part, place, type Sheet, type Source } from './layout.ts';

export type Filled = Readonly<{ sheets: readonly Sheet[]; left: readonly number[] }>;

export type Frame = Readonly<{ items: readonly Item[]; kerf: number; mostStages: number }>;

/** Which free part is best: least area left, least on the shorter or the longer side, or the first that fits. */
export const fitRules = ['area', 'short side', 'long side', 'first'] as const;
/** Which way the first cut goes: so that the larger rest is as large as can be, as small, always across, always down, or by the shorter rest. */
export const splitRules = ['large rest', 'even rest', 'across', 'down', 'short rest'] as const;
export type Rules = Readonly<{ fit: (typeof fitRules)[number]; split: (typeof splitRules)[number] }>;

/** Puts the items in this order into the sources, opened in their order when nothing open has room. */
export function fillBest(
  frame: Frame,
  order: readonly number[],
  sources: readonly Source[],
  { fit, split }: Rules,
): Filled {
  const { items, kerf, mostStages } = frame;
  const sheets: Sheet[] = [];
  const waiting = [...sources];
  const left: number[] = [];
  for (const index of order) {
    const item = items[index]!;
    let found: { sheet: Sheet; free: Part; lie: Lie; first: 'across' | 'down' } | null = null;
    let best = Number.POSITIVE_INFINITY;
    for (const sheet of sheets) {
      const lies = liesOn(item, sheet.source);
      for (const free of sheet.free) {
        for (const lie of lies) {
          if (lie.height > free.height || lie.width > free.width) continue;
          const score = scoreOf(fit, free, lie);
          if (score >= best) continue;
          const first = directionOf(split, free, lie, mostStages);
          if (first === null) continue;
          best = score;
          found = { sheet, free, lie, first };
        }
        if (found !== null && fit === 'first') break;
      }
      if (found !== null && fit === 'first') break;
    }
    if (found === null) found = openFor(item, waiting, sheets, split, mostStages);
    if (found === null) left.push(index);
    else place(found.sheet, found.free, index, found.lie, found.first, kerf);
  }
  return { sheets, left };
}

function openFor(
  item: Item,
  waiting: Source[],
  sheets: Sheet[],
  split: Rules['split'],
  mostStages: number,
): { sheet: Sheet; free: Part; lie: Lie; first: 'across' | 'down' } | null {
  for (const [at, source] of waiting.entries()) {
    for (const lie of liesOn(item, source)) {
      if (lie.height > source.height || lie.width > source.width) continue;
      const sheet = openSheet(source);
      const first = directionOf(split, sheet.root, lie, mostStages);
      if (first === null) continue;
      waiting.splice(at, 1);
      sheets.push(sheet);
      return { sheet, free: sheet.root, lie, first };
    }
  }
  return null;
}

function scoreOf(fit: Rules['fit'], free: Part, lie: Lie): number {
  const high = free.height - lie.height;
  const wide = free.width - lie.width;
  if (fit === 'area') return free.height * free.width - lie.height * lie.width;
  if (fit === 'short side') return Math.min(high, wide);
  if (fit === 'long side') return Math.max(high, wide);
  return 0;
}

function directionOf(split: Rules['split'], free: Part, lie: Lie, mostStages: number): 'across' | 'down' | null {
  const high = free.height - lie.height;
  const wide = free.width - lie.width;
  // Cut across first, the part below is as wide as the whole; cut down first, the part beside is as high.
  const below = high * free.width;
  const beside = wide * free.height;
  let first: 'across' | 'down';
  if (split === 'across' || split === 'down') first = split;
  else if (split === 'large rest') first = below >= beside ? 'across' : 'down';
  else if (split === 'even rest') first = below >= beside ? 'down' : 'across';
  else first = high <= wide ? 'across' : 'down';
  if (fits(free, lie, first, mostStages)) return first;
  const other = first === 'across' ? 'down' : 'across';
  return fits(free, lie, other, mostStages) ? other : null;
}

/**
 * Shelves by falling height: an item goes onto the first shelf with room, else begins a shelf on the first sheet with room, else on a new
 * sheet. With `sheetBySheet`, a sheet's shelves and its free rest are tried before the next sheet's.
 */
export function fillShelves(frame: Frame, sources: readonly Source[], sheetBySheet: boolean): Filled {
  const { items, kerf, mostStages } = frame;
  const order = items.map((_, index) => index);
  order.sort((a, b) => items[b]!.height - items[a]!.height || items[b]!.width - items[a]!.width || a - b);
  const sheets: Sheet[] = [];
  const shelves = new Map<Sheet, Part[]>();
  const rests = new Map<Sheet, Part | null>();
  const waiting = [...sources];
  const left: number[] = [];

  function ontoShelf(sheet: Sheet, index: number): boolean {
    const [lie] = liesOn(items[index]!, sheet.source);
    if (lie === undefined) return false;
    const row = shelves.get(sheet)!;
    const at = row.findIndex((free) => fits(free, lie, 'down', mostStages));
    if (at < 0) return false;
    const { beside } = place(sheet, row[at]!, index, lie, 'down', kerf);
    if (beside === null) row.splice(at, 1);
    else row[at] = beside;
    return true;
  }
  function newShelf(sheet: Sheet, index: number): boolean {
    const [lie] = liesOn(items[index]!, sheet.source);
    if (lie === undefined) return false;
    const rest = rests.get(sheet);
    if (!rest || !fits(rest, lie, 'across', mostStages)) return false;
    const { beside, below } = place(sheet, rest, index, lie, 'across', kerf);
    if (beside !== null) shelves.get(sheet)!.push(beside);
    rests.set(sheet, below);
    return true;
  }
  function newSheet(index: number): boolean {
    for (const [at, source] of waiting.entries()) {
      const sheet = openSheet(source);
      shelves.set(sheet, []);
      rests.set(sheet, sheet.root);
      if (!newShelf(sheet, index)) continue;
      waiting.splice(at, 1);
      sheets.push(sheet);
      return true;
    }
    return false;
  }
  for (const index of order) {
    const onto = (sheet: Sheet) => ontoShelf(sheet, index);
    const begin = (sheet: Sheet) => newShelf(sheet, index);
    const there = sheetBySheet
      ? sheets.some((sheet) => onto(sheet) || begin(sheet))
      : sheets.some(onto) || sheets.some(begin);
    if (!there && !newSheet(index)) left.push(index);
  }
  return { sheets, left };
}
