import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Result } from '../../../core/result.ts';
import {
  adhesiveForArea,
  batchFromWater,
  batchOf,
  dilute,
  mixByParts,
  recipes,
  strengthLeft,
} from '../../../core/trade/adhesive.ts';
import { measureBox } from '../../../core/trade/box.ts';
import { batchForDay, readJobs } from '../../../core/trade/day-batch.ts';
import { dividePanels, fitLettering, type GlyphWidths, goldBooks, goldForArea } from '../../../core/trade/panels.ts';
import { quote } from '../../../core/trade/quotation.ts';

const seed = 20_261_125;

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}

describe('panels', () => {
  test.each([
    [4, 5],
    [5, 6],
    [6, 7],
  ])('%d bands make %d panels, the tail the longest (Cockerell 1901, ch. VII)', (bands, panels) => {
    const { heightsMm } = must(dividePanels(200, bands));
    expect(heightsMm).toHaveLength(panels);
    expect(Math.max(...heightsMm)).toBe(heightsMm.at(-1));
  });

  test('the middle four of an octavo are equal, the head a trifle longer and the tail longer than the head (bookbinding.com, "Sewing")', () => {
    const [head, ...rest] = must(dividePanels(200, 5)).heightsMm;
    const tail = rest.pop();
    expect(new Set(rest.map((mm) => mm.toFixed(9))).size).toBe(1);
    expect(head).toBeGreaterThan(rest[0] ?? 0);
    expect(tail).toBeGreaterThan(head ?? 0);
  });

  test(`panels and bands make up the back, and every band lies between its panels, seed ${seed}`, () => {
    fc.assert(
      fc.property(
        fc.double({ min: 120, max: 500, noNaN: true }),
        fc.integer({ min: 1, max: 7 }),
        fc.double({ min: 1, max: 8, noNaN: true }),
        (back, bands, bandMm) => {
          const { heightsMm, bandTopsMm } = must(dividePanels(back, bands, { bandMm }));
          expect(heightsMm.reduce((sum, mm) => sum + mm, 0) + bands * bandMm).toBeCloseTo(back, 6);
          for (const [index, top] of bandTopsMm.entries()) {
            const above = heightsMm.slice(0, index + 1).reduce((sum, mm) => sum + mm, 0) + index * bandMm;
            expect(top).toBeCloseTo(above, 6);
          }
        },
      ),
      { seed },
    );
  });

  test('bands that leave no panels are refused', () => {
    expect(dividePanels(30, 6).ok).toBe(false);
    expect(dividePanels(200, 0).ok).toBe(false);
  });
});

describe('lettering', () => {
  const even: GlyphWidths = {
    widths: Object.fromEntries([...'ABCDEFGHIJKLMNOPQRSTUVWXYZ '].map((sign) => [sign, 0.6])),
    capHeight: 0.7,
  };
  const panel = { widthMm: 30, heightMm: 30, marginMm: 2 };

  test('one word of five even letters fills the width', () => {
    expect(must(fitLettering('AUDEN', panel, even)).sizeMm).toBeCloseTo(26 / 3, 9);
  });

  test('a long title is broken where that lets it be larger', () => {
    const { lines } = must(fitLettering('HISTORY OF THE TOWN', panel, even));
    expect(lines.length).toBeGreaterThan(1);
    expect(lines.map((line) => line.text).join(' ')).toBe('HISTORY OF THE TOWN');
  });

  test.each([
    ['an unknown sign', 'ÉTUDES'],
    ['nothing', '  '],
    ['a word too long to read', 'A'.repeat(60)],
  ])('%s is refused', (_, title) => {
    expect(fitLettering(title, panel, even).ok).toBe(false);
  });

  test(`no other way of breaking the title lets it be larger (all ways tried), seed ${seed}`, () => {
    const word = fc
      .array(fc.constantFrom(...'IMWATEL'), { minLength: 1, maxLength: 7 })
      .map((letters) => letters.join(''));
    const uneven: GlyphWidths = {
      widths: { I: 0.3, M: 0.9, W: 1, A: 0.7, T: 0.6, E: 0.6, L: 0.5, ' ': 0.3 },
      capHeight: 0.7,
    };
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 6 }), (words) => {
        const asked = fitLettering(words.join(' '), panel, uneven, { mostLines: 4, leading: 1.6 });
        let best = 0;
        for (let cut = 0; cut < 2 ** (words.length - 1); cut++) {
          const lines: string[][] = [[]];
          for (const [index, one] of words.entries()) {
            lines.at(-1)?.push(one);
            if (index < words.length - 1 && cut & (1 << index)) lines.push([]);
          }
          if (lines.length > 4) continue;
          const widest = Math.max(
            ...lines.map((line) => [...line.join(' ')].reduce((sum, sign) => sum + (uneven.widths[sign] ?? 0), 0)),
          );
          best = Math.max(best, Math.min(26 / widest, 26 / (0.7 * (1 + (lines.length - 1) * 1.6))));
        }
        if (asked.ok) expect(asked.value.sizeMm).toBeCloseTo(best, 9);
        else expect(best * 0.7).toBeLessThan(1);
      }),
      { seed, numRuns: 200 },
    );
  });
});

describe('adhesives', () => {
  test('Library of Congress 2015: 57 g of starch to 400 mL is 14.25 g to 100 mL, stood 30 min and cooked 15 (BPG)', () => {
    const batch = must(batchFromWater('wheat paste', 400));
    expect(batch.dryG).toBeCloseTo(57, 9);
    expect(recipes['wheat paste'].gramsPer100mL).toBeCloseTo(14.25, 9);
    expect(batch.recipe.steps.join(' ')).toMatch(/30 min.*15 min/);
  });

  test('Harvard 1995: 65 g to 500 mL scaled to 200 mL is 26 g (Abbey Newsletter 19(5))', () => {
    expect(must(batchFromWater('wheat paste, thin', 200)).dryG).toBeCloseTo(26, 9);
  });

  test('methylcellulose at 5 per cent is 5 g to 100 mL, three quarters hot and the rest cold, cooled an hour and clear in 24 (V&A recipe)', () => {
    const { dryG, recipe } = must(batchFromWater('methylcellulose', 100));
    expect(dryG).toBe(5);
    expect(recipe.steps.join(' ')).toMatch(/three quarters of the water, hot.*rest cold.*an hour.*24 h/);
  });

  test('a batch of 114.25 g is made from 100 mL and 14.25 g', () => {
    expect(must(batchOf('wheat paste', 114.25))).toMatchObject({
      waterMl: expect.closeTo(100, 9),
      dryG: expect.closeTo(14.25, 9),
    });
  });

  test.each([
    [5, 2, 100, 40, 60],
    [5, 2.5, 250, 125, 125],
  ])(
    '%d per cent stock to %d, %d mL: %d mL stock and %d mL water (strength × volume)',
    (stock, wanted, volume, stockMl, waterMl) => {
      expect(must(dilute(stock, wanted, volume))).toMatchObject({ stockMl, waterMl });
    },
  );

  test('paste thinned one to one has half its strength, about 7.1 g to 100 mL', () => {
    expect(must(strengthLeft(1)) * 14.25).toBeCloseTo(7.125, 9);
  });

  test('an eighth of water leaves 8/9 of the strength (CoOL, cdl 2002/0614)', () => {
    expect(must(strengthLeft(1 / 8))).toBeCloseTo(0.8889, 4);
  });

  test('three parts paste to one PVA, 200 g, is 150 and 50', () => {
    expect(must(mixByParts({ paste: 3, pva: 1 }, 200))).toEqual({ paste: 150, pva: 50 });
  });

  test('a square metre at 100 g/m² with a quarter lost takes 133 g', () => {
    expect(must(adhesiveForArea(1e6, 100)).grams).toBeCloseTo(400 / 3, 9);
  });

  test('a day of two linings 200 x 50 mm and a board 250 x 400 mm, half lost, thinned one to one: 24 g to brush on are 12 cooked', () => {
    const jobs = must(readJobs('Linings: 200 x 50 mm, 2\n\n250 × 400', 'mm'));
    expect(jobs.map(({ name, count }) => [name, count])).toEqual([
      ['Linings', 2],
      ['surface 2', 1],
    ]);
    const habits = { recipe: 'wheat paste', waterParts: 1, lostShare: 0.5, leastG: 10, madeOn: '2028-02-25' } as const;
    const day = must(batchForDay(jobs, habits));
    // 0.12 m² at 100 g/m² are 12 g on the work, 24 with what is lost, 12 of them cooked: 10.5 mL of water and 1.5 g.
    expect([day.wetG, day.cookedG, day.leftOverG]).toEqual([24, 12, 0].map((grams) => expect.closeTo(grams, 9)));
    expect(day.batch.dryG + day.batch.waterMl).toBeCloseTo(12, 9);
    // A week to 20 days (Metropolitan Museum; Harvard 1995), over a leap day.
    expect(day.goodUntil).toEqual(['2028-03-03', '2028-03-16']);
    const least = must(batchForDay(jobs, { ...habits, leastG: 60, madeOn: '' }));
    expect([least.cookedG, least.leftOverG, least.goodUntil]).toEqual([60, expect.closeTo(48, 9), null]);
  });

  test.each([
    [() => readJobs('', 'mm')],
    [() => readJobs('Linings: wide', 'mm')],
    [() => readJobs('200 x 50 mm, 0', 'mm')],
    [() => dilute(2, 5, 100)],
    [() => dilute(5, 2, 0)],
    [() => batchFromWater('wheat paste', 0)],
    [() => mixByParts({ paste: -1, pva: 2 }, 100)],
    [() => mixByParts({ paste: 0 }, 100)],
    [() => adhesiveForArea(0, 100)],
    [() => strengthLeft(-1)],
  ])('nonsense is refused: %s', (ask) => {
    const asked: Result<unknown> = ask();
    expect(!asked.ok && asked.refusal.sentence).toMatch(/\.$/);
  });
});

describe('a drop-spine box', () => {
  test(`its trays nest and its walls stand on their bases, seed ${seed}`, () => {
    const side = fc.double({ min: 60, max: 400, noNaN: true });
    fc.assert(
      fc.property(side, side, fc.double({ min: 5, max: 90, noNaN: true }), (heightMm, widthMm, thicknessMm) => {
        const { small, large, pieces } = must(measureBox({ heightMm, widthMm, thicknessMm }));
        expect(small.insideHeightMm).toBeGreaterThan(heightMm);
        expect(small.insideDepthMm).toBeGreaterThan(thicknessMm);
        expect(large.insideHeightMm).toBeGreaterThan(small.outsideHeightMm);
        expect(large.insideWidthMm).toBeGreaterThan(small.outsideWidthMm);
        expect(large.insideDepthMm).toBeGreaterThan(small.outsideDepthMm);
        const base = pieces.find(({ part }) => part === 'small tray, base');
        const wall = pieces.find(({ part }) => part === 'small tray, fore-edge wall');
        expect((base?.heightMm ?? 0) - (wall?.heightMm ?? 0)).toBeCloseTo(5, 9);
        expect((base?.heightMm ?? 0) + 2 * 0.5).toBeCloseTo(small.outsideHeightMm, 9);
      }),
      { seed },
    );
  });

  test('a book of no size gets no box', () => {
    expect(measureBox({ heightMm: 0, widthMm: 100, thicknessMm: 20 }).ok).toBe(false);
  });
});

describe('a quotation', () => {
  const work = {
    minutes: { least: 90, likely: 120, most: 180 },
    ratePerHourMinor: 3000,
    materialsMinor: { least: 400, most: 800 },
    overheadShare: 0.2,
  };

  test('worked by hand: two hours at 30, 6 of materials, a fifth on top is 79.20, offered as 55 to 120 in steps of 5', () => {
    expect(must(quote(work))).toMatchObject({ fromMinor: 5500, likelyMinor: 8000, toMinor: 12000, stepMinor: 500 });
  });

  test(`the range holds what was reckoned and is round, seed ${seed}`, () => {
    const money = fc.integer({ min: 0, max: 20_000 });
    const minutes = fc.tuple(
      fc.integer({ min: 0, max: 900 }),
      fc.integer({ min: 0, max: 900 }),
      fc.integer({ min: 0, max: 900 }),
    );
    fc.assert(
      fc.property(
        minutes,
        money,
        money,
        money,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (spent, rate, one, other, overheadShare) => {
          const [least = 0, likely = 0, most = 0] = [...spent].sort((a, b) => a - b);
          const materialsMinor = { least: Math.min(one, other), most: Math.max(one, other) };
          const offer = must(
            quote({ minutes: { least, likely, most }, ratePerHourMinor: rate, materialsMinor, overheadShare }),
          );
          const reckoned = ((most * rate) / 60 + materialsMinor.most) * (1 + overheadShare);
          expect(offer.toMinor).toBeGreaterThanOrEqual(reckoned - 1e-3);
          expect(offer.fromMinor).toBeLessThanOrEqual(offer.likelyMinor);
          expect(offer.likelyMinor).toBeLessThanOrEqual(offer.toMinor);
          for (const sum of [offer.fromMinor, offer.likelyMinor, offer.toMinor]) expect(sum % offer.stepMinor).toBe(0);
        },
      ),
      { seed },
    );
  });

  test('minutes out of order are refused', () => {
    expect(quote({ ...work, minutes: { least: 200, likely: 120, most: 180 } }).ok).toBe(false);
  });
});

describe('gold', () => {
  test.each([
    ['english', 294, 'Cockerell 1901: 24 leaves of 3 1/2 in'],
    ['trade', 264.1, 'Roberts & Etherington 1982: 25 leaves of 3 1/4 in'],
  ] as const)('an %s book covers %d sq in (%s)', (book, squareInches, _) => {
    const { leaves, sideMm } = goldBooks[book];
    expect((leaves * sideMm ** 2) / 25.4 ** 2).toBeCloseTo(squareInches, 1);
    expect(must(goldForArea(leaves * sideMm ** 2, book, 0))).toEqual({ leaves, books: 1 });
    expect(must(goldForArea(leaves * sideMm ** 2 + 1, book, 0))).toEqual({ leaves: leaves + 1, books: 2 });
  });
});
