import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Calculation, type Circumstances, type Outcome, unreadable } from '../../../core/trade/calculation.ts';
import { calculations } from '../../../core/trade/reckoner.ts';

const seed = 20_261_125;
const letter = {
  widths: Object.fromEntries([...'ABCDEFGHIJKLMNOPQRSTUVWXYZ '].map((sign) => [sign, 0.6])),
  capHeight: 0.7,
};
const here: Circumstances = { unit: 'mm', glyphs: letter };

function usual({ fields }: Calculation): Record<string, string> {
  return Object.fromEntries(Object.entries(fields).map(([key, field]) => [key, field.usual]));
}

function expectSound(outcome: Outcome): void {
  for (const figure of outcome.figures)
    if ('value' in figure) expect(figure.value, figure.label).toSatisfy(Number.isFinite);
  for (const step of outcome.working) expect(step.value, step.label).toSatisfy(Number.isFinite);
  for (const piece of outcome.pieces) {
    expect(piece.heightMm, piece.part).toBeGreaterThan(0);
    expect(piece.widthMm, piece.part).toBeGreaterThan(0);
  }
  // A number that is none becomes null here.
  expect(JSON.stringify(outcome)).not.toMatch(/[:,[]null/);
  if (outcome.drawing !== undefined)
    expect(outcome.drawing.widthMm * outcome.drawing.heightMm).toSatisfy(Number.isFinite);
}

describe('the Reckoner', () => {
  test('knows each calculation by a name of its own', () => {
    expect(new Set(calculations.map(({ id }) => id)).size).toBe(calculations.length);
    expect(new Set(calculations.map(({ title }) => title)).size).toBe(calculations.length);
  });

  describe.each(calculations.map((one) => [one.title, one] as const))('%s', (_, calculation) => {
    test('answers its usual values, in millimetres or inches', () => {
      for (const unit of ['mm', 'in'] as const) {
        const answer = calculation.reckon(usual(calculation), { ...here, unit });
        expect(answer).toMatchObject({ ok: true });
        if (answer.ok) {
          expect(answer.value.figures.length).toBeGreaterThan(0);
          expectSound(answer.value);
        }
      }
    });

    test('refuses an empty field, and letters where a number belongs, at that field', () => {
      for (const [key, field] of Object.entries(calculation.fields)) {
        if (field.kind === 'text') continue;
        const needed = field.kind === 'choice' || !field.optional;
        for (const typed of needed ? ['', 'abc'] : ['abc']) {
          const answer = calculation.reckon({ ...usual(calculation), [key]: typed }, here);
          expect(!answer.ok && answer.refusal.field).toBe(key);
        }
      }
    });

    test(`no string typed into any of its fields stops it or comes out as what is not a number, seed ${seed}`, () => {
      const typed = fc.oneof(
        fc.string({ unit: 'binary', maxLength: 60 }),
        fc.string({ unit: fc.constantFrom(...'0123456789.,/- +eEx×mcinft"\'°½AB4()±π^:;[]'), maxLength: 24 }),
        fc.double().map(String),
        fc.constantFrom(
          'NaN',
          'Infinity',
          '-Infinity',
          '1e308',
          '0x10',
          '__proto__',
          'constructor',
          '-0',
          '1/3',
          '٣ mm',
        ),
      );
      const keys = Object.keys(calculation.fields);
      fc.assert(
        fc.property(fc.constantFrom(...keys), typed, fc.constantFrom('mm', 'in' as const), (key, text, unit) => {
          const answer = calculation.reckon({ ...usual(calculation), [key]: text }, { ...here, unit });
          if (answer.ok) expectSound(answer.value);
          else {
            expect(answer.refusal.sentence).toMatch(/[.?]$/);
            const ours = answer.refusal.sentence.replace(/“[\s\S]*”/, '');
            expect(ours).not.toMatch(/NaN|undefined|\[object|Infinity/);
          }
        }),
        { seed, numRuns: 100 },
      );
    });

    test(`never answers with what is not a number, seed ${seed}`, () => {
      const typed = fc.dictionary(
        fc.constantFrom(...Object.keys(calculation.fields)),
        fc.constantFrom(
          '0',
          '-1',
          '1',
          '7 1/2',
          '3 in',
          '0.01',
          '999999',
          '1e9',
          '12',
          '150',
          'x',
          '',
          '2,5',
          'A4',
          '8vo',
          'A8 (-A3)',
        ),
        { maxKeys: 4 },
      );
      fc.assert(
        fc.property(typed, (entries) => {
          const answer = calculation.reckon({ ...usual(calculation), ...entries }, here);
          if (answer.ok) expectSound(answer.value);
          else expect(answer.refusal.sentence).toMatch(/[.?]$/);
        }),
        { seed, numRuns: 60 },
      );
    });
  });

  test('every field that cannot be read is said, each in its own words without its label', () => {
    for (const one of calculations) {
      const wrong = Object.entries(one.fields).filter(
        ([, field]) => field.kind === 'length' || field.kind === 'number',
      );
      const typed = Object.fromEntries(wrong.map(([key]) => [key, 'x7x']));
      const troubles = unreadable(one.fields, typed, 'mm');
      expect(Object.keys(troubles)).toEqual(wrong.map(([key]) => key));
      for (const [key, field] of wrong) expect(troubles[key]).not.toContain(`${field.label}:`);
      expect(unreadable(one.fields, {}, 'mm')).toEqual({});
    }
  });

  test('a refusal from within a calculation points at the field it means', () => {
    const find = (id: string) => calculations.find((one) => one.id === id);
    const joint = find('case')?.reckon({ joint: '90 mm' }, here);
    expect(joint && !joint.ok && joint.refusal).toMatchObject({ field: 'joint' });
    const bands = find('panels')?.reckon({ bands: '12', height: '40 mm' }, here);
    expect(bands && !bands.ok && bands.refusal).toMatchObject({ field: 'bands' });
  });

  test('lettering waits until the letter has been measured', () => {
    const answer = calculations.find((one) => one.id === 'lettering')?.reckon({}, { unit: 'mm' });
    expect(answer?.ok).toBe(false);
  });
});
