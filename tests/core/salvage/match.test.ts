import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bandOf, colourDifference } from '../../../core/salvage/colour.ts';
import { labOfWords } from '../../../core/salvage/colour-words.ts';
import {
  chooseInTurn,
  type Match,
  matchTogether,
  type Repair,
  rankPieces,
  withoutPoints,
} from '../../../core/salvage/match.ts';
import type { DrawerPiece, Lab } from '../../../core/salvage/piece.ts';
import { loadSolver } from '../../../electron/engines/highs.ts';

const repair = (change: Partial<Repair> = {}): Repair => ({
  id: 'r',
  name: 'A Drover’s Reckoning',
  kind: 'book cloth',
  parts: [{ id: 'spine', name: 'spine piece', heightMm: 238, widthMm: 104, grain: 'along height', count: 1 }],
  lab: [32, 11, 16],
  measured: true,
  pattern: 'morocco',
  yearFrom: 1862,
  yearTo: 1862,
  ...change,
});
const piece = (id: string, change: Partial<DrawerPiece> = {}): DrawerPiece => ({
  id,
  name: id,
  kind: 'book cloth',
  heightMm: 260,
  widthMm: 160,
  grain: 'height',
  lab: [32, 11, 16],
  measured: true,
  pattern: 'morocco',
  yearFrom: 1862,
  yearTo: 1862,
  ...change,
});
const order = (...pieces: readonly DrawerPiece[]) => rankPieces(repair(), pieces).matches.map((match) => match.pieceId);

describe('the difference of two colours', () => {
  test('is CIEDE2000 on Lab as it is given: pairs 1, 17 and 25 of Sharma, Wu and Dalal 2005', () => {
    expect(colourDifference([50, 2.6772, -79.7751], [50, 0, -82.7485])).toBeCloseTo(2.0425, 4);
    expect(colourDifference([50, 2.5, 0], [73, 25, -18])).toBeCloseTo(27.1492, 4);
    expect(colourDifference([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387])).toBeCloseTo(1.2644, 4);
  });

  test('has a name for every size', () => {
    expect([0, 1, 2, 3.5, 5, 10, 80].map((difference) => bandOf(difference).words)).toEqual([
      'no difference to the eye',
      'told apart only side by side',
      'close',
      'plainly another shade',
      'of the same colour, no match',
      'another colour',
      'another colour',
    ]);
  });

  test('can be reckoned roughly from words, darker for “dark” and duller for “faded”', () => {
    const [light = 0] = labOfWords('green') ?? [];
    const [dark = 0] = labOfWords('Dark Green') ?? [];
    expect(dark).toBeLessThan(light);
    expect(Math.abs(labOfWords('faded red')![1])).toBeLessThan(labOfWords('red')![1]);
    expect(labOfWords('gilt edges')).toBe(null);
  });
});

describe('the pieces for a repair', () => {
  test('are only those that yield it with its grain, the others with their reason', () => {
    const { matches, misfits } = rankPieces(repair(), [
      piece('fits'),
      piece('across', { heightMm: 160, widthMm: 260, grain: 'width' }),
      piece('turned', { heightMm: 160, widthMm: 260 }),
      piece('small', { heightMm: 200 }),
      piece('leather', { kind: 'leather' }),
    ]);
    expect(matches.map((match) => match.pieceId)).toEqual(['across', 'fits']);
    expect(misfits).toEqual([
      { pieceId: 'turned', because: 'its grain runs the wrong way for the spine piece' },
      { pieceId: 'small', because: 'too small for the spine piece, 238 × 104 mm' },
    ]);
  });

  test('must be cut edge to edge: five parts round a hole fit on the area but not under the shear', () => {
    const part = (id: string, heightMm: number, widthMm: number) =>
      ({ id, name: id, heightMm, widthMm, grain: 'along height', count: 1 }) as const;
    const pinwheel = [part('a', 60, 90), part('b', 90, 60), part('c', 60, 90), part('d', 90, 60), part('e', 30, 30)];
    const found = rankPieces(repair({ parts: pinwheel }), [piece('square', { heightMm: 150, widthMm: 150 })]);
    expect(found.matches).toEqual([]);
    expect(found.misfits[0]?.because).toBe('the parts cannot all be cut from it edge to edge');
  });

  test('come nearer in pattern, colour and date first, and a small piece used up before a large one', () => {
    expect(order(piece('other', { pattern: 'diaper' }), piece('family', { pattern: 'pebble' }), piece('same'))).toEqual(
      ['same', 'family', 'other'],
    );
    expect(order(piece('far', { lab: [40, 11, 16] }), piece('near', { lab: [33, 11, 16] }))).toEqual(['near', 'far']);
    expect(order(piece('late', { yearFrom: 1895, yearTo: 1895 }), piece('of its time'))).toEqual([
      'of its time',
      'late',
    ]);
    expect(order(piece('large', { heightMm: 900, widthMm: 600 }), piece('small'))).toEqual(['small', 'large']);
    expect(order(piece('by words', { measured: false }), piece('measured'))).toEqual(['measured', 'by words']);
  });

  test('carry the reasons of their points, and where the part lies on them', () => {
    const [match] = rankPieces(repair(), [piece('p', { lab: [34, 11, 16], yearFrom: 1852, yearTo: 1852 })]).matches;
    expect(match!.reasons.map((reason) => reason.of)).toEqual(['pattern', 'colour', 'years', 'breaking']);
    expect(match!.reasons.reduce((sum, reason) => sum + reason.points, 0)).toBeCloseTo(match!.points, 1);
    expect(match!.reasons[2]?.words).toBe('10 years apart');
    expect(match!.band).toBe(bandOf(match!.difference!).words);
    expect(match!.sheet.pieces).toMatchObject([{ name: 'spine piece', rect: { heightMm: 238, widthMm: 104 } }]);
  });
});

/** The least points there can be, by trying every way of giving pieces out. */
function fewest(rows: readonly (readonly Match[])[], taken: ReadonlySet<string> = new Set()): number {
  const [first, ...rest] = rows;
  if (first === undefined) return 0;
  let least = withoutPoints + fewest(rest, taken);
  for (const match of first) {
    if (!taken.has(match.pieceId))
      least = Math.min(least, match.points + fewest(rest, new Set([...taken, match.pieceId])));
  }
  return least;
}

describe('several repairs and one drawer', () => {
  const match = (pieceId: string, points: number): Match => ({
    pieceId,
    points,
    reasons: [],
    difference: null,
    band: null,
    sheet: {
      stockId: pieceId,
      name: '',
      offcut: true,
      heightMm: 1,
      widthMm: 1,
      grain: null,
      cuts: [],
      pieces: [],
      remnants: [],
      turns: 0,
    },
  });

  test('share it with as few points as can be: 300 small cases against every way there is (seed 61)', async () => {
    const solve = await loadSolver();
    const points = fc.option(
      fc.integer({ min: 0, max: 400 }).map((tenths) => tenths / 10),
      { nil: null },
    );
    const cases = fc.sample(
      fc
        .integer({ min: 1, max: 5 })
        .chain((pieces) =>
          fc.array(fc.array(points, { minLength: pieces, maxLength: pieces }), { minLength: 1, maxLength: 4 }),
        ),
      { numRuns: 300, seed: 61 },
    );
    for (const table of cases) {
      const rows = table.map((row) =>
        row.flatMap((value, k) => (value === null ? [] : [match(`p${k}`, value)])).sort((a, b) => a.points - b.points),
      );
      const together = await matchTogether(
        rows.map((matches, k) => ({ repair: repair({ id: `r${k}` }), matches })),
        solve,
      );
      expect(together.points).toBeCloseTo(fewest(rows), 6);
      const given = together.given.flatMap(({ match: one }) => (one ? [one.pieceId] : []));
      expect(new Set(given).size).toBe(given.length);
    }
  });

  test('says who gives way to whom', async () => {
    const solve = await loadSolver();
    const { given } = await matchTogether(
      [
        { repair: repair({ id: 'a', name: 'Ferns' }), matches: [match('cloth', 2), match('other', 5)] },
        { repair: repair({ id: 'b', name: 'Hedging' }), matches: [match('cloth', 3)] },
      ],
      solve,
    );
    expect(given.map(({ match: one }) => one?.pieceId)).toEqual(['other', 'cloth']);
    expect(given[0]?.instead?.pieceId).toBe('cloth');
    expect(given[0]?.words).toContain('Hedging');
  });
});

test('repairs choose in turn what a full ranking of every piece gives them, in 60 random drawers (seed 8)', () => {
  const mm = fc.integer({ min: 30, max: 260 });
  const look = fc.record({ heightMm: mm, widthMm: mm, lab: fc.constantFrom<Lab[]>([32, 11, 16], [60, 0, 0]) });
  const drawer = fc.array(look, { maxLength: 8 });
  const wishes = fc.array(fc.tuple(mm, mm), { minLength: 1, maxLength: 5 });
  fc.assert(
    fc.property(drawer, wishes, (drawn, sizes) => {
      const pieces = drawn.map((one, index) => piece(`p${index}`, one));
      const repairs = sizes.map(([heightMm, widthMm], index) =>
        repair({ id: `r${index}`, parts: repair().parts.map((part) => ({ ...part, heightMm, widthMm })) }),
      );
      const taken = new Set<string>();
      const expected = repairs.map((one) => {
        const suited = rankPieces(one, pieces).matches.filter(({ points }) => points < withoutPoints);
        const chosen = (suited.find(({ pieceId }) => !taken.has(pieceId)) ?? suited[0])?.pieceId ?? null;
        if (chosen !== null) taken.add(chosen);
        return chosen;
      });
      expect(chooseInTurn(repairs, pieces)).toEqual(expected);
    }),
    { seed: 8, numRuns: 60 },
  );
});
