import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  amountWords,
  answerEntry,
  enter,
  exactWords,
  type LedgerEntry,
  onHandOf,
  toMillionths,
} from '../../../core/stock/ledger.ts';
import { movementKinds } from '../../../core/stock/material.ts';

const wish = fc.record({
  kind: fc.constantFrom(...movementKinds),
  quantity: fc.double({ min: -5, max: 200, noNaN: true }),
  reason: fc.constantFrom('', 'torn in cutting', 'found behind the press'),
});

/** Enters what is accepted, in order; answers the ledger after every wish. */
function run(wishes: readonly (typeof wish extends fc.Arbitrary<infer T> ? T : never)[]) {
  const ledger: LedgerEntry[] = [];
  const steps: Readonly<{ before: number; entry: LedgerEntry | null }>[] = [];
  for (const one of wishes) {
    const before = onHandOf(ledger);
    const entered = enter(before, one, 'm');
    if (entered.ok) ledger.push(entered.value);
    steps.push({ before, entry: entered.ok ? entered.value : null });
  }
  return { ledger, steps };
}

const seeded = { seed: 20_260_504, numRuns: 300 };

describe('a ledger', () => {
  test('never falls below zero without a recorded reason, whatever is entered (seed 20260504)', () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 40 }), (wishes) => {
        for (const { before, entry } of run(wishes).steps) {
          if (entry && before >= 0 && before + entry.quantityMillionths < 0) expect(entry.reason).not.toBe('');
        }
      }),
      seeded,
    );
  });

  test('holds whole millionths only, so that on hand is the same in whatever order it is summed (seed 20260504)', () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 60 }), (wishes) => {
        const { ledger } = run(wishes);
        expect(ledger.every((entry) => Number.isSafeInteger(entry.quantityMillionths))).toBe(true);
        expect(onHandOf(ledger.toReversed())).toBe(onHandOf(ledger));
      }),
      seeded,
    );
  });

  test('stands at the count after a count, whatever stood there before (seed 20260504)', () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 20 }), fc.double({ min: 0, max: 500, noNaN: true }), (wishes, count) => {
        const { ledger } = run(wishes);
        const entered = enter(onHandOf(ledger), { kind: 'counted', quantity: count, reason: 'stock-take' }, 'm');
        expect(entered.ok && onHandOf([...ledger, entered.value])).toBe(toMillionths(count));
      }),
      seeded,
    );
  });

  test('stands where it stood when a line and its answer are both in it, on the whole and by kind (seed 20260504)', () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 20 }), fc.nat(), (wishes, pick) => {
        const { ledger } = run(wishes);
        if (ledger.length === 0) return;
        const wrong = ledger[pick % ledger.length]!;
        const answered = answerEntry(wrong, 'entered twice');
        if (!answered.ok) throw new Error(answered.refusal.sentence);
        const without = ledger.filter((entry) => entry !== wrong);
        expect(onHandOf([...ledger, answered.value])).toBe(onHandOf(without));
        const ofKind = (entries: readonly LedgerEntry[]) => onHandOf(entries.filter((one) => one.kind === wrong.kind));
        expect(ofKind([...ledger, answered.value])).toBe(ofKind(without));
      }),
      seeded,
    );
  });

  test('of a tenth entered ten times is one exactly', () => {
    const tenth = enter(0, { kind: 'in', quantity: 0.1, reason: '' }, 'm');
    expect(tenth.ok && onHandOf(Array.from({ length: 10 }, () => tenth.value))).toBe(1_000_000);
  });

  test.each([
    [{ kind: 'in', quantity: 0, reason: '' }, 'quantity', 'more than zero'],
    [{ kind: 'out', quantity: -2, reason: 'x' }, 'quantity', 'more than zero'],
    [{ kind: 'in', quantity: Number.NaN, reason: '' }, 'quantity', 'as a number'],
    [{ kind: 'in', quantity: 1e12, reason: '' }, 'quantity', 'ten million'],
    [{ kind: 'counted', quantity: -1, reason: 'x' }, 'quantity', 'zero or more'],
    [{ kind: 'counted', quantity: 4, reason: ' ' }, 'reason', 'The ledger says 3 sheets, the count 4 sheets'],
    [{ kind: 'wasted', quantity: 3.5, reason: '' }, 'reason', 'The ledger holds only 3 sheets'],
  ] as const)('that holds three sheets refuses %j at its %s', (one, field, words) => {
    const entered = enter(3_000_000, one, 'sheet');
    expect(entered).toMatchObject({ ok: false, refusal: { field } });
    expect(!entered.ok && entered.refusal.sentence).toContain(words);
  });

  test('needs no reason for a count that agrees', () => {
    expect(enter(3_000_000, { kind: 'counted', quantity: 3, reason: '' }, 'sheet')).toEqual({
      ok: true,
      value: { kind: 'counted', quantityMillionths: 0, reason: '' },
    });
  });
});

test.each([
  [1_000_000, 'sheet', '1 sheet'],
  [2_500_000, 'sheet', '2.5 sheets'],
  [0, 'piece', '0 pieces'],
  [310_004_000, 'g', '310 g'],
  [1200, 'm', 'less than 0.1 m'],
  [20_000, 'g', 'less than 1 g'],
  [310_400_000, 'ml', '310 ml'],
  [2_449_000, 'm', '2.4 m'],
  [8_950_000, 'piece', '9 pieces'],
  [70_000, 'piece', 'less than 1 piece'],
  [1_000_000, 'piece', '1 piece'],
  [-400_000, 'm', '−0.4 m'],
] as const)('%i millionths of a %s are said as %s', (millionths, unit, words) => {
  expect(amountWords(millionths, unit)).toBe(words);
});

test('what is missing is rounded up, and a ledger’s own lines are said as they were typed', () => {
  expect(amountWords(70_000, 'piece', 'up')).toBe('1 piece');
  expect(amountWords(2_010_000, 'm', 'up')).toBe('2.1 m');
  expect(amountWords(2_000_001, 'm', 'up')).toBe('2 m');
  expect(exactWords(2_450_000, 'm')).toBe('2.45 m');
  expect(exactWords(-250_000, 'sheet')).toBe('−0.25 sheets');
});
