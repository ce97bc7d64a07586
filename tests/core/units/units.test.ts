import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatInches, formatMm, mmPerInch, readLength, readSize } from '../../../core/units/lengths.ts';
import { readNumber } from '../../../core/units/numbers.ts';

const seed = 20_261_125;

describe('a number is read as people write it', () => {
  test.each([
    ['22.5', 22.5],
    ['22,5', 22.5],
    ['.5', 0.5],
    ['9 1/8', 9.125],
    ['9⅛', 9.125],
    ['9-1/8', 9.125],
    ['½', 0.5],
    ['1⁄16', 0.0625],
    ['1,234.5', 1234.5],
    ['1.234,5', 1234.5],
    ['1 234,5', 1234.5],
    ['1,234,567', 1234567],
    ['0,125', 0.125],
    ['-3', -3],
    ['  12 ', 12],
  ])('%s is %d', (text, value) => {
    expect(readNumber(text)).toEqual({ ok: true, value });
  });

  test.each(['', 'abc', '1/0', '1,250', '12 x', '..', '1.2.3', '9'.repeat(41), '9'.repeat(30)])(
    '%j is refused with a sentence',
    (text) => {
      const read = readNumber(text);
      expect(read.ok).toBe(false);
      expect(!read.ok && read.refusal.sentence).toMatch(/\.$/);
    },
  );
});

describe('a length is read in the unit it is written in', () => {
  test.each([
    ['9 1/8 in', 231.775],
    ['9⅛"', 231.775],
    ['9⅛”', 231.775],
    ['9 1/8 inches', 231.775],
    ['5½ ins.', 139.7],
    ['22.5 cm', 225],
    ['22,5 cm', 225],
    ['225mm', 225],
    ['225 mm.', 225],
    ['1 ft 2 in', 355.6],
    ['1\' 2 1/2"', 368.3],
    ['0.5 m', 500],
    ['c. 225 mm', 225],
    ['about 9 in', 228.6],
  ])('%s', (text, mm) => {
    const read = readLength(text, { defaultUnit: 'mm' });
    expect(read.ok && read.value).toBeCloseTo(mm, 9);
  });

  test('a bare figure takes the unit of its column', () => {
    expect(readLength('22,5', { defaultUnit: 'cm' })).toEqual({ ok: true, value: 225 });
    expect(readLength('9', { defaultUnit: 'in' })).toEqual({ ok: true, value: 9 * mmPerInch });
  });

  test.each(['', 'tall', '0 mm', '-3 mm', '9 stone', 'in', '3000 m', '9 in 2 cm', '1,250 mm'])(
    '%j is refused',
    (text) => {
      expect(readLength(text, { defaultUnit: 'mm' }).ok).toBe(false);
    },
  );

  test(`any text is answered and never with NaN, seed ${seed}`, () => {
    const bits = fc.constantFrom(
      '1',
      '9',
      '/',
      ' ',
      ',',
      '.',
      'x',
      'in',
      'mm',
      'cm',
      '"',
      "'",
      '⅛',
      'h',
      'w',
      'by',
      '-',
      'ft',
      'oblong',
    );
    const text = fc.oneof(
      fc.array(bits, { maxLength: 12 }).map((parts) => parts.join('')),
      fc.string({ unit: 'binary', maxLength: 40 }),
    );
    fc.assert(
      fc.property(text, (written) => {
        const length = readLength(written, { defaultUnit: 'mm' });
        if (length.ok) expect(length.value).toBeGreaterThan(0);
        const size = readSize(written, { defaultUnit: 'mm' });
        if (size.ok) for (const side of Object.values(size.value)) expect(side).toBeGreaterThan(0);
      }),
      { seed, numRuns: 800 },
    );
  });
});

describe('lengths are printed and read back', () => {
  test.each([
    [231.775, '9 1/8 in'],
    [25.4, '1 in'],
    [12.7, '1/2 in'],
    [1.5875, '1/16 in'],
    [0, '0 in'],
    [0.5, 'under 1/16 in'],
    [-25.4, '-1 in'],
  ])('%d mm is %s', (mm, text) => {
    expect(formatInches(mm)).toBe(text);
  });

  test.each([
    [225, '225 mm'],
    [231.775, '231.8 mm'],
    [0.525, '0.53 mm'],
    [-0.001, '0 mm'],
  ])('%d is %s', (mm, text) => {
    expect(formatMm(mm)).toBe(text);
  });

  test(`every sixteenth of an inch survives printing and reading, seed ${seed}`, () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 16 * 60 }), (sixteenths) => {
        const mm = (sixteenths / 16) * mmPerInch;
        const read = readLength(formatInches(mm), { defaultUnit: 'mm' });
        expect(read.ok && read.value).toBeCloseTo(mm, 9);
      }),
      { seed },
    );
  });

  test(`any length in inches is read back within a thirty-second, in millimetres within a twentieth, seed ${seed}`, () => {
    fc.assert(
      fc.property(fc.double({ min: 0.8, max: 1500, noNaN: true }), (mm) => {
        const inches = readLength(formatInches(mm), { defaultUnit: 'mm' });
        expect(inches.ok && Math.abs(inches.value - mm)).toBeLessThanOrEqual(mmPerInch / 32 + 1e-9);
        const metric = readLength(formatMm(mm), { defaultUnit: 'in' });
        expect(metric.ok && Math.abs(metric.value - mm)).toBeLessThanOrEqual(0.05 + 1e-9);
      }),
      { seed },
    );
  });
});

describe('a size is read height first', () => {
  test.each([
    ['225 x 143 mm', 225, 143, undefined],
    ['225 × 143 × 30', 225, 143, 30],
    ['225x143x30mm', 225, 143, 30],
    ['22.5 by 14.3 cm', 225, 143, undefined],
    ['22,5 x 14,3 x 3 cm', 225, 143, 30],
    ['9" x 6"', 228.6, 152.4, undefined],
    ['9 1/8 x 5 3/4 in', 231.775, 146.05, undefined],
    ['9⅛ x 5¾ inches', 231.775, 146.05, undefined],
    ['22.5 cm x 143 mm', 225, 143, undefined],
    ['H 225 W 143 D 30', 225, 143, 30],
    ['H225 x W143 x D30 mm', 225, 143, 30],
    ['143 wide x 225 high', 225, 143, undefined],
    ['225mm (h) x 143mm (w)', 225, 143, undefined],
    ['oblong, 225 x 143 mm', 143, 225, undefined],
    ['143 x 225 mm, landscape', 143, 225, undefined],
  ])('%s', (text, heightMm, widthMm, thicknessMm) => {
    const read = readSize(text, { defaultUnit: 'mm' });
    expect(read).toMatchObject({ ok: true });
    if (!read.ok) return;
    expect(read.value.heightMm).toBeCloseTo(heightMm, 9);
    expect(read.value.widthMm).toBeCloseTo(widthMm, 9);
    if (thicknessMm === undefined) expect(read.value.thicknessMm).toBeUndefined();
    else expect(read.value.thicknessMm).toBeCloseTo(thicknessMm, 9);
  });

  test.each(['', '225 mm', '1 x 2 x 3 x 4', 'H 225 H 143', '225 x tall', '2250 x 1430', '0 x 3'])(
    '%j is refused',
    (text) => {
      expect(readSize(text, { defaultUnit: 'mm' }).ok).toBe(false);
    },
  );

  test('a size in the wrong column unit asks about the units', () => {
    const read = readSize('225 x 143', { defaultUnit: 'cm' });
    expect(!read.ok && read.refusal.sentence).toMatch(/are the units right/);
  });
});
