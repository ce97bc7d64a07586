import { describe, expect, test } from 'vitest';
import { checkPlates, partsIssued } from '../../../core/book/plates.ts';

describe('plates', () => {
  test('a copy is told which plates it lacks, has twice, and has that no list calls for', () => {
    expect(checkPlates('frontispiece, 1-6, map', 'Front., plates 1-3, 5, 5, 6, portrait')).toEqual({
      ok: true,
      value: { missing: ['4', 'map'], doubled: ['5'], unlisted: ['portrait'] },
    });
  });

  test('a whole copy lacks none', () => {
    expect(checkPlates('1-3 and map', 'map; 3, 2, 1')).toEqual({
      ok: true,
      value: { missing: [], doubled: [], unlisted: [] },
    });
  });

  test('a range that goes backwards is refused', () => {
    expect(checkPlates('6-1', '').ok).toBe(false);
  });
});

describe('parts', () => {
  test('624 pages in numbers of 32 are 20 numbers, the last of 16 pages', () => {
    expect(partsIssued(624)).toEqual({ ok: true, value: { numbers: 20, lastPages: 16, plates: 40 } });
  });

  test('nonsense is refused', () => {
    expect(partsIssued(0).ok).toBe(false);
    expect(partsIssued(100, 7).ok).toBe(false);
  });
});
