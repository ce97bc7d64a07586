/**
 * Sheets being filled: each is a tree of parts, and a piece goes into the corner of a free part by at most two cuts through it, so that
 * whatever comes of it can be cut on a board shear. Lengths are whole micrometres.
 */

export type Part = {
  x: number;
  y: number;
  height: number;
  width: number;
  /** Changes of direction among the cuts that made this part; 0 before the first cut. */
  stages: number;
  direction: 'across' | 'down' | null;
  /** Index of the item that lies here exactly; -1 where none does. */
  item: number;
  turned: boolean;
  before: Part | null;
  after: Part | null;
  /** How the part was divided; null while it was not. */
  cut: 'across' | 'down' | null;
};

/** How a piece may lie on a sheet. */
export type Lie = Readonly<{ height: number; width: number; turned: boolean }>;

export type Item = Readonly<{
  wanted: number;
  height: number;
  width: number;
  any: boolean;
  /** Indexes of the stock it may come from; null for every stock. */
  from: ReadonlySet<number> | null;
}>;

export type Source = Readonly<{
  /** Index of the stock; one source for each sheet there is. */
  stock: number;
  height: number;
  width: number;
  across: boolean;
  cost: number;
  offcut: boolean;
  area: number;
}>;

export type Sheet = { source: Source; root: Part; free: Part[]; used: number };

export function openSheet(source: Source): Sheet {
  const root = part(0, 0, source.height, source.width, 0, null);
  return { source, root, free: [root], used: 0 };
}

const noLie: readonly Lie[] = [];

/** The ways an item may lie on a sheet from this source: grain along grain, or either way where it does not matter. */
export function liesOn(item: Item, source: Source): readonly Lie[] {
  if (item.from !== null && !item.from.has(source.stock)) return noLie;
  const upright = { height: item.height, width: item.width, turned: false };
  const turned = { height: item.width, width: item.height, turned: true };
  if (item.any && item.height !== item.width) return [upright, turned];
  return [source.across ? turned : upright];
}

/** True where the lie can be cut out of the free part, `first` being the direction of its first cut, within the stages there may be. */
export function fits(free: Part, lie: Lie, first: 'across' | 'down', mostStages: number): boolean {
  const { height, width } = free;
  if (lie.height > height || lie.width > width) return false;
  if (mostStages === Number.POSITIVE_INFINITY) return true;
  let { stages, direction } = free;
  for (const cut of [first, first === 'across' ? 'down' : 'across'] as const) {
    if (cut === 'across' ? lie.height === height : lie.width === width) continue;
    if (cut !== direction) stages += 1;
    direction = cut;
  }
  return stages <= mostStages;
}

/** Cuts the item out of the corner of a free part of the sheet; what is left of the part is free in turn. */
export function place(
  sheet: Sheet,
  free: Part,
  index: number,
  lie: Lie,
  first: 'across' | 'down',
  kerf: number,
): Readonly<{ item: Part; beside: Part | null; below: Part | null }> {
  sheet.free.splice(sheet.free.indexOf(free), 1);
  sheet.used += lie.height * lie.width;
  let at = free;
  let beside: Part | null = null;
  let below: Part | null = null;
  for (const cut of [first, first === 'across' ? 'down' : 'across'] as const) {
    const size = cut === 'across' ? lie.height : lie.width;
    if (size === (cut === 'across' ? at.height : at.width)) continue;
    divide(at, cut, size, kerf);
    if (at.after !== null) {
      sheet.free.push(at.after);
      if (cut === 'across') below = at.after;
      else beside = at.after;
    }
    at = at.before!;
  }
  at.item = index;
  at.turned = lie.turned;
  return { item: at, beside, below };
}

/** Cuts a part in two; nothing is left after the blade where the rest is no wider than it. */
function divide(whole: Part, cut: 'across' | 'down', size: number, kerf: number): void {
  const stages = whole.stages + (whole.direction === cut ? 0 : 1);
  const { x, y, height, width } = whole;
  whole.cut = cut;
  if (cut === 'across') {
    whole.before = part(x, y, size, width, stages, cut);
    const rest = height - size - kerf;
    if (rest > 0) whole.after = part(x, y + size + kerf, rest, width, stages, cut);
  } else {
    whole.before = part(x, y, height, size, stages, cut);
    const rest = width - size - kerf;
    if (rest > 0) whole.after = part(x + size + kerf, y, height, rest, stages, cut);
  }
}

function part(x: number, y: number, height: number, width: number, stages: number, direction: Part['direction']): Part {
  return { x, y, height, width, stages, direction, item: -1, turned: false, before: null, after: null, cut: null };
}
