/** What the stock must cost at least: the cheapest choice of sheets whose area holds the pieces', each grown by the blade's width. */
import type { Item, Source } from './layout.ts';

/**
 * Of the items that are cut. Items that may come from much of the stock tie together what would otherwise stand apart, so the bound is
 * also taken without them, and the best of these holds: fewer items never cost more.
 */
export function costBound(
  items: readonly Item[],
  left: readonly number[],
  sources: readonly Source[],
  kerf: number,
): number {
  const uncut = new Set(left);
  const cut = items.filter((_, index) => !uncut.has(index));
  const choices = (item: Item) => item.from?.size ?? sources.length;
  const widths = new Set(cut.map(choices));
  return Math.max(
    0,
    ...[...widths].map((width) =>
      boundOf(
        cut.filter((item) => choices(item) <= width),
        sources,
        kerf,
      ),
    ),
  );
}

/** Items that share no stock with others are bounded on their own, and the bounds added. */
function boundOf(cut: readonly Item[], sources: readonly Source[], kerf: number): number {
  const groupOf = groupsOfStock(cut, sources);
  const byGroup = Map.groupBy(cut, (item) => groupOf(item.from?.values().next().value ?? sources[0]?.stock ?? 0));
  let sum = 0;
  for (const [group, members] of byGroup) {
    const needed = members.reduce((area, item) => area + (item.height + kerf) * (item.width + kerf), 0);
    sum += cheapest(
      needed,
      sources.filter(({ stock }) => groupOf(stock) === group),
    );
  }
  return sum;
}

/** Stocks from which one and the same item may come stand in one group, named by one of them. */
function groupsOfStock(items: readonly Item[], sources: readonly Source[]): (stock: number) => number {
  const parents = new Map<number, number>(sources.map(({ stock }) => [stock, stock]));
  const groupOf = (stock: number): number => {
    let at = stock;
    for (let parent = parents.get(at); parent !== undefined && parent !== at; parent = parents.get(at)) at = parent;
    return at;
  };
  const everyStock = [...parents.keys()];
  for (const { from } of items) {
    const [first, ...others] = from === null ? everyStock : [...from];
    if (first === undefined) continue;
    for (const other of others) parents.set(groupOf(other), groupOf(first));
  }
  return groupOf;
}

/** The least cost of sheets of this area. Sheets are whole; a share of one counts only where the search would take too long. */
function cheapest(needed: number, sources: readonly Source[]): number {
  const kinds = new Map<string, { cost: number; area: number; count: number }>();
  for (const { cost, area } of sources) {
    const name = `${cost}/${area}`;
    const kind = kinds.get(name) ?? { cost, area, count: 0 };
    kind.count += 1;
    kinds.set(name, kind);
  }
  const byWorth = [...kinds.values()].sort((a, b) => a.cost / a.area - b.cost / b.area);
  let best = Number.POSITIVE_INFINITY;
  let looks = 0;
  const atLeast = (from: number, area: number) => {
    let rest = area;
    let cost = 0;
    for (let k = from; k < byWorth.length && rest > 0; k++) {
      const kind = byWorth[k]!;
      const share = Math.min(rest, kind.area * kind.count);
      cost += (share / kind.area) * kind.cost;
      rest -= share;
    }
    return rest > 0 ? Number.POSITIVE_INFINITY : cost;
  };
  function choose(from: number, area: number, cost: number): void {
    if (area <= 0) {
      best = Math.min(best, cost);
      return;
    }
    if (from === byWorth.length || ++looks > 20_000 || cost + atLeast(from, area) >= best - 1e-9) return;
    const kind = byWorth[from]!;
    for (let n = Math.min(kind.count, Math.ceil(area / kind.area)); n >= 0; n--) {
      choose(from + 1, area - n * kind.area, cost + n * kind.cost);
    }
  }
  choose(0, needed, 0);
  const share = atLeast(0, needed);
  if (!Number.isFinite(share)) return 0;
  return looks > 20_000 ? Math.ceil(share - 1e-9) : best;
}
