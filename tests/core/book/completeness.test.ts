import { expect, test } from 'vitest';
import { whatLacks } from '../../../core/book/completeness.ts';

const nothing = { statement: '', copy: '', called: '', found: '' };

test('a copy lacks the leaves and plates that the perfect one has and it has not', () => {
  expect(
    whatLacks({
      statement: '8°: A4 B-C8; 20 leaves',
      copy: 'A4 B8 C8(-C8)',
      called: 'frontispiece, 1-4',
      found: '1-2, 4',
    }),
  ).toEqual({
    ok: true,
    value: { leaves: ['C8'], extraLeaves: [], plates: ['frontispiece', '3'], compared: ['leaves', 'plates'] },
  });
});

test('nothing is said of what was not compared, and what cannot be read is refused by its field', () => {
  expect(whatLacks(nothing)).toMatchObject({ ok: true, value: { leaves: [], plates: [], compared: [] } });
  expect(whatLacks({ ...nothing, statement: '8°: A4', copy: '?' })).toMatchObject({ refusal: { field: 'copy' } });
  expect(whatLacks({ ...nothing, called: '4-1' })).toMatchObject({ refusal: { field: 'called' } });
});
