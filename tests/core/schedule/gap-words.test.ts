import { expect, test } from 'vitest';
import { gapWords } from '../../../core/schedule/gap-words.ts';
import { gapTo, shortOf } from '../../../core/schedule/objective.ts';

test('what could be won is said as a share where a bound stands behind it, and in hours of lateness where none does', () => {
  const words = (lateness: number, bound: number, completion = 900) => {
    const [value, least] = [
      { lateness, completion, finish: 2000 },
      { lateness: bound, completion: 900, finish: 2000 },
    ];
    const { measure, above } = shortOf(value, least);
    return gapWords({ gap: gapTo(value, least, 100), measure, gapMinutes: above });
  };
  expect(words(0, 0)).toBe('proven: no plan is better');
  expect(words(0, 0, 1000)).toBe('at most 10 % better is possible (in how soon each book is out)');
  expect(words(400, 300)).toBe('at most 25 % better is possible (in lateness)');
  expect(words(400, 0)).toContain('none of the lateness, 7 hours over all books');
  expect(words(90, 0)).toContain('none of the lateness, 90 minutes over all books');
});
