import { ok, type Result } from '../result.ts';
import { type Back, measureBack, measureLinings, swellRange, usualLinings, usualRoundDegrees } from './back.ts';
import { measureBox, usualBox } from './box.ts';
import {
  type Calculation,
  calculation,
  choice,
  count,
  type Figure,
  length,
  number,
  optionalLength,
} from './calculation.ts';
import { type CaseHabits, type CaseMeasures, measureCase, usualCase } from './case.ts';
import { drawBackSection, drawCase, drawLinings, drawSpinePiece } from './drawing-covers.ts';
import { drawPieces } from './drawing-sheets.ts';
import { usualCoversMm } from './own-case.ts';
import { measureEndpapers, measureJacket, measureSpinePiece, measureWrapper, usualReback } from './reback.ts';
import { measureRecase } from './recase.ts';
import type { Piece } from './working.ts';

/** Calculations on the cover of a book and what is glued to its back. */

const block = {
  height: length('Height of the block', '190 mm', 'cut, head to tail'),
  width: length('Width of the block', '125 mm', 'spine to fore-edge'),
  thickness: length('Thickness of the block', '30 mm', 'at the back, nipped'),
};
const backAndBoard = {
  back: choice('Back', ['rounded', 'flat'], 'rounded'),
  board: optionalLength('Board', 'chosen for the size when left empty'),
};

const usual = (field: keyof typeof usualCoversMm): string => `${usualCoversMm[field]} mm`;

const coverings = { cloth: 'covering cloth', leather: 'covering leather', paper: 'side paper' } as const;

type Block = Readonly<{
  height: number;
  width: number;
  thickness: number;
  back: 'rounded' | 'flat';
  board: number | undefined;
}>;

function caseFor(values: Block, habits: Partial<CaseHabits> = {}): Result<CaseMeasures> {
  return measureCase(
    { heightMm: values.height, widthMm: values.width, thicknessMm: values.thickness },
    { back: values.back, boardMm: values.board, ...habits },
  );
}

const inMm = (label: string, value: number): Figure => ({ label, value, unit: 'mm' });

function cutSizes(pieces: readonly Piece[]): readonly Figure[] {
  return pieces.flatMap(({ part, heightMm, widthMm, count: pieces }) => {
    const name = `${part.charAt(0).toUpperCase()}${part.slice(1)}${pieces > 1 ? `, ${pieces}` : ''}`;
    return [inMm(`${name}: high`, heightMm), inMm(`${name}: wide`, widthMm)];
  });
}

export const coverCalculations: readonly Calculation[] = [
  calculation({
    id: 'case',
    title: 'Case',
    group: 'Covers',
    about:
      'Boards, stiffener and covering of a new case for a cut text block; squares and turn-ins after Vaughn 1914, joints after the Getty AAT.',
    fields: {
      ...block,
      ...backAndBoard,
      style: choice('Style', ['full', 'quarter', 'half'], 'full'),
      covering: choice('Covering', ['cloth', 'leather', 'paper'], 'cloth'),
      square: optionalLength(
        'Squares',
        '3.2 mm (1/8 in), or 4.8 mm (3/16 in) over 254 mm (10 in) of height, when left empty',
      ),
      joint: length('Joint', usual('joint'), 'width of the groove on the finished book, 3.2 to 6.4 mm (1/8 to 1/4 in)'),
      'turn-in': length('Turn-in', usual('turn-in'), '19 mm (3/4 in) is usual'),
    },
    reckon(values) {
      const { style, square } = values;
      const measured = caseFor(values, {
        style,
        covering: coverings[values.covering],
        squareMm: square,
        jointMm: values.joint,
        turnInMm: values['turn-in'],
      });
      if (!measured.ok) return measured;
      const { pieces, working, remarks } = measured.value;
      return ok({ figures: cutSizes(pieces), pieces, working, remarks, drawing: drawCase(measured.value) });
    },
  }),
  calculation({
    id: 'spine-piece',
    title: 'Spine piece for a reback',
    group: 'Covers',
    about:
      'New cloth under the lifted old cloth or over the board, after the Indiana University Book Repair Manual; sizes of the boards from the block.',
    fields: {
      ...block,
      ...backAndBoard,
      joint: length('Joint', usual('joint'), 'width of the groove'),
      method: choice('New cloth', ['under the old cloth', 'over the board'], 'under the old cloth'),
      lift: length('Lift of the old cloth', usual('lift'), 'under: how far the old cloth is lifted'),
      'on the board': length('Cloth on each board', usual('on the board'), 'over: how far it lies on the board'),
    },
    reckon(values) {
      const book = caseFor(values, { jointMm: values.joint });
      if (!book.ok) return book;
      const measured = measureSpinePiece(book.value, values.method, {
        ...usualReback,
        liftMm: values.lift,
        onBoardMm: values['on the board'],
      });
      if (!measured.ok) return measured;
      const { pieces, working, remarks, originals } = measured.value;
      const kept = originals.map(({ part, place }) => ({ label: `Kept: ${part}`, text: place }));
      return ok({
        figures: [...cutSizes(pieces), ...kept],
        pieces,
        working: [...book.value.working, ...working],
        remarks,
        drawing: drawSpinePiece(book.value, measured.value),
      });
    },
  }),
  calculation({
    id: 'recase',
    title: 'Recase',
    group: 'Covers',
    about:
      'Whether a mended block still fits the case it came out of, and what it needs to go back in; tolerance and squares: common practice, no source.',
    fields: {
      ...block,
      back: backAndBoard.back,
      'board high': length('Old board, high', '196 mm'),
      'board wide': length('Old board, wide', '123 mm'),
      'old back': length('Old back, wide', '41 mm', 'over the inside, board edge to board edge less both joints'),
      'old board': length('Old board, thick', '2.2 mm'),
      joint: length('Joint', usual('joint'), 'width of the groove'),
    },
    reckon(values) {
      const measured = measureRecase(
        { heightMm: values.height, widthMm: values.width, thicknessMm: values.thickness },
        {
          boardHeightMm: values['board high'],
          boardWidthMm: values['board wide'],
          boardMm: values['old board'],
          backWidthMm: values['old back'],
          jointMm: values.joint,
          back: values.back,
        },
      );
      if (!measured.ok) return measured;
      const { verdict, squaresMm, foreEdgeMm, backMm, overMm, pieces, working, remarks } = measured.value;
      return ok({
        figures: [
          { label: 'Then', text: verdict },
          inMm('Squares at head and tail', squaresMm),
          inMm('Square at the fore-edge', foreEdgeMm),
          inMm('Back of the block', backMm),
          inMm('Wider than the old back by', overMm),
          ...cutSizes(pieces),
        ],
        pieces,
        working,
        remarks,
        drawing: drawPieces('Endpapers and mull of a recase', pieces),
      });
    },
  }),
  calculation({
    id: 'linings',
    title: 'Linings of the back',
    group: 'Covers',
    about: 'Mull, kraft and hollow; overlaps and what they stop short after Bailey 1916, hollow after Zaehnsdorf 1890.',
    fields: {
      ...block,
      ...backAndBoard,
      overlap: length(
        'Mull down each side',
        usual('overlap'),
        '31.8 mm (1 1/4 in) at least, 50.8 mm (2 in) on reference books',
      ),
      short: length('Mull short of head and tail', usual('short')),
      layers: count('Layers of kraft', '1'),
      hollow: choice('Hollow', ['none', 'one on, two off', 'two on, two off'], 'none'),
    },
    reckon(values) {
      const back = backFor(values);
      if (!back.ok) return back;
      const size = { heightMm: values.height, widthMm: values.width, thicknessMm: values.thickness };
      const measured = measureLinings(size, back.value.widthMm, {
        ...usualLinings,
        mullOverlapMm: values.overlap,
        mullShortMm: values.short,
        kraftLayers: values.layers,
        hollow: values.hollow,
      });
      if (!measured.ok) return measured;
      const { pieces, working, remarks } = measured.value;
      return ok({
        figures: cutSizes(pieces),
        pieces,
        working: [...back.value.working, ...working],
        remarks,
        drawing: drawLinings(values.height, back.value, measured.value),
      });
    },
  }),
  calculation({
    id: 'back',
    title: 'Round and swell of the back',
    group: 'Covers',
    about:
      'Width over a rounded back as part of a circle, and what the thread may add: a range, because no formula for swell is known.',
    fields: {
      thickness: block.thickness,
      ...backAndBoard,
      round: number('Round', String(usualRoundDegrees), '°', 'degrees of a circle; 120 is a third'),
      sections: count('Sections', '20'),
      thread: length('Thread', '0.53 mm', 'its thickness'),
      sewn: choice('Sewn', ['all along', 'two on'], 'all along'),
    },
    reckon(values) {
      const back = measureBack(values.thickness, values.back, values.board ?? defaultBoardMm, values.round);
      if (!back.ok) return back;
      const swell = swellRange(values.sections, values.thread, values.sewn);
      if (!swell.ok) return swell;
      return ok({
        figures: [
          inMm('Over the back', back.value.widthMm),
          inMm('Across the back', back.value.chordMm),
          inMm('Rise', back.value.riseMm),
          inMm('Swell at most', swell.value.toMm),
        ],
        working: [...back.value.working, ...swell.value.working],
        remarks: [...back.value.remarks, ...swell.value.remarks],
        drawing: drawBackSection(back.value, values.thickness),
      });
    },
  }),
  calculation({
    id: 'endpapers',
    title: 'Endpapers',
    group: 'Covers',
    about:
      'Folded sheets for both ends, with a cloth hinge where they are sewn on (Indiana University Book Repair Manual).',
    fields: {
      height: block.height,
      width: block.width,
      kind: choice('Kind', ['single folio', 'double folio with cloth hinge'], 'single folio'),
      proud: length(
        'Left to trim',
        usual('proud'),
        'at head, tail and fore-edge; nothing for a block that is not cut again',
      ),
    },
    reckon(values) {
      const measured = measureEndpapers({ heightMm: values.height, widthMm: values.width }, values.kind, values.proud);
      if (!measured.ok) return measured;
      const { pieces, working, remarks } = measured.value;
      return ok({ figures: cutSizes(pieces), pieces, working, remarks, drawing: drawPieces('Endpapers', pieces) });
    },
  }),
  calculation({
    id: 'jacket',
    title: 'Jacket',
    group: 'Covers',
    about:
      'A loose jacket for a book in its case: round boards, back and fore-edges, and in by its flaps. Common practice, no source.',
    fields: { ...block, ...backAndBoard, flap: optionalLength('Flap', 'two fifths of the board when left empty') },
    reckon(values) {
      const book = caseFor(values);
      if (!book.ok) return book;
      const measured = measureJacket(book.value, values.flap);
      if (!measured.ok) return measured;
      const { pieces, working, flapMm } = measured.value;
      return ok({
        figures: [...cutSizes(pieces), inMm('Flap', flapMm)],
        pieces,
        working,
        drawing: drawPieces('Jacket', pieces),
      });
    },
  }),
  calculation({
    id: 'wrapper',
    title: 'Wrapper',
    group: 'Covers',
    about:
      'Two crossed strips that hold a book whose boards are loose until it can be mended. Common practice, no source.',
    fields: {
      height: length('Height of the book', '196 mm', 'over its boards'),
      width: length('Width of the book', '128 mm'),
      thickness: length('Thickness of the book', '35 mm'),
    },
    reckon(values) {
      const measured = measureWrapper({
        heightMm: values.height,
        widthMm: values.width,
        thicknessMm: values.thickness,
      });
      if (!measured.ok) return measured;
      const { pieces, working } = measured.value;
      return ok({ figures: cutSizes(pieces), pieces, working, drawing: drawPieces('Wrapper', pieces) });
    },
  }),
  calculation({
    id: 'box',
    title: 'Drop-spine box',
    group: 'Covers',
    about:
      'Two trays and their case for a book as it measures over its boards; geometry, with clearances of common practice, no source.',
    fields: {
      height: length('Height of the book', '196 mm', 'over its boards'),
      width: length('Width of the book', '128 mm'),
      thickness: length('Thickness of the book', '35 mm', 'at its thickest'),
      board: length('Board', '2.5 mm'),
      clearance: length('Air round the book', '1.5 mm', 'each side'),
    },
    reckon(values) {
      const measured = measureBox(
        { heightMm: values.height, widthMm: values.width, thicknessMm: values.thickness },
        { ...usualBox, boardMm: values.board, clearanceMm: values.clearance },
      );
      if (!measured.ok) return measured;
      const { pieces, working, remarks } = measured.value;
      return ok({ figures: cutSizes(pieces), pieces, working, remarks, drawing: drawPieces('Drop-spine box', pieces) });
    },
  }),
];

/** A binder's board of .088 in: what the middle of the shelf takes. */
const defaultBoardMm = 2.2;

function backFor(values: Block): Result<Back> {
  const measured = caseFor(values, { turnInMm: usualCase.turnInMm });
  return measured.ok ? ok(measured.value.back) : measured;
}
