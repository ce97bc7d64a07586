/** What the stock must cost at least: the cheapest choice of sheets whose area holds the pieces', each grown by the blade's width. */
import type { Item, Source } from './layout.ts';

/** Of the items that are cut. Sheets are whole; a share of a sheet counts only where the search would take too long. */
export function costBound(
  items: readonly Item[],
  left: readonly number[],
  sources: readonly Source[],
  kerf: number,
): number {
  const uncut = new Set(left);
  const needed = items.reduce(
    (sum, item, index) => (uncut.has(index) ? sum : sum + (item.height + kerf) * (item.width + kerf)),
    0,
  );
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
