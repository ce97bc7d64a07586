import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatSittings, readSittings, type Sitting } from '../../../core/units/hours.ts';

function read(text: string) {
  const sittings = readSittings(text);
  return sittings.ok ? formatSittings(sittings.value) : sittings.refusal.sentence;
}

describe('the hours of a day', () => {
  test.each([
    ['9-12:30, 13:30-17', '9:00–12:30, 13:30–17:00'],
    ['9.15–1pm', '9:15–13:00'],
    ['9h30 to 12 and 14h to 18h', '9:30–12:00, 14:00–18:00'],
    ['12am-12pm', '0:00–12:00'],
    ['20:00–24:00', '20:00–24:00'],
    ['', 'closed'],
    [' Closed ', 'closed'],
    ['–', 'closed'],
  ])('%s is %s', (text, hours) => {
    expect(read(text)).toBe(hours);
  });

  test.each([
    ['9', '“9” is not a sitting. Write it like 9:00–12:30.'],
    ['nine to five', '“nine to five” is not a sitting. Write it like 9:00–12:30.'],
    ['9:75-10', '“9:75-10” is not a sitting. Write it like 9:00–12:30.'],
    ['12-9', '“12-9” ends before it begins.'],
    ['9-12, 11-14', '“11-14” begins before the last one ends.'],
  ])('%s is refused: %s', (text, sentence) => {
    expect(read(text)).toBe(sentence);
  });

  test('are read back as they were written down', () => {
    const times = fc.uniqueArray(fc.integer({ min: 0, max: 1440 }), { minLength: 2, maxLength: 8 });
    fc.assert(
      fc.property(times, (minutes) => {
        const sorted = minutes.toSorted((a, b) => a - b);
        const sittings: Sitting[] = [];
        for (let at = 0; at + 1 < sorted.length; at += 2) sittings.push([sorted[at] ?? 0, sorted[at + 1] ?? 0]);
        expect(readSittings(formatSittings(sittings))).toEqual({ ok: true, value: sittings });
      }),
      { seed: 11, numRuns: 200 },
    );
  });
});
