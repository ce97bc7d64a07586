import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CutProblem, planCuts } from '../../../core/cutting/plan.ts';
import type { CutPlan, CutSettings, Stock, Wanted } from '../../../core/cutting/stock.ts';
import { troublesOf } from './checker.ts';

const settings: CutSettings = { kerfMm: 0, usefulMm: 60, mostTurns: null };

function sheet(name: string, heightMm: number, widthMm: number, rest: Partial<Stock> = {}): Stock {
  return {
    id: name,
    name,
    heightMm,
    widthMm,
    grain: 'height',
    count: 50,
    costMinor: 500,
    offcut: false,
    trimMm: 0,
    ...rest,
  };
}
function offcut(name: string, heightMm: number, widthMm: number, rest: Partial<Stock> = {}): Stock {
  return sheet(name, heightMm, widthMm, { count: 1, costMinor: 0, offcut: true, ...rest });
}
function piece(
  name: string,
  heightMm: number,
  widthMm: number,
  count = 1,
  grain: Wanted['grain'] = 'along height',
): Wanted {
  return { id: name, name, heightMm, widthMm, grain, count };
}

/** Planned with a limit on how long it looks, and followed by the checker. */
function planned(problem: CutProblem, looks = Number.POSITIVE_INFINITY): CutPlan {
  let looked = 0;
  const answer = planCuts(problem, { seed: 1, shouldStop: () => ++looked > looks });
  if (!answer.ok) throw new Error(answer.refusal.sentence);
  expect(troublesOf(answer.value, problem.wanted, problem.stock, problem.settings)).toEqual([]);
  return answer.value;
}

const length = fc.integer({ min: 200, max: 4000 }).map((tenths) => tenths / 10);
const wanted = fc
  .array(
    fc.record({
      heightMm: length,
      widthMm: length,
      grain: fc.constantFrom('along height' as const, 'any' as const),
      count: fc.integer({ min: 1, max: 3 }),
      from: fc.option(fc.subarray(['s0', 's1', 's2', 's3'], { minLength: 1 }), { nil: null, freq: 4 }),
    }),
    { minLength: 1, maxLength: 7 },
  )
  .map((list) =>
    list.map(
      ({ from, ...one }, k): Wanted => ({
        ...one,
        id: `p${k}`,
        name: `piece ${k}`,
        ...(from === null ? {} : { from }),
      }),
    ),
  );
const stock = fc
  .array(
    fc.record({
      heightMm: fc.integer({ min: 200, max: 1000 }),
      widthMm: fc.integer({ min: 200, max: 700 }),
      grain: fc.constantFrom('height' as const, 'width' as const, null),
      count: fc.integer({ min: 1, max: 4 }),
      costMinor: fc.integer({ min: 0, max: 900 }),
      offcut: fc.boolean(),
      trimMm: fc.constantFrom(0, 0, 5),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map((list) =>
    list
      .map((one, k): Stock => ({ ...one, id: `s${k}`, name: `stock ${k}`, costMinor: one.offcut ? 0 : one.costMinor }))
      .sort((a, b) => Number(b.offcut) - Number(a.offcut)),
  );
const anySettings = fc.record({
  kerfMm: fc.constantFrom(0, 0, 1.5),
  usefulMm: fc.constantFrom(40, 80),
  mostTurns: fc.constantFrom(null, null, 1, 2, 3),
});

/** Cost of cutting shelf by shelf, highest first, each onto the first shelf with room; null where something is left over. Sheets in their order. */
function shelfCost(problem: CutProblem): number | null {
  const { kerfMm } = problem.settings;
  const waiting = problem.stock.flatMap((one) => Array.from({ length: one.count }, () => one));
  type Shelf = { high: number; free: number };
  const open: { stock: Stock; below: number; shelves: Shelf[] }[] = [];
  const items = problem.wanted.flatMap((one) => Array.from({ length: one.count }, () => one));
  items.sort((a, b) => b.heightMm - a.heightMm || b.widthMm - a.widthMm);
  for (const item of items) {
    const lie = (one: Stock) =>
      one.grain === 'width' && item.grain === 'along height'
        ? [item.widthMm, item.heightMm]
        : [item.heightMm, item.widthMm];
    const put = (on: (typeof open)[number]): boolean => {
      if (item.from !== undefined && !item.from.includes(on.stock.id)) return false;
      const [high = 0, wide = 0] = lie(on.stock);
      const shelf = on.shelves.find((one) => high <= one.high && wide <= one.free);
      if (shelf) {
        shelf.free -= wide + kerfMm;
        return true;
      }
      const across = on.stock.widthMm - 2 * on.stock.trimMm;
      if (high > on.below || wide > across) return false;
      on.shelves.push({ high, free: across - wide - kerfMm });
      on.below -= high + kerfMm;
      return true;
    };
    if (open.some(put)) continue;
    const at = waiting.findIndex((one) => put({ stock: one, below: one.heightMm - 2 * one.trimMm, shelves: [] }));
    if (at < 0) return null;
    const [one] = waiting.splice(at, 1);
    const begun = { stock: one!, below: one!.heightMm - 2 * one!.trimMm, shelves: [] };
    put(begun);
    open.push(begun);
  }
  return open.reduce((sum, { stock: one }) => sum + one.costMinor, 0);
}

describe('a cutting plan', () => {
  test('cuts edge to edge, turns nothing against the grain, keeps to the stock and loses no area (200 lists, seed 51)', () => {
    fc.assert(
      fc.property(wanted, stock, anySettings, (list, from, how) => {
        const plan = planned({ wanted: list, stock: from, settings: how }, 40);
        if (how.mostTurns !== null) for (const one of plan.sheets) expect(one.turns).toBeLessThanOrEqual(how.mostTurns);
      }),
      { numRuns: 200, seed: 51 },
    );
  });

  test('never costs more than first fit by height, and cuts all that it cuts (500 lists, seed 52)', () => {
    let compared = 0;
    fc.assert(
      fc.property(wanted, stock, anySettings, (list, from, how) => {
        const problem = { wanted: list, stock: from, settings: { ...how, mostTurns: null } };
        const shelf = shelfCost(problem);
        if (shelf === null) return;
        compared += 1;
        const plan = planned(problem, 25);
        expect(plan.uncut).toEqual([]);
        expect(plan.costMinor).toBeLessThanOrEqual(shelf);
      }),
      { numRuns: 500, seed: 52 },
    );
    expect(compared).toBeGreaterThan(200);
  });

  test('comes down to its bound where pieces fill the sheets without a gap', () => {
    const plan = planned({
      wanted: [piece('board', 250, 350, 8)],
      stock: [sheet('greyboard', 1000, 700)],
      settings,
    });
    expect(plan).toMatchObject({
      costMinor: 500,
      boundMinor: 500,
      areas: { stock: 700_000, pieces: 700_000, waste: 0 },
    });
    expect(plan.sheets[0]?.cuts).toHaveLength(7);
  });

  test('uses an offcut before it breaks into a sheet', () => {
    const plan = planned({
      wanted: [piece('spine piece', 240, 110)],
      stock: [sheet('cloth', 1000, 700), offcut('old side', 260, 180)],
      settings,
    });
    expect(plan.sheets.map((one) => one.name)).toEqual(['old side']);
    expect(plan.costMinor).toBe(0);
  });

  test('keeps a piece to the stock that is for it', () => {
    const plan = planned({
      wanted: [{ ...piece('blue spine', 240, 110), from: ['blue'] }, piece('lining', 240, 110)],
      stock: [offcut('red', 600, 400), sheet('blue', 1000, 700)],
      settings,
    });
    const at = (name: string) => plan.sheets.find((one) => one.pieces.some((placed) => placed.name === name))?.name;
    expect([at('blue spine'), at('lining')]).toEqual(['blue', 'red']);
  });

  test('leaves one large remnant rather than several small', () => {
    const plan = planned({ wanted: [piece('hollow', 200, 100, 2)], stock: [sheet('kraft', 1000, 700)], settings });
    const [largest] = plan.sheets[0]!.remnants;
    expect(largest!.heightMm * largest!.widthMm).toBe(1000 * 600);
  });

  test('lays the grain of a piece along the grain of the sheet, whichever way the sheet is written down', () => {
    const long = planned({ wanted: [piece('board', 300, 100)], stock: [sheet('a', 320, 120)], settings });
    const short = planned({
      wanted: [piece('board', 300, 100)],
      stock: [sheet('a', 120, 320, { grain: 'width' })],
      settings,
    });
    const against = planned({ wanted: [piece('board', 300, 100)], stock: [sheet('a', 120, 320)], settings });
    expect(long.sheets[0]?.pieces[0]?.turned).toBe(false);
    expect(short.sheets[0]?.pieces[0]?.turned).toBe(true);
    expect(against.uncut).toMatchObject([{ count: 1, because: expect.stringContaining('grain') }]);
  });

  test('says so where the grain of what it cuts is not noted', () => {
    const plan = planned({
      wanted: [piece('lining', 100, 50)],
      stock: [sheet('mull', 300, 300, { grain: null })],
      settings,
    });
    expect(plan.remarks).toEqual([expect.stringContaining('grain of mull is not noted')]);
  });

  test('takes the blade and the trim out of the sheet', () => {
    const two = { wanted: [piece('strip', 100, 50, 2)], settings: { ...settings, kerfMm: 2 } };
    expect(planned({ ...two, stock: [offcut('just', 100, 102)] }).uncut).toEqual([]);
    expect(planned({ ...two, stock: [offcut('short', 100, 101.9)] }).uncut).toHaveLength(1);
    expect(planned({ ...two, stock: [sheet('trimmed', 110, 112, { trimMm: 5 })] }).uncut).toEqual([]);
    expect(planned({ ...two, stock: [sheet('trimmed', 109, 112, { trimMm: 5 })] }).uncut).toHaveLength(1);
  });

  test('keeps to one turn of the work where that is asked', () => {
    const list = [piece('a', 300, 200, 3), piece('b', 180, 120, 5), piece('c', 90, 60, 6)];
    const plan = planned({ wanted: list, stock: [sheet('board', 1000, 700)], settings: { ...settings, mostTurns: 1 } });
    expect(plan.uncut).toEqual([]);
    for (const one of plan.sheets) expect(one.turns).toBeLessThanOrEqual(1);
  });

  test('is the same for the same seed', () => {
    const problem = {
      wanted: [piece('a', 233, 151, 4), piece('b', 180, 121, 5), piece('c', 91, 60, 7, 'any')],
      stock: [sheet('board', 640, 480), offcut('left', 300, 300)],
      settings,
    };
    expect(planned(problem, 300)).toEqual(planned(problem, 300));
  });

  test('is refused for nothing to cut, for a piece without size and for a negative blade', () => {
    const stockThere = [sheet('board', 640, 480)];
    const of = (list: readonly Wanted[], how = settings) =>
      planCuts({ wanted: list, stock: stockThere, settings: how }, { seed: 1 });
    expect(of([])).toMatchObject({ ok: false, refusal: { field: 'wanted' } });
    expect(of([piece('a', 0, 10)])).toMatchObject({ ok: false, refusal: { field: 'wanted' } });
    expect(of([piece('a', 10, 10)], { ...settings, kerfMm: -1 })).toMatchObject({
      ok: false,
      refusal: { field: 'kerfMm' },
    });
  });
});
