import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatName, readFormat } from '../../../core/book/format-names.ts';
import {
  type Fold,
  foldedLeaf,
  folds,
  formatByHeight,
  grainAfterFolding,
  isoSize,
  leavesPerSheet,
  recogniseFormat,
  type SheetName,
  sheetSize,
  type Tradition,
  trimmedLeaf,
} from '../../../core/book/formats.ts';
import { mmPerInch } from '../../../core/units/lengths.ts';

const seed = 20_261_125;

describe('ISO 216 and ISO 269 sizes', () => {
  const published: readonly (readonly [string, number, number])[] = [
    ['A0', 841, 1189],
    ['A1', 594, 841],
    ['A2', 420, 594],
    ['A3', 297, 420],
    ['A4', 210, 297],
    ['A5', 148, 210],
    ['A6', 105, 148],
    ['A7', 74, 105],
    ['A8', 52, 74],
    ['A9', 37, 52],
    ['A10', 26, 37],
    ['B0', 1000, 1414],
    ['B1', 707, 1000],
    ['B2', 500, 707],
    ['B3', 353, 500],
    ['B4', 250, 353],
    ['B5', 176, 250],
    ['B6', 125, 176],
    ['B7', 88, 125],
    ['B8', 62, 88],
    ['B9', 44, 62],
    ['B10', 31, 44],
    ['C0', 917, 1297],
    ['C1', 648, 917],
    ['C2', 458, 648],
    ['C3', 324, 458],
    ['C4', 229, 324],
    ['C5', 162, 229],
    ['C6', 114, 162],
    ['C7', 81, 114],
    ['C8', 57, 81],
    ['C9', 40, 57],
    ['C10', 28, 40],
  ];
  test.each(published)('%s is %d x %d mm (ISO 216:2007 and ISO 269 tables)', (name, shortMm, longMm) => {
    expect(isoSize(name)).toEqual({ ok: true, value: { shortMm, longMm } });
  });

  test.each(['A', 'B', 'C'])(
    'each size of the %s series halves the one before, rounded down (ISO 216:2007, ISO 269)',
    (series) => {
      for (let n = 1; n <= 10; n++) {
        const [larger, size] = [isoSize(`${series}${n - 1}`), isoSize(`${series}${n}`)];
        if (!larger.ok || !size.ok) throw new Error('a size of the series');
        const half = Math.floor(larger.value.longMm / 2);
        expect(size.value.longMm).toBe(larger.value.shortMm);
        // The standards' own tables are 1 mm off the rule at B and C here and there: both series are rounded from geometric means.
        expect(Math.abs(size.value.shortMm - half)).toBeLessThanOrEqual(series === 'A' ? 0 : 1);
      }
    },
  );

  test.each(['A11', 'D4', '', '4A0', 'A-1'])('%j is refused', (name) => {
    expect(isoSize(name).ok).toBe(false);
  });
});

describe('traditional sheets folded', () => {
  const inches = (tradition: Tradition, name: SheetName, fold: Fold) => {
    const sheet = sheetSize(name, tradition);
    if (!sheet.ok) throw new Error(sheet.refusal.sentence);
    const leaf = foldedLeaf(sheet.value, fold);
    return [leaf.widthMm / mmPerInch, leaf.heightMm / mmPerInch].map((value) => Math.round(value * 1e6) / 1e6);
  };

  const cockerell: readonly (readonly [SheetName, readonly (readonly [number, number])[]])[] = [
    [
      'foolscap',
      [
        [8.5, 13.5],
        [6.75, 8.5],
        [4.25, 6.75],
        [3.375, 4.25],
        [2.125, 3.375],
      ],
    ],
    [
      'crown',
      [
        [10, 15],
        [7.5, 10],
        [5, 7.5],
        [3.75, 5],
        [2.5, 3.75],
      ],
    ],
    [
      'post',
      [
        [9.625, 15.5],
        [7.75, 9.625],
        [4.8125, 7.75],
        [3.875, 4.8125],
        [2.40625, 3.875],
      ],
    ],
    [
      'demy',
      [
        [11.25, 17.5],
        [8.75, 11.25],
        [5.625, 8.75],
        [4.375, 5.625],
        [2.8125, 4.375],
      ],
    ],
    [
      'medium',
      [
        [12, 19],
        [9.5, 12],
        [6, 9.5],
        [4.75, 6],
        [3, 4.75],
      ],
    ],
    [
      'royal',
      [
        [12.5, 20],
        [10, 12.5],
        [6.25, 10],
        [5, 6.25],
        [3.125, 5],
      ],
    ],
    [
      'double pott',
      [
        [12.5, 15],
        [7.5, 12.5],
        [6.25, 7.5],
        [3.75, 6.25],
        [3.125, 3.75],
      ],
    ],
    [
      'double foolscap',
      [
        [13.5, 17],
        [8.5, 13.5],
        [6.75, 8.5],
        [4.25, 6.75],
        [3.375, 4.25],
      ],
    ],
    [
      'super royal',
      [
        [13.5, 21],
        [10.5, 13.5],
        [6.75, 10.5],
        [5.25, 6.75],
        [3.375, 5.25],
      ],
    ],
    [
      'double crown',
      [
        [15, 20],
        [10, 15],
        [7.5, 10],
        [5, 7.5],
        [3.75, 5],
      ],
    ],
    [
      'imperial',
      [
        [15, 22],
        [11, 15],
        [7.5, 11],
        [5.5, 7.5],
        [3.75, 5.5],
      ],
    ],
    [
      'double post',
      [
        [15.75, 19.5],
        [9.75, 15.75],
        [7.875, 9.75],
        [4.875, 7.875],
        [3.9375, 4.875],
      ],
    ],
  ];
  const rows = cockerell.flatMap(([name, sizes]) =>
    (['folio', '4to', '8vo', '16mo', '32mo'] as const).map(
      (fold, index) => [name, fold, sizes[index] ?? [0, 0]] as const,
    ),
  );
  test.each(rows)(
    '%s %s (sheet from Cockerell 1901, ch. XX, the longer side halved at every fold)',
    (name, fold, size) => {
      expect(inches('british', name, fold)).toEqual(size);
    },
  );

  test('royal octavo untrimmed is 6 1/4 x 10 in (Roberts & Etherington 1982, "book sizes")', () => {
    expect(inches('british', 'royal', '8vo')).toEqual([6.25, 10]);
  });

  test.each([
    ['foolscap', 14, 17],
    ['crown', 15, 20],
    ['demy', 17, 22],
    ['medium', 19, 24],
    ['royal', 20, 25],
    ['super royal', 22, 27],
    ['imperial', 22, 32],
  ] as const)('American %s is %d x %d in (Scientific American, March 1854)', (name, short, long) => {
    expect(sheetSize(name, 'american')).toMatchObject({
      ok: true,
      value: { shortMm: short * mmPerInch, longMm: long * mmPerInch },
    });
  });

  test('a raisin sheet is 50 x 65 cm (Cim, Une bibliothèque, 1902)', () => {
    expect(sheetSize('raisin', 'french')).toMatchObject({ ok: true, value: { shortMm: 500, longMm: 650 } });
  });

  test('the German Kanzlei sheet is 33 x 42 cm (Kahnt & Knorr 1986, p. 136), its octavo leaf 10.5 x 16.5 cm (as printed of the first normal sheet of 1883)', () => {
    const sheet = sheetSize('kanzlei', 'german');
    if (!sheet.ok) throw new Error(sheet.refusal.sentence);
    expect([sheet.value.shortMm, sheet.value.longMm]).toEqual([330, 420]);
    expect(foldedLeaf(sheet.value, '8vo')).toEqual({ heightMm: 165, widthMm: 105 });
    expect(readFormat('Kanzlei-Oktav')).toMatchObject({ ok: true, value: { fold: '8vo', sheet: 'kanzlei' } });
  });

  test('a name the tradition did not use is refused', () => {
    expect(sheetSize('raisin', 'british').ok).toBe(false);
  });

  test.each([
    ['folio', 2],
    ['4to', 4],
    ['8vo', 8],
    ['12mo', 12],
    ['16mo', 16],
    ['18mo', 18],
    ['24mo', 24],
    ['32mo', 32],
  ] as const)('%s gives %d leaves a sheet (Household Discoveries table; The Student, 1854)', (fold, leaves) => {
    expect(leavesPerSheet(fold)).toBe(leaves);
  });

  test.each(folds)('the leaves of a %s fill the sheet exactly', (fold) => {
    const leaf = foldedLeaf({ longMm: 508, shortMm: 381 }, fold);
    expect(leaf.heightMm * leaf.widthMm * leavesPerSheet(fold)).toBeCloseTo(508 * 381, 6);
  });

  test('a 10 in leaf trimmed 1/8 in at head and tail is 9 3/4 in (Roberts & Etherington 1982, "book sizes")', () => {
    const cut = trimmedLeaf({ heightMm: 10 * mmPerInch, widthMm: 6.25 * mmPerInch });
    expect(cut.ok && cut.value.heightMm / mmPerInch).toBeCloseTo(9.75, 12);
  });

  test('a trim that leaves no leaf is refused', () => {
    expect(trimmedLeaf({ heightMm: 5, widthMm: 5 }, 3).ok).toBe(false);
    expect(trimmedLeaf({ heightMm: 50, widthMm: 50 }, -3).ok).toBe(false);
  });

  test.each([
    ['folio', 'along the spine'],
    ['4to', 'across the spine'],
    ['8vo', 'along the spine'],
  ] as const)('chain lines of a %s run %s (Roberts & Etherington 1982, "chain lines")', (fold, direction) => {
    expect(grainAfterFolding(fold, 'short')).toBe(direction);
  });
});

describe('a format is recognised from measures', () => {
  test('boards of 7 1/2 x 5 in are crown octavo', () => {
    const found = recogniseFormat({ heightMm: 190.5, widthMm: 127 }, 'boards', ['british']);
    expect(found.ok && found.value[0]).toMatchObject({ fold: '8vo', sheet: 'crown', off: 0 });
  });

  test('a size like no folded sheet has no likeness, and nonsense is refused', () => {
    expect(recogniseFormat({ heightMm: 900, widthMm: 90 }, 'boards')).toEqual({ ok: true, value: [] });
    expect(recogniseFormat({ heightMm: Number.NaN, widthMm: 90 }, 'boards').ok).toBe(false);
  });

  test.each([
    [310, 'folio'],
    [280, '4to'],
    [225, '8vo'],
    [190, '12mo'],
    [160, '16mo'],
    [110, '32mo'],
    [60, '64mo'],
  ] as const)('boards of %d mm are called %s (scale of the American Library Association)', (height, fold) => {
    expect(formatByHeight(height)).toMatchObject({ ok: true, value: { fold } });
  });

  test('every folded sheet recognises itself among the nearest, trimmed or not', () => {
    for (const fold of folds)
      for (const measured of ['untrimmed leaf', 'trimmed leaf'] as const) {
        const sheet = sheetSize('demy', 'british');
        if (!sheet.ok) throw new Error(sheet.refusal.sentence);
        const whole = foldedLeaf(sheet.value, fold);
        const cut = trimmedLeaf(whole);
        if (!cut.ok) throw new Error(cut.refusal.sentence);
        const found = recogniseFormat(measured === 'trimmed leaf' ? cut.value : whole, measured, ['british']);
        const best = found.ok ? found.value.filter((one) => one.off < 1e-9) : [];
        expect(best).toContainEqual(expect.objectContaining({ fold, sheet: 'demy' }));
      }
  });
});

describe('a format is read as lists write it', () => {
  test.each([
    ['8vo', '8vo', undefined],
    ['8vo.', '8vo', undefined],
    ['8°', '8vo', undefined],
    ['Cr. 8vo', '8vo', 'crown'],
    ['crown 8vo', '8vo', 'crown'],
    ['Crown octavo', '8vo', 'crown'],
    ['demy octavo', '8vo', 'demy'],
    ['Dy. 8vo', '8vo', 'demy'],
    ["F'cap 8vo", '8vo', 'foolscap'],
    ['fcp. 8vo', '8vo', 'foolscap'],
    ['f.cap 8vo', '8vo', 'foolscap'],
    ['post 8vo', '8vo', 'post'],
    ['sup. roy. 8vo', '8vo', 'super royal'],
    ['Imp. 4to', '4to', 'imperial'],
    ['sm. 4to', '4to', undefined],
    ['Large thick 8vo', '8vo', undefined],
    ['folio', 'folio', undefined],
    ['fol.', 'folio', undefined],
    ['F°', 'folio', undefined],
    ['2°', 'folio', undefined],
    ['Royal folio', 'folio', 'royal'],
    ['duodecimo', '12mo', undefined],
    ['12mo', '12mo', undefined],
    ['in-12', '12mo', undefined],
    ['gr. in-8° raisin', '8vo', 'raisin'],
    ['in-18 jésus', '18mo', 'jésus'],
    ['24mo', '24mo', undefined],
    ['16mo', '16mo', undefined],
    ['sexto-decimo', '16mo', undefined],
    ['octodecimo', '18mo', undefined],
    ['broadside', 'broadside', undefined],
  ])('%s', (text, fold, sheet) => {
    const read = readFormat(text);
    expect(read).toMatchObject({ ok: true, value: { fold } });
    expect(read.ok && read.value.sheet).toBe(sheet);
  });

  test('oblong is kept', () => {
    expect(readFormat('oblong 4to')).toEqual({ ok: true, value: { fold: '4to', oblong: true } });
  });

  test.each(['', '8', 'crown', 'purple 8vo', 'octopus', '225 mm', '7mo'])('%j is refused', (text) => {
    const read = readFormat(text);
    expect(!read.ok && read.refusal.sentence).toMatch(/\.$/);
  });

  test(`a printed format is read back the same, seed ${seed}`, () => {
    const sheets: readonly SheetName[] = [
      'crown',
      'double crown',
      'super royal',
      'jésus',
      'grand jésus',
      'petit jésus',
      'quad demy',
      'écu',
      'pott',
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...folds),
        fc.option(fc.constantFrom(...sheets)),
        fc.boolean(),
        (fold, sheet, oblong) => {
          const format = sheet === null ? { fold, oblong } : { fold, sheet, oblong };
          expect(readFormat(formatName(format))).toEqual({ ok: true, value: format });
        },
      ),
      { seed },
    );
  });
});
