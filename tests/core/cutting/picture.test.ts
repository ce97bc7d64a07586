import { describe, expect, test } from 'vitest';
import { letterSize, panesOf, within } from '../../../core/cutting/picture.ts';
import { planCuts } from '../../../core/cutting/plan.ts';
import type { CutSheet, Wanted } from '../../../core/cutting/stock.ts';

/** 200 pieces out of as many sheets as they take, laid without a long search. */
function sheetsOf(sizes: readonly (readonly [number, number, number])[], heightMm: number, widthMm: number) {
  const wanted = sizes.map(
    ([high, wide, count], index): Wanted => ({
      id: String(index),
      name: `piece ${index}`,
      heightMm: high,
      widthMm: wide,
      grain: 'along height',
      count,
    }),
  );
  const stock = {
    id: 's',
    name: 'Sheet',
    heightMm,
    widthMm,
    grain: 'height' as const,
    count: 200,
    costMinor: 100,
    offcut: false,
    trimMm: 0,
  };
  const settings = { kerfMm: 0, usefulMm: 40, mostTurns: null };
  let looked = 0;
  const plan = planCuts({ wanted, stock: [stock], settings }, { seed: 1, shouldStop: () => ++looked > 3 });
  if (!plan.ok) throw new Error(plan.refusal.sentence);
  return plan.value.sheets;
}

/** Room of an A4 page within its margins, in points. */
const room = { width: 515, height: 300 };
const paneRoom = { width: 515, height: 330 };
const least = 6;

describe('a plan of 200 pieces on A4', () => {
  test.each([
    ['labels', [[32, 46, 200]], 700, 500],
    ['labels of ten sizes', Array.from({ length: 10 }, (_, k) => [24 + 3 * k, 30 + 4 * k, 20]), 1000, 700],
    ['slips no wider than a finger', [[18, 14, 200]], 700, 500],
    ['boards of ten sizes', Array.from({ length: 10 }, (_, k) => [150 + 11 * k, 95 + 7 * k, 20]), 1000, 700],
  ] as readonly [string, readonly [number, number, number][], number, number][])(
    '%s: every piece has its letter at 6 points or more, in the whole or in a part that fits its room',
    (_, sizes, heightMm, widthMm) => {
      const sheets = sheetsOf(sizes, heightMm, widthMm);
      expect(sheets.reduce((sum, { pieces }) => sum + pieces.length, 0)).toBe(200);
      for (const sheet of sheets) expectLettered(sheet);
    },
  );

  test('a sheet that can be read whole is not drawn in parts', () => {
    const [sheet] = sheetsOf([[200, 140, 6]], 1000, 700);
    expect(panesOf(sheet!, room, paneRoom, least).panes).toEqual([]);
  });
});

function expectLettered(sheet: CutSheet): void {
  const { overview, panes, scale } = panesOf(sheet, room, paneRoom, least);
  for (const { widthMm, heightMm } of panes) {
    expect(widthMm * scale).toBeLessThanOrEqual(paneRoom.width + 1e-6);
    expect(heightMm * scale).toBeLessThanOrEqual(paneRoom.height + 1e-6);
  }
  for (const [index, { rect }] of sheet.pieces.entries()) {
    const sizes =
      panes.length === 0
        ? [letterSize(rect, index, overview)]
        : panes.flatMap((pane) => {
            const shown = within(rect, pane);
            return shown === null ? [] : [letterSize(shown, index, scale)];
          });
    expect(Math.max(...sizes), `piece ${index}`).toBeGreaterThanOrEqual(least - 1e-6);
  }
}
