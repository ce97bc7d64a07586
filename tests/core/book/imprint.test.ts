import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readPages, readYears, romanValue } from '../../../core/book/imprint.ts';

const seed = 20_261_125;

describe('a date is read as title pages and lists give it', () => {
  test.each([
    ['1852', 1852, 1852, false],
    ['MDCCCLII', 1852, 1852, false],
    ['M.DCCC.LII.', 1852, 1852, false],
    ['M DCCC LII', 1852, 1852, false],
    ['mdccccx', 1910, 1910, false],
    ['CIƆ IƆ CCC LII', 1852, 1852, false],
    ['[1847]', 1847, 1847, false],
    ['[1847?]', 1847, 1847, true],
    ['1847?', 1847, 1847, true],
    ['c. 1850', 1845, 1855, true],
    ['c.1850', 1845, 1855, true],
    ['ca. 1850', 1845, 1855, true],
    ['[ca. 1850]', 1845, 1855, true],
    ['circa 1850', 1845, 1855, true],
    ['c1850', 1850, 1850, false],
    ['©1912', 1912, 1912, false],
    ['1850s', 1850, 1859, true],
    ["1850's", 1850, 1859, true],
    ['late 1850s', 1857, 1859, true],
    ['185-', 1850, 1859, true],
    ['186-?', 1860, 1869, true],
    ['188?', 1880, 1889, true],
    ['[188?]', 1880, 1889, true],
    ['18--', 1800, 1899, true],
    ['1851-3', 1851, 1853, false],
    ['1851–53', 1851, 1853, false],
    ['1851-1853', 1851, 1853, false],
    ['1899-1901', 1899, 1901, false],
    ['between 1840 and 1850', 1840, 1850, false],
    ['1851 or 1852', 1851, 1852, false],
    ['19th century', 1800, 1899, true],
    ['early 19th century', 1800, 1833, true],
    ['late 19th c.', 1867, 1899, true],
    ['London: John Murray, 1852', 1852, 1852, false],
    ['Edinburgh, [c. 1850]', 1845, 1855, true],
  ])('%s', (text, from, to, approximate) => {
    expect(readYears(text)).toEqual({ ok: true, value: { from, to, approximate } });
  });

  test.each([
    '',
    'n.d.',
    'N.D.',
    '[n.d.]',
    's.a.',
    'undated',
    '852',
    '1299',
    '3021',
    '1853-1',
    'tomorrow',
    'IIX',
    '1850-'.repeat(20),
  ])('%j is refused with a sentence', (text) => {
    const read = readYears(text);
    expect(!read.ok && read.refusal.sentence).toMatch(/\.$/);
  });

  test(`every year from 1450 to 2100 is read from its Roman figures, seed ${seed}`, () => {
    const figures: readonly (readonly [number, string])[] = [
      [1000, 'M'],
      [900, 'CM'],
      [500, 'D'],
      [400, 'CD'],
      [100, 'C'],
      [90, 'XC'],
      [50, 'L'],
      [40, 'XL'],
      [10, 'X'],
      [9, 'IX'],
      [5, 'V'],
      [4, 'IV'],
      [1, 'I'],
    ];
    for (let year = 1450; year <= 2100; year++) {
      let rest = year;
      let roman = '';
      for (const [worth, sign] of figures)
        while (rest >= worth) {
          roman += sign;
          rest -= worth;
        }
      expect(romanValue(roman)).toBe(year);
      expect(readYears(roman)).toEqual({ ok: true, value: { from: year, to: year, approximate: false } });
    }
  });
});

describe('a page statement is added up', () => {
  test.each([
    ['312', 312],
    ['312 pp.', 312],
    ['viii, 312 pp., [4]', 324],
    ['pp. viii, 312, [4]', 324],
    ['[2], xvi, 312, [4] p.', 334],
    ['xvi + 312 pages', 328],
    ['pp. [i]-xvi, [1]-312', 328],
    ['pp. [8] 1-205 [3]', 216],
    ['viii, 312 p., 12 plates', 320],
    ['viii, 312 p., [6] leaves of plates', 320],
    ['frontispiece, viii, 312 pp.', 320],
    ['xvi, [17]-312 p.', 312],
    ['[2] [1-3] 4-17 [18]', 20],
    ['[32] 1-544 [545-552]; 2[24] 1-78 [79]', 687],
    ['1-205 [3]', 208],
  ])('%s', (text, pages) => {
    expect(readPages(text)).toEqual({ ok: true, value: { pages, leaves: Math.ceil(pages / 2) } });
  });

  test.each([
    ['44 leaves', 44],
    ['ff. 44', 44],
    ['[2], 44 leaves', 46],
  ])('%s counts leaves', (text, leaves) => {
    expect(readPages(text)).toEqual({ ok: true, value: { pages: 2 * leaves, leaves } });
  });

  test.each(['', 'many', '0 pp.', 'pp. 20-10', '99999 pp.', 'iix pp.'])('%j is refused', (text) => {
    const read = readPages(text);
    expect(!read.ok && read.refusal.sentence).toMatch(/\.$/);
  });

  test(`any text is answered with whole numbers or a sentence, seed ${seed}`, () => {
    const bits = fc.constantFrom(
      '1',
      '18',
      '50',
      's',
      '-',
      'c.',
      ' ',
      '[',
      ']',
      '?',
      'mdc',
      'x',
      'i',
      ',',
      'pp.',
      'plates',
      'leaves',
      'late ',
      'and',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.array(bits, { maxLength: 14 }).map((parts) => parts.join('')),
          fc.string({ maxLength: 60 }),
        ),
        (text) => {
          const pages = readPages(text);
          if (pages.ok)
            expect(Number.isInteger(pages.value.pages) && pages.value.leaves * 2 >= pages.value.pages).toBe(true);
          const years = readYears(text);
          if (years.ok) expect(years.value.to).toBeGreaterThanOrEqual(years.value.from);
        },
      ),
      { seed, numRuns: 800 },
    );
  });
});
