import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Result } from '../../../core/result.ts';
import { swellRange } from '../../../core/trade/back.ts';
import {
  bandsForBook,
  economyBindingAllowed,
  endpaperStations,
  leaFromMetric,
  leafAttachment,
  leavesPerOversewnSection,
  linenThread,
  sectionsForPages,
  sewingStations,
  stitchesPerSection,
  tapeLength,
  tapesForHeight,
  threadForSections,
  threadLength,
} from '../../../core/trade/sewing.ts';
import { mmPerInch } from '../../../core/units/lengths.ts';

const seed = 20_261_125;
const inch = mmPerInch;

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}

describe('supports and stations', () => {
  test.each([
    [8, 3],
    [12, 4],
  ])('a book of %d in is sewn on %d tapes (Bailey 1916, spec. 20)', (inches, tapes) => {
    expect(must(tapesForHeight(inches * inch))).toBe(tapes);
  });

  test.each([
    ['an ordinary book', 230, 35, 5],
    ['a large thinnish folio', 400, 25, 6],
    ['a small thick book', 120, 45, 4],
  ])('%s has its bands (Cockerell 1901, ch. VII)', (_, heightMm, thicknessMm, bands) => {
    expect(must(bandsForBook({ heightMm, thicknessMm }))).toBe(bands);
  });

  test('five bands and two kettles are seven stations', () => {
    expect(must(sewingStations(230, 5, 'cords')).stations).toHaveLength(7);
  });

  test('the kettles lie 1/4 in from each end (Cockerell 1901)', () => {
    const { stations } = must(sewingStations(230, 5, 'cords'));
    expect(stations.at(0)).toEqual({ fromHeadMm: inch / 4, hole: 'kettle' });
    expect(stations.at(-1)).toEqual({ fromHeadMm: 230 - inch / 4, hole: 'kettle' });
  });

  test('endpaper stations from one end are 0.1875, 0.375 and 0.75 in (Indiana University, Book Repair Manual, steps 3/16, 3/16, 3/8 in)', () => {
    const stations = must(endpaperStations(9 * inch));
    expect(stations.slice(0, 3).map((at) => at / inch)).toEqual(
      [0.1875, 0.375, 0.75].map((at) => expect.closeTo(at, 12)),
    );
    expect(stations.slice(-3).map((at) => 9 - at / inch)).toEqual(
      [0.75, 0.375, 0.1875].map((at) => expect.closeTo(at, 12)),
    );
  });

  test('the pairs between lie 2 to 3 in apart and 5/16 to 3/8 in wide on ordinary books (Indiana University, Book Repair Manual)', () => {
    for (let inches = 6; inches <= 16; inches += 0.25) {
      const stations = must(endpaperStations(inches * inch)).map((at) => at / inch);
      const pairs = stations.slice(3, -3);
      const middles = pairs.filter((_, place) => place % 2 === 0).map((at) => at + 3 / 16);
      const places = [0.75, ...middles, inches - 0.75];
      for (const [index, at] of places.entries())
        if (index > 0) expect(at - (places[index - 1] ?? 0)).toBeGreaterThanOrEqual(1.9);
      for (const [index, at] of places.entries())
        if (index > 0) expect(at - (places[index - 1] ?? 0)).toBeLessThanOrEqual(3.2);
      for (let at = 0; at < pairs.length; at += 2)
        expect((pairs[at + 1] ?? 0) - (pairs[at] ?? 0)).toBeCloseTo(3 / 8, 9);
    }
  });

  test(`stations go up from head to tail, the same from both ends, seed ${seed}`, () => {
    fc.assert(
      fc.property(
        fc.double({ min: 120, max: 500, noNaN: true }),
        fc.integer({ min: 1, max: 5 }),
        fc.constantFrom('tapes' as const, 'cords' as const),
        (height, supports, support) => {
          const at = must(sewingStations(height, supports, support)).stations.map((station) => station.fromHeadMm);
          for (const [index, mm] of at.entries()) {
            if (index > 0) expect(mm).toBeGreaterThan(at[index - 1] ?? 0);
            expect(mm + (at.at(-1 - index) ?? 0)).toBeCloseTo(height, 6);
          }
        },
      ),
      { seed },
    );
  });

  test('too many tapes for a small book are refused', () => {
    expect(sewingStations(60, 5, 'tapes').ok).toBe(false);
  });

  test.each([
    ['a reading book', 1.25],
    ['a book of reference', 2],
  ] as const)(
    'a tape lies on each endpaper of %s by %d in at least (Bailey 1916, spec. 21; reference books, 1 and 6)',
    (use, inches) => {
      const { glued, cut } = must(tapeLength(40, use));
      expect((glued - 40) / 2 / inch).toBeCloseTo(inches, 12);
      expect(cut).toBeGreaterThan(glued);
      expect(tapeLength(0, use).ok).toBe(false);
    },
  );

  test('two on takes half the thread and swells half as much, but for the first and last few sections (Cockerell 1901)', () => {
    const sewn = { heightMm: 200, sectionThicknessMm: 1, supports: 5, sections: 400 };
    const [all, two] = [
      must(threadLength({ ...sewn, sewn: 'all along' })),
      must(threadLength({ ...sewn, sewn: 'two on' })),
    ];
    expect(two.metres / all.metres).toBeCloseTo(0.5, 1);
    const [swell, less] = [must(swellRange(400, 0.5, 'all along')), must(swellRange(400, 0.5, 'two on'))];
    expect(less.threads).toBe(4 + (400 - 4) / 2);
    expect(less.toMm / swell.toMm).toBeCloseTo(0.5, 1);
  });

  test('five bands take six stitches a section all along and three two on (Cockerell 1901)', () => {
    expect(stitchesPerSection(5, 'all along')).toBe(6);
    expect(stitchesPerSection(5, 'two on')).toBe(3);
  });
});

describe('sections', () => {
  test('150 pages in sixteens are 10 sections and 10 blanks', () => {
    expect(must(sectionsForPages(150, 4))).toEqual({ sections: 10, blanks: 10, pages: 160 });
  });

  test.each([
    [0.004, 13],
    [0.005, 11],
  ])('paper of %d in is oversewn %d leaves at a time (Roberts & Etherington 1982, 0.055 in)', (caliper, leaves) => {
    expect(must(leavesPerOversewnSection(caliper * inch, 'normal'))).toBe(leaves);
  });

  test('bulky paper may make 0.065 in (Roberts & Etherington 1982)', () => {
    expect(must(leavesPerOversewnSection(0.005 * inch, 'bulky'))).toBe(13);
  });
});

describe('thread', () => {
  test.each([
    ['10 single', 10, 1, 3000],
    ['10/3', 10, 3, 1000],
  ])('%s runs the yards to a pound of its definition (dasbookbinding.com, 2019)', (_, lea, plies, yards) => {
    expect(must(linenThread(lea, plies)).yardsPerPound).toBe(yards);
  });

  test.each([
    [12, 3, 2419, 413.4, 0.77],
    [16, 3, 3225, 310.0, 0.66],
    [18, 2, 5443, 183.7, 0.51],
    [18, 3, 3629, 275.6, 0.62],
    [18, 5, 2177, 459.3, 0.81],
    [25, 3, 5040, 198.4, 0.53],
    [30, 3, 6048, 165.4, 0.48],
    [40, 3, 8064, 124.0, 0.42],
  ])(
    '%d/%d runs %d m/kg and %d tex (300 yd a pound for each lea), about %d mm thick',
    (lea, plies, metresPerKg, tex, diameter) => {
      const thread = must(linenThread(lea, plies));
      expect(Math.abs(thread.metresPerKg - metresPerKg)).toBeLessThan(1.5);
      expect(thread.tex).toBeCloseTo(tex, 0);
      expect(Math.abs(thread.tex - tex)).toBeLessThanOrEqual(0.1);
      expect(Math.abs(thread.diameterMm - diameter)).toBeLessThan(0.015);
    },
  );

  test('15.1 metric is 25 lea; a published table has 25 metric as 15.1 lea, and our answer differs and says so', () => {
    const asked = must(leaFromMetric(15.12));
    expect(asked.lea).toBeCloseTo(25, 1);
    expect(must(leaFromMetric(25)).lea).not.toBeCloseTo(15.1, 0);
    expect(must(leaFromMetric(1)).lea).toBeCloseTo(1.6535, 4);
    expect(asked.remarks.join(' ')).toMatch(/wrong way round/);
  });

  test('18/2 has two thirds the mass a metre of 18/3, not two thirds of its thickness as a shop page says', () => {
    const two = must(linenThread(18, 2));
    const three = must(linenThread(18, 3));
    expect(two.tex / three.tex).toBeCloseTo(2 / 3, 12);
    expect(two.diameterMm / three.diameterMm).toBeCloseTo(0.816, 3);
  });

  test('ordinary sections begin with 25/3 (J. Peachey 2019), many thin ones with a thinner, few thick ones with a thicker (Cockerell 1901)', () => {
    const ordinary = must(threadForSections(20, 1.5));
    expect(ordinary).toEqual({ lea: 25, plies: 3 });
    const thin = must(threadForSections(40, 0.8));
    const thick = must(threadForSections(6, 3));
    expect(must(linenThread(thin.lea, thin.plies)).tex).toBeLessThan(198);
    expect(must(linenThread(thick.lea, thick.plies)).tex).toBeGreaterThan(199);
  });

  test(`more sections, a taller book or all along instead of two on never take less thread, seed ${seed}`, () => {
    const book = fc.record({
      heightMm: fc.double({ min: 90, max: 400, noNaN: true }),
      sections: fc.integer({ min: 1, max: 80 }),
      sectionThicknessMm: fc.double({ min: 0.5, max: 4, noNaN: true }),
      supports: fc.integer({ min: 0, max: 6 }),
    });
    fc.assert(
      fc.property(book, (one) => {
        const metres = (change: Partial<typeof one>, sewn: 'all along' | 'two on' = 'all along') =>
          must(threadLength({ ...one, ...change, sewn })).metres;
        expect(metres({ sections: one.sections + 1 })).toBeGreaterThan(metres({}));
        expect(metres({ heightMm: one.heightMm + 1 })).toBeGreaterThan(metres({}));
        expect(metres({}, 'two on')).toBeLessThanOrEqual(metres({}));
      }),
      { seed },
    );
  });
});

describe('how leaves are held (Merrill-Oldham & Parisi 2008, decision tree 2)', () => {
  const book = { thicknessMm: 30, sewn: 'no' as const, bindingMarginMm: 12, mustLieFlat: false };
  test.each([
    ['exactly 2 in is double-fanned', { thicknessMm: 2 * inch }, 'double-fan adhesive'],
    [
      'over 2 in with 3/8 in of margin is oversewn',
      { thicknessMm: 2 * inch + 0.1, bindingMarginMm: (3 / 8) * inch },
      'oversew',
    ],
    ['over 2 in with less margin is split', { thicknessMm: 2 * inch + 0.1, bindingMarginMm: 9 }, 'split into volumes'],
    ['music over 2 in is never oversewn', { thicknessMm: 60, mustLieFlat: true }, 'split into volumes'],
    ['sound sewing is kept', { sewn: 'sound' as const, thicknessMm: 70 }, 'keep the sewing and recase'],
    [
      'loose sections with sound folds are sewn through the fold',
      { sewn: 'loose sections, folds sound' as const },
      'sew through the fold',
    ],
  ])('%s', (_, change, attachment) => {
    expect(must(leafAttachment({ ...book, ...change })).attachment).toBe(attachment);
  });

  test('economy binding goes up to 5/8 in', () => {
    expect(economyBindingAllowed((5 / 8) * inch)).toBe(true);
    expect(economyBindingAllowed((5 / 8) * inch + 0.1)).toBe(false);
  });
});
