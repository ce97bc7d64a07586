import { describe, expect, test } from 'vitest';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { measureBack, measureLinings } from '../../../core/trade/back.ts';
import { measureCase, textBlockWithin } from '../../../core/trade/case.ts';
import { measureEndpapers, measureJacket, measureSpinePiece } from '../../../core/trade/reback.ts';
import { operationById, operations } from '../../../core/treatment/library.ts';
import { propose } from '../../../core/treatment/propose.ts';
import { book, found } from './books.ts';

describe('the library', () => {
  test('holds at least 28 operations with ids of their own', () => {
    expect(operations.length).toBeGreaterThanOrEqual(28);
    expect(new Set(operations.map((operation) => operation.id)).size).toBe(operations.length);
  });

  test('depends only on operations it holds, and stands in an order that respects them', () => {
    const place = new Map(operations.map((operation, index) => [operation.id, index]));
    for (const [index, operation] of operations.entries()) {
      for (const id of [...operation.after, ...operation.requires.flat()]) {
        expect(place.get(id), `${operation.id} after ${id}`).toBeLessThan(index);
      }
    }
  });

  test('says a source or that there is none, and has times in order, for every operation', () => {
    for (const { id, source, minutes } of operations) {
      expect(source, id).not.toBe('');
      expect(minutes.low < minutes.likely && minutes.likely < minutes.high, id).toBe(true);
    }
  });

  test('puts a caution beside every blade, shear, solvent and mould', () => {
    const dangerOf = (id: string) => operationById(id)?.cautions.map((caution) => caution.danger) ?? [];
    for (const operation of operations) {
      if (operation.tools.includes('board shear')) expect(dangerOf(operation.id)).toContain('board shear');
      if (operation.id.includes('mould')) expect(dangerOf(operation.id)).toContain('mould');
      if (operation.needs.some((need) => need.kind === 'leather consolidant')) {
        expect(dangerOf(operation.id)).toContain('solvent');
        expect(operation.tools).toContain('extraction hood');
      }
    }
  });
});

describe('pieces of a proposal are the pieces of the trade arithmetic', () => {
  const measured = book();
  const block = textBlockWithin({ heightMm: 196, widthMm: 132, thicknessMm: 34 });
  if (!block.ok) throw new Error('block');
  const measures = measureCase(block.value);
  if (!measures.ok) throw new Error('case');

  function cutOf(findings: Parameters<typeof propose>[1], what: string): readonly [number, number, number] {
    const cuts = propose(measured, findings, []).steps.flatMap((step) => step.needs.flatMap((need) => need.cut ?? []));
    const cut = cuts.find((each) => each.what === what);
    if (cut === undefined) throw new Error(`no ${what} among ${cuts.map((each) => each.what).join(', ')}`);
    return [cut.heightMm, cut.widthMm, cut.count];
  }
  function pieceOf(
    result: Readonly<{
      ok: boolean;
      value?: Readonly<{
        pieces: readonly Readonly<{ part: string; heightMm: number; widthMm: number; count: number }>[];
      }>;
    }>,
    part: string,
  ): readonly [number, number, number] {
    const piece = result.value?.pieces.find((each) => each.part === part);
    if (piece === undefined) throw new Error(`no ${part}`);
    return [piece.heightMm, piece.widthMm, piece.count];
  }
  function same(one: readonly number[], other: readonly number[]): void {
    for (const [index, value] of one.entries()) expect(value).toBeCloseTo(other[index] ?? Number.NaN, 0);
  }

  test('mull and kraft of a relined back', () => {
    const back = measureBack(block.value.thicknessMm, 'rounded', measures.value.boardMm);
    if (!back.ok) throw new Error('back');
    const linings = measureLinings(block.value, back.value.widthMm);
    const lining = [found('spine lining', 'failed adhesive', 2)];
    same(cutOf(lining, 'mull'), pieceOf(linings, 'mull'));
    same(cutOf(lining, 'kraft lining'), pieceOf(linings, 'kraft lining'));
  });

  test('boards, stiffener and cloth of a new case', () => {
    const boards = [found('boards', 'missing', 3)];
    same(cutOf(boards, 'boards'), pieceOf(measures, 'boards'));
    same(cutOf(boards, 'spine stiffener'), pieceOf(measures, 'spine stiffener'));
    same(cutOf(boards, 'cover cloth'), pieceOf(measures, 'cover'));
  });

  test('the spine piece of a reback under the old cloth', () => {
    same(
      cutOf([found('spine', 'torn', 3)], 'spine piece'),
      pieceOf(measureSpinePiece(measures.value, 'under the old cloth'), 'spine piece'),
    );
  });

  test('the spine piece of a reback over the boards', () => {
    same(
      cutOf([found('spine', 'brittle', 3)], 'spine piece'),
      pieceOf(measureSpinePiece(measures.value, 'over the board'), 'spine piece'),
    );
  });

  test('folded endpapers, 5 mm proud', () => {
    same(
      cutOf([found('endpapers', 'missing', 3)], 'folded pairs'),
      pieceOf(measureEndpapers(block.value, 'single folio', 5), 'endpapers').map((value, at) =>
        at === 1 ? value : value,
      ),
    );
  });

  test('a polyester jacket', () => {
    const [height, width] = cutOf([found('covering', 'missing', 2)], 'jacket');
    const [jacketHeight, jacketWidth] = pieceOf(measureJacket(measures.value), 'jacket');
    expect(height).toBeCloseTo(jacketHeight + 2, 0);
    expect(width).toBeCloseTo(jacketWidth, 0);
  });
});

test('the 10 and 90 % points are those of 40,000 simulated sums of PERT times', () => {
  const findings = [found('sewing', 'broken', 3), found('corners', 'broken', 3, 4), found('leaves', 'torn', 3, 20)];
  const proposal = propose(book(), findings, []);
  const chance = chanceFrom(7);
  const sums = Array.from({ length: 40_000 }, () =>
    proposal.steps.reduce((sum, { minutes: { low, likely, high } }) => {
      const alpha = 1 + (4 * (likely - low)) / (high - low);
      const beta = 1 + (4 * (high - likely)) / (high - low);
      return sum + low + (high - low) * betaDraw(alpha, beta, chance);
    }, 0),
  ).sort((one, other) => one - other);
  expect(proposal.minutes.low / (sums[4000] ?? 0)).toBeCloseTo(1, 1);
  expect(proposal.minutes.high / (sums[36_000] ?? 0)).toBeCloseTo(1, 1);
  expect(Math.abs(proposal.minutes.low / (sums[4000] ?? 0) - 1)).toBeLessThan(0.02);
  expect(Math.abs(proposal.minutes.high / (sums[36_000] ?? 0) - 1)).toBeLessThan(0.02);
});

/** Two gamma draws make a beta draw; gamma after Marsaglia and Tsang 2000. */
function betaDraw(alpha: number, beta: number, chance: () => number): number {
  const one = gammaDraw(alpha, chance);
  return one / (one + gammaDraw(beta, chance));
}

function gammaDraw(shape: number, chance: () => number): number {
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - chance()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}
