import { expect, test } from 'vitest';
import { calculations } from '../../../core/trade/reckoner.ts';
import { levelByMinutes, sharesOf } from '../../../core/trade/survey.ts';

test.each([
  [{}, 385],
  [{ confidence: '92', share: '15', margin: '3' }, 435],
  [{ shelf: '1000' }, 278],
  [{ shelf: '12' }, 12],
])('for %j the Reckoner draws %d books (Drott 1969, rounded up)', (typed, books) => {
  const answer = calculations.find(({ id }) => id === 'sample')?.reckon(typed, { unit: 'mm' });
  expect(answer?.ok && answer.value.figures[0]).toEqual({ label: 'Books to draw', value: books, unit: '' });
});

test('shares of 3810, 4864, 240 and 12 are 42.7, 54.5, 2.7 and 0.1 per cent of 8926 (Duke University Libraries, 2022)', () => {
  expect(sharesOf([3810, 4864, 240, 12])).toEqual({
    ok: true,
    value: { total: 8926, percent: [42.7, 54.5, 2.7, 0.1] },
  });
  expect(sharesOf([]).ok || sharesOf([0]).ok || sharesOf([1.5]).ok || sharesOf([-1, 2]).ok).toBe(false);
});

test.each([
  [14, 1],
  [15, 1],
  [16, 2],
  [120, 2],
  [121, 3],
])(
  '%d minutes at the bench are level %d (ARL, as Arkansas and Duke apply it; at 15 the wordings differ)',
  (minutes, level) => {
    expect(levelByMinutes(minutes)).toEqual({ ok: true, value: level });
  },
);
