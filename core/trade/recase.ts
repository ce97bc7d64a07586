import { ok, type Result, refuse } from '../result.ts';
import { type BookSize, formatMm } from '../units/lengths.ts';
import { type BackShape, measureBack, measureLinings } from './back.ts';
import { soundBlock } from './case.ts';
import { measureEndpapers } from './reback.ts';
import { noSource, type Piece, type Step } from './working.ts';

/**
 * Putting a block back into the case it came out of, after the Indiana University Libraries, Book Repair Manual (recasing): new endpapers
 * of two folios with a cloth hinge sewn on, new mull, in again. Nothing of the case is cut; what is worked out is whether it still fits.
 */

export type OldCase = Readonly<{
  boardHeightMm: number;
  boardWidthMm: number;
  boardMm: number;
  backWidthMm: number;
  jointMm: number;
  back: BackShape;
}>;

export type Recase = Readonly<{
  verdict: string;
  squaresMm: number;
  foreEdgeMm: number;
  /** Over the back of the block as it is now. */
  backMm: number;
  /** How much the block's back is wider than the old one; less than nothing where it is narrower. */
  overMm: number;
  pieces: readonly Piece[];
  working: readonly Step[];
  remarks: readonly string[];
}>;

/** So much more or less a case of cloth gives way over the back. Common practice, no source. */
const givesMm = 1.5;

/** Refuses a block taller or wider than the boards that are to cover it. */
export function measureRecase(block: BookSize, old: OldCase): Result<Recase> {
  const sound = soundBlock(block);
  if (!sound.ok) return sound;
  const { boardHeightMm, boardWidthMm, boardMm, backWidthMm, jointMm } = old;
  if (!(boardMm > 0 && boardMm <= 12))
    return refuse(`A board ${formatMm(boardMm)} thick is not for a book.`, 'old board');
  if (!(backWidthMm > 0)) return refuse('The old case needs a back.', 'old back');
  if (!(jointMm >= 0)) return refuse('A joint cannot be less than nothing.', 'joint');
  const squaresMm = (boardHeightMm - block.heightMm) / 2;
  const foreEdgeMm = boardWidthMm + jointMm - block.widthMm;
  if (!(squaresMm >= 0)) {
    return refuse(
      `The block stands ${formatMm(-2 * squaresMm)} taller than its old boards; measure both again.`,
      'board high',
    );
  }
  if (!(foreEdgeMm >= 0)) {
    return refuse(
      `The block reaches ${formatMm(-foreEdgeMm)} past the fore-edge of its old boards; measure both again.`,
      'board wide',
    );
  }
  const back = measureBack(block.thicknessMm, old.back, boardMm);
  if (!back.ok) return back;
  const ends = measureEndpapers(block, 'double folio with cloth hinge');
  if (!ends.ok) return ends;
  const linings = measureLinings(block, back.value.widthMm, { kraftLayers: 1 });
  if (!linings.ok) return linings;
  const overMm = back.value.widthMm - backWidthMm;
  return ok({
    verdict: verdictOn(overMm),
    squaresMm,
    foreEdgeMm,
    backMm: back.value.widthMm,
    overMm,
    pieces: [...ends.value.pieces, ...linings.value.pieces],
    working: [
      ...back.value.working,
      { label: 'Squares at head and tail', formula: '(old board − block) ÷ 2', value: squaresMm, unit: 'mm' },
      { label: 'Square at the fore-edge', formula: 'old board + joint − block', value: foreEdgeMm, unit: 'mm' },
      {
        label: 'Wider than the old back by',
        formula: `back of the block − old back; ${formatMm(givesMm)} more or less gives way`,
        value: overMm,
        unit: 'mm',
        source: noSource,
      },
      ...ends.value.working,
      ...linings.value.working,
    ],
    remarks: [
      'Recase where the block is sewn and sound and only its attachment is broken (Indiana University manual, criteria).',
      ...(squaresMm < 1 ? ['With squares under 1 mm the block will drag on the shelf.'] : []),
      ...ends.value.remarks,
    ],
  });
}

function verdictOn(overMm: number): string {
  if (overMm > givesMm) {
    return `the old case is ${formatMm(overMm)} too narrow over the back: take off old glue and linings, or reback`;
  }
  if (overMm < -givesMm)
    return `the old case is ${formatMm(-overMm)} too wide over the back: line the block to fill it`;
  return 'the old case fits';
}
