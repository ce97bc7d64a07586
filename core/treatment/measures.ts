/**
 * The measures that minutes and materials are worked out from: the block, its back, the boards, and how many leaves and sections there are.
 * What nobody measured is filled in from the format's usual size, or from a typical octavo, and said.
 */
import type { Book } from '../book/book.ts';
import { readFormat } from '../book/format-names.ts';
import { foldedLeaf, sheetSize } from '../book/formats.ts';
import { measureCase } from '../trade/case.ts';
import { hasBoards, type KeptMeasures, ownCase } from '../trade/own-case.ts';
import { tapesForHeight, threadLength } from '../trade/sewing.ts';
import type { BookSize } from '../units/lengths.ts';

/** Millimetres, and plain counts. */
export type Measures = Readonly<{
  blockHeight: number;
  blockWidth: number;
  blockThickness: number;
  /** Over the rounded back. */
  back: number;
  boardHeight: number;
  boardWidth: number;
  board: number;
  /** Cloth in each joint of a case lying flat. */
  joint: number;
  /** The case lying flat, without turn-ins. */
  caseWidth: number;
  turnIn: number;
  /** New cloth on each board of a reback: beyond the cut under the old cloth, and over the board. */
  lift: number;
  onBoard: number;
  mullOverlap: number;
  mullShort: number;
  /** A plain count. */
  kraftLayers: number;
  /** A hollow before it is folded. */
  hollow: number;
  /** Endpapers too large by so much, to trim. */
  proud: number;
  leaves: number;
  sections: number;
  tapes: number;
  /** Metres to sew the whole block all along. */
  threadM: number;
  /** Sentences on what was not measured and what was taken instead. */
  assumed: readonly string[];
}>;

/**
 * Always sound: positive, finite, and within what a bench can hold. What a person kept for this book otherwise, a square or a joint, is what
 * its materials are cut by.
 */
export function measuresOf(book: Book, kept: KeptMeasures = {}): Measures {
  const assumed: string[] = [];
  const cover = coverSize(book, assumed);
  const leaves = leavesOf(book, cover.thicknessMm, assumed);
  const own = ownCase(cover, hasBoards(book), kept);
  const { block, linings } = own;
  const sections = Math.max(1, Math.ceil(leaves / leavesInSection));
  const tapes = tapesForHeight(block.heightMm);
  const supports = tapes.ok ? Math.min(8, tapes.value) : 3;
  const thread = threadLength({
    heightMm: block.heightMm,
    sections,
    sectionThicknessMm: block.thicknessMm / sections,
    supports,
    sewn: 'all along',
  });
  // A block too low for kettle stitches is sewn with a length for each section.
  const threadM = thread.ok ? thread.value.metres : (block.heightMm * sections) / 1000;
  const { liftMm, onBoardMm, proudMm } = own;
  const same = {
    ...blockMeasures(block),
    turnIn: own.habits.turnInMm,
    lift: liftMm,
    onBoard: onBoardMm,
    mullOverlap: linings.mullOverlapMm,
    mullShort: linings.mullShortMm,
    kraftLayers: linings.kraftLayers,
    proud: proudMm,
    leaves,
    sections,
    tapes: supports,
    threadM,
    assumed,
  };
  const layers = linings.hollow === 'two on, two off' ? 4 : 3;
  const measured = measureCase(block, own.habits);
  if (measured.ok) {
    const { back, boardHeightMm, boardWidthMm, boardMm, gapMm, flatWidthMm } = measured.value;
    return {
      ...same,
      back: back.widthMm,
      hollow: layers * back.widthMm,
      boardHeight: boardHeightMm,
      boardWidth: boardWidthMm,
      board: boardMm,
      joint: gapMm,
      caseWidth: flatWidthMm,
    };
  }
  // A book too small or too thin for the rules of a case still has sides and a back.
  return {
    ...same,
    back: block.thicknessMm,
    hollow: layers * block.thicknessMm,
    boardHeight: cover.heightMm,
    boardWidth: cover.widthMm,
    board: 1.5,
    joint: 6,
    caseWidth: 2 * cover.widthMm + cover.thicknessMm + 12,
  };
}

function blockMeasures(block: BookSize): Pick<Measures, 'blockHeight' | 'blockWidth' | 'blockThickness'> {
  return { blockHeight: block.heightMm, blockWidth: block.widthMm, blockThickness: block.thicknessMm };
}

/** A usual section is 4 to 8 folded sheets (BonaDea, Conservation Book Repair, 1995); an octavo section of one sheet has 8 leaves. */
const leavesInSection = 8;

/** Cut crown octavo: the commonest size of a 19th-century cloth book. Common practice, no source. */
const typicalOctavo: BookSize = { heightMm: 195, widthMm: 130, thicknessMm: 30 };

/** 80 g/m2 at bulk 1.25 cm3/g is 0.1 mm a leaf; book papers of the period are a little thicker. Common practice, no source. */
const leafMm = 0.12;

function coverSize(book: Book, assumed: string[]): BookSize {
  let { heightMm, widthMm, thicknessMm } = book;
  heightMm = plausible(heightMm, 1200);
  widthMm = plausible(widthMm, 1200);
  thicknessMm = plausible(thicknessMm, 300);
  if (heightMm === null || widthMm === null) {
    const usual = usualSize(book.format);
    const size = usual ?? typicalOctavo;
    const ratio = size.widthMm / size.heightMm;
    if (heightMm === null && widthMm === null) {
      heightMm = size.heightMm;
      widthMm = size.widthMm;
      assumed.push(
        usual
          ? `Height and width are not measured; the usual size of a ${book.format.trim()} is taken, ${Math.round(heightMm)} × ${Math.round(widthMm)} mm.`
          : 'Height and width are not measured and the format is not known; a typical octavo is taken, 195 × 130 mm.',
      );
    } else {
      heightMm ??= (widthMm ?? 0) / ratio;
      widthMm ??= heightMm * ratio;
      assumed.push('One of height and width is not measured; it is taken in the usual proportion.');
    }
  }
  if (thicknessMm === null) {
    const pages = plausible(book.pages, 20_000);
    thicknessMm = pages === null ? typicalOctavo.thicknessMm : Math.min(250, Math.max(4, (pages / 2) * leafMm + 5));
    assumed.push(
      pages === null
        ? 'Thickness is not measured; 30 mm is taken.'
        : `Thickness is not measured; ${Math.round(thicknessMm)} mm is taken from ${pages} pages.`,
    );
  }
  return { heightMm, widthMm, thicknessMm };
}

function leavesOf(book: Book, thicknessMm: number, assumed: string[]): number {
  const pages = plausible(book.pages, 20_000);
  if (pages !== null) return Math.max(1, Math.ceil(pages / 2));
  const leaves = Math.max(1, Math.round((thicknessMm - 5) / leafMm));
  assumed.push(`Pages are not counted; ${leaves} leaves are taken from the thickness.`);
  return leaves;
}

function plausible(value: number | null, most: number): number | null {
  return value !== null && value > 0 && value <= most ? value : null;
}

/** Boards with ordinary squares are as large as the untrimmed leaf (Roberts & Etherington 1982, "book sizes"). */
function usualSize(format: string): Readonly<{ heightMm: number; widthMm: number }> | undefined {
  if (format.trim() === '') return undefined;
  const known = remembered.get(format);
  if (known !== undefined) return known ?? undefined;
  const size = workOutUsualSize(format);
  // Lists repeat a few formats endlessly; one that never does cannot fill the memory.
  if (remembered.size < 500) remembered.set(format, size ?? null);
  return size;
}

const remembered = new Map<string, Readonly<{ heightMm: number; widthMm: number }> | null>();

function workOutUsualSize(format: string): Readonly<{ heightMm: number; widthMm: number }> | undefined {
  const read = readFormat(format);
  if (!read.ok) return undefined;
  for (const tradition of ['british', 'french'] as const) {
    // Without a sheet's name, crown is taken: the commonest of 19th-century book papers. Common practice, no source.
    const sheet = sheetSize(read.value.sheet ?? 'crown', tradition);
    if (!sheet.ok) continue;
    const leaf = foldedLeaf(sheet.value, read.value.fold);
    return read.value.oblong ? { heightMm: leaf.widthMm, widthMm: leaf.heightMm } : leaf;
  }
  return undefined;
}
