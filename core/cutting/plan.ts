/**
 * Cutting a list of pieces out of what there is: guillotine cuts only, grain along grain. All is cut if it can be; then at least cost,
 * offcuts costing little or nothing; of plans that cost the same the one that uses up more of the offcuts, then the one that opens less,
 * then the one that leaves the largest remnant. Many ways of filling are tried (fill.ts) and the best is bettered by moving pieces in the
 * order; shelf by height is always among them, so that no plan is worse than that.
 */
import { ok, type Result, refuse } from '../result.ts';
import { costBound } from './bound.ts';
import type { Filled, Frame } from './fill.ts';
import { type Item, liesOn, type Source } from './layout.ts';
import { type SearchOptions, search } from './search.ts';
import { sequence } from './sequence.ts';
import type { CutPlan, CutSettings, Stock, Wanted } from './stock.ts';

export type CutProblem = Readonly<{ wanted: readonly Wanted[]; stock: readonly Stock[]; settings: CutSettings }>;

const um = (millimetres: number) => Math.round(millimetres * 1000);

/** Plans the cuts. Refuses sizes that are none; what fits nowhere is named in the plan. */
export function planCuts(problem: CutProblem, options: SearchOptions): Result<CutPlan> {
  const refused = check(problem);
  if (refused !== null) return refused;
  const { wanted, stock, settings } = problem;
  const sources = sourcesOf(stock, um(settings.kerfMm));
  const every = wanted.flatMap((piece, index) =>
    Array.from(
      { length: piece.count },
      (): Item => ({
        wanted: index,
        height: um(piece.heightMm),
        width: um(piece.widthMm),
        any: piece.grain === 'any',
        from: fromOf(piece, stock),
      }),
    ),
  );
  const items = every.filter((item) => sources.some((source) => fitsSource(item, source)));
  const frame: Frame = {
    items,
    kerf: um(settings.kerfMm),
    mostStages: settings.mostTurns === null ? Number.POSITIVE_INFINITY : settings.mostTurns + 1,
  };
  const best = search(frame, sources, um(settings.usefulMm), options);
  return ok(planOf(problem, every, items, best));
}

function check({ wanted, stock, settings }: CutProblem): Result<never> | null {
  for (const piece of wanted) {
    if (!(piece.heightMm > 0 && piece.widthMm > 0)) return refuse(`“${piece.name}” has no size.`, 'wanted');
    if (!Number.isInteger(piece.count) || piece.count < 0)
      return refuse(`“${piece.name}” needs a whole number of copies.`, 'wanted');
  }
  const pieces = wanted.reduce((sum, piece) => sum + piece.count, 0);
  if (pieces === 0) return refuse('There is nothing to cut. Add a piece first.', 'wanted');
  if (pieces > 2000) return refuse('More than 2,000 pieces are not planned at once; cut them in two lots.', 'wanted');
  for (const one of stock) {
    if (!(one.heightMm > 0 && one.widthMm > 0)) return refuse(`“${one.name}” has no size.`, 'stock');
  }
  if (!(settings.kerfMm >= 0 && settings.kerfMm <= 20)) return refuse('The blade takes between 0 and 20 mm.', 'kerfMm');
  if (settings.mostTurns !== null && settings.mostTurns < 1)
    return refuse('Pieces cut on four sides need at least one turn of the work.', 'mostTurns');
  return null;
}

/** One source for each sheet that could be needed, trimmed. */
function sourcesOf(stock: readonly Stock[], kerf: number): readonly Source[] {
  return stock.flatMap((one, index) => {
    const height = um(one.heightMm) - 2 * um(one.trimMm);
    const width = um(one.widthMm) - 2 * um(one.trimMm);
    if (height <= 0 || width <= 0) return [];
    const source: Source = {
      stock: index,
      height,
      width,
      across: one.grain === 'width',
      cost: one.costMinor,
      offcut: one.offcut,
      area: (height + kerf) * (width + kerf),
    };
    return Array.from({ length: Math.min(one.count, 2000) }, () => source);
  });
}

function fromOf({ from }: Wanted, stock: readonly Stock[]): ReadonlySet<number> | null {
  if (from === undefined) return null;
  const ids = new Set(from);
  return new Set(stock.flatMap(({ id }, index) => (ids.has(id) ? [index] : [])));
}

function fitsSource(item: Item, source: Source): boolean {
  return liesOn(item, source).some((lie) => lie.height <= source.height && lie.width <= source.width);
}

function planOf(
  { wanted, stock, settings }: CutProblem,
  every: readonly Item[],
  items: readonly Item[],
  filled: Filled,
): CutPlan {
  const done = filled.sheets.map((sheet) =>
    sequence(sheet, stock[sheet.source.stock]!, (item) => wanted[items[item]!.wanted]!, um(settings.usefulMm)),
  );
  const areas = { stock: 0, pieces: 0, remnants: 0, waste: 0 };
  for (const { sheet, piecesArea, remnantsArea } of done) {
    areas.stock += um(sheet.heightMm) * um(sheet.widthMm);
    areas.pieces += piecesArea;
    areas.remnants += remnantsArea;
  }
  areas.waste = areas.stock - areas.pieces - areas.remnants;
  const squareMm = (squareUm: number) => squareUm / 1e6;
  const nowhere = new Map<number, number>();
  for (const item of every) if (!items.includes(item)) nowhere.set(item.wanted, (nowhere.get(item.wanted) ?? 0) + 1);
  const noRoom = new Map<number, number>();
  for (const index of filled.left) noRoom.set(items[index]!.wanted, (noRoom.get(items[index]!.wanted) ?? 0) + 1);
  const uncut = [
    ...[...nowhere].map(([index, count]) =>
      sayUncut(wanted[index]!, count, 'no stock for it is large enough with its grain so'),
    ),
    ...[...noRoom].map(([index, count]) => sayUncut(wanted[index]!, count, 'the stock there is has no room left')),
  ];
  // Stock that none of the pieces may come from does not lower what they cost at least.
  const usable = sourcesOf(stock, um(settings.kerfMm)).filter((source) =>
    items.some((item) => fitsSource(item, source)),
  );
  const sheets = done.map(({ sheet }) => sheet);
  const ungrained = [...new Set(sheets.filter((sheet) => sheet.grain === null).map((sheet) => sheet.name))];
  return {
    sheets,
    uncut,
    costMinor: filled.sheets.reduce((sum, sheet) => sum + sheet.source.cost, 0),
    boundMinor: costBound(items, filled.left, usable, um(settings.kerfMm)),
    areas: {
      stock: squareMm(areas.stock),
      pieces: squareMm(areas.pieces),
      remnants: squareMm(areas.remnants),
      waste: squareMm(areas.waste),
    },
    remarks: ungrained.map(
      (name) => `The grain of ${name} is not noted. Find it before cutting; here it is taken to run along the height.`,
    ),
  };
}

function sayUncut(wanted: Wanted, count: number, because: string): CutPlan['uncut'][number] {
  return { wantedId: wanted.id, name: wanted.name, count, because };
}
