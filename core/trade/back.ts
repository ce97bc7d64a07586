import { ok, type Result, refuse } from '../result.ts';
import { type BookSize, formatMm, mmPerInch } from '../units/lengths.ts';
import { noSource, type Piece, type Step } from './working.ts';

/**
 * The back of a book: how thick the block is, how much the thread swells it, how wide the rounded back is, and what is glued to it. Sizes
 * are of the text block, cut, before boards.
 */

export type BackShape = 'flat' | 'rounded';

/** The round is a part of a circle, about a third: 120 degrees. Zaehnsdorf, "The Art of Bookbinding"; the third is from memory. */
export const usualRoundDegrees = 120;

/**
 * Thickness of a text block: leaves times the caliper of one leaf, which is how a pile of paper measures when nipped; a slack or cockled
 * block is thicker. Refuses a caliper no book paper has.
 */
export function textBlockThickness(
  leaves: number,
  caliperMm: number,
): Result<Readonly<{ thicknessMm: number; working: readonly Step[] }>> {
  if (!(Number.isInteger(leaves) && leaves > 0))
    return refuse('A text block needs a whole number of leaves.', 'leaves');
  if (!(caliperMm > 0.015 && caliperMm < 1)) {
    return refuse(
      `No book paper measures ${formatMm(caliperMm)} a leaf; between 0.02 and 1 mm is to be expected.`,
      'caliper',
    );
  }
  const thicknessMm = leaves * caliperMm;
  return ok({
    thicknessMm,
    working: [{ label: 'Text block', formula: 'leaves × caliper of one leaf', value: thicknessMm, unit: 'mm' }],
  });
}

/**
 * How many leaves a block of this thickness has, for a copy without page numbers; the range comes from a tenth of doubt about the caliper
 * (common practice, no source).
 */
export function leavesFromThickness(
  thicknessMm: number,
  caliperMm: number,
): Result<Readonly<{ leaves: number; from: number; to: number }>> {
  if (!(thicknessMm > 0)) return refuse('A text block needs a thickness.', 'thickness');
  if (!(caliperMm > 0.015 && caliperMm < 1))
    return refuse('A leaf of book paper is between 0.02 and 1 mm thick.', 'caliper');
  const leaves = thicknessMm / caliperMm;
  return ok({ leaves: Math.round(leaves), from: Math.floor(leaves / 1.1), to: Math.ceil(leaves / 0.9) });
}

export type Sewn = 'all along' | 'two on';

/** Sections at each end sewn all along when the rest are two on. Cockerell 1901 says the first and last few; two is common practice. */
const allAlongAtEnds = 2;

/** Threads that lie in the back: one a section all along, half of the inner ones two on. */
export function threadsInBack(sections: number, sewn: Sewn): number {
  if (sewn === 'all along' || sections <= 2 * allAlongAtEnds) return sections;
  return 2 * allAlongAtEnds + Math.ceil((sections - 2 * allAlongAtEnds) / 2);
}

/**
 * How much the sewing may swell the back, as a range and not a figure: from nothing (soft paper, well nipped, swallows the thread;
 * Roberts & Etherington 1982, "swelling") up to all threads lying one on another. No published formula is known, and one teacher of
 * binding counts ten causes (J. Peachey, "A Guide to Swell").
 */
export function swellRange(
  sections: number,
  threadDiameterMm: number,
  sewn: Sewn,
): Result<
  Readonly<{ fromMm: number; toMm: number; threads: number; working: readonly Step[]; remarks: readonly string[] }>
> {
  if (!(Number.isInteger(sections) && sections > 0))
    return refuse('Sewing needs a whole number of sections.', 'sections');
  if (!(threadDiameterMm > 0.1 && threadDiameterMm < 2)) {
    return refuse('Sewing thread is between 0.1 and 2 mm thick.', 'thread');
  }
  const threads = threadsInBack(sections, sewn);
  const toMm = threads * threadDiameterMm;
  return ok({
    fromMm: 0,
    toMm,
    threads,
    working: [
      {
        label: 'Threads in the back',
        formula: sewn === 'all along' ? 'one a section' : 'one a section at the ends, half of the rest',
        value: threads,
        unit: '',
        source: 'Cockerell 1901; Zaehnsdorf 1890',
      },
      { label: 'Swell at most', formula: 'threads × diameter of the thread', value: toMm, unit: 'mm' },
    ],
    remarks: [
      'Soft paper swallows most of the thread when nipped; hard paper keeps it. Measure the back once it is sewn.',
    ],
  });
}

export type Back = Readonly<{
  /** Straight across, shoulder to shoulder. */
  chordMm: number;
  /** Over the round; the chord itself when flat. */
  widthMm: number;
  /** How far the round stands out beyond the shoulders. */
  riseMm: number;
  shoulderMm: number;
  working: readonly Step[];
  remarks: readonly string[];
}>;

/**
 * The width of the back a case must cover. Flat: over the boards. Rounded and backed: the arc between the shoulders, each as deep as the
 * board or a little deeper (Adam 1903), over a round of so many degrees of a circle. Good for rounds up to a half circle.
 */
export function measureBack(
  thicknessMm: number,
  shape: BackShape,
  boardMm: number,
  roundDegrees = usualRoundDegrees,
): Result<Back> {
  if (!(thicknessMm > 0)) return refuse('A book with no thickness has no back.', 'thickness');
  if (!(boardMm > 0)) return refuse('A board needs a thickness.', 'board');
  if (shape === 'rounded' && !(roundDegrees > 0 && roundDegrees <= 180)) {
    return refuse('A back is rounded to more than nothing and at most half a circle.', 'round');
  }
  const remarks: string[] = [];
  const chordMm = thicknessMm + 2 * boardMm;
  const chord: Step = {
    label: 'Across the back',
    formula:
      shape === 'flat'
        ? 'thickness at the back + two boards'
        : 'thickness at the back + two shoulders as deep as the board',
    value: chordMm,
    unit: 'mm',
    source: 'shoulder: Adam, Practical Bookbinding, 1903',
  };
  if (shape === 'flat') {
    return ok({ chordMm, widthMm: chordMm, riseMm: 0, shoulderMm: 0, working: [chord], remarks });
  }
  if (thicknessMm < 10) remarks.push('So thin a book is hardly worth rounding; most are left flat under about 10 mm.');
  const half = (roundDegrees / 2) * (Math.PI / 180);
  const radiusMm = chordMm / (2 * Math.sin(half));
  const widthMm = 2 * half * radiusMm;
  const riseMm = radiusMm * (1 - Math.cos(half));
  return ok({
    chordMm,
    widthMm,
    riseMm,
    shoulderMm: boardMm,
    remarks,
    working: [
      chord,
      {
        label: 'Radius of the round',
        formula: `across the back ÷ 2 ÷ sine of half of ${roundDegrees}°`,
        value: radiusMm,
        unit: 'mm',
        source: 'part of a circle: Zaehnsdorf; a third of it: from memory',
      },
      { label: 'Width over the back', formula: 'radius × angle of the round', value: widthMm, unit: 'mm' },
      { label: 'Rise', formula: 'radius × (1 − cosine of half the angle)', value: riseMm, unit: 'mm' },
    ],
  });
}

export type LiningHabits = Readonly<{
  /** How far the mull comes down each endpaper. */
  mullOverlapMm: number;
  /** How far mull stops short of head and tail, each. */
  mullShortMm: number;
  /** How far the kraft stops short of head and tail, each. */
  kraftShortMm: number;
  kraftLayers: number;
  hollow: 'none' | 'one on, two off' | 'two on, two off';
}>;

/**
 * Mull 1 1/4 in down each side (Bailey 1916, spec. 21, the least for library rebinding) and 1/2 in short of head and tail (Bailey, spec.
 * for reference books). Kraft 1/16 in short: common practice, no source.
 */
export const usualLinings: LiningHabits = {
  mullOverlapMm: 1.25 * mmPerInch,
  mullShortMm: mmPerInch / 2,
  kraftShortMm: mmPerInch / 16,
  kraftLayers: 1,
  hollow: 'none',
};

export type Linings = Readonly<{ pieces: readonly Piece[]; working: readonly Step[]; remarks: readonly string[] }>;

/**
 * What is glued to the back of the block: mull over the back and down the sides, kraft on the back only, and a hollow of kraft if there is
 * to be one. `backWidthMm` is over the back (`measureBack`). Refuses a lining that leaves nothing between head and tail, or reaches past
 * the fore-edge.
 */
export function measureLinings(
  textBlock: BookSize,
  backWidthMm: number,
  habits: Partial<LiningHabits> = {},
): Result<Linings> {
  const { mullOverlapMm, mullShortMm, kraftShortMm, kraftLayers, hollow } = { ...usualLinings, ...habits };
  if (!(textBlock.heightMm > 0 && textBlock.widthMm > 0))
    return refuse('A text block needs a height and a width.', 'height');
  if (!(backWidthMm > 0)) return refuse('A back with no width takes no lining.', 'back');
  if (mullOverlapMm < 0 || mullShortMm < 0 || kraftShortMm < 0)
    return refuse('A lining cannot be less than nothing.', 'linings');
  if (!(Number.isInteger(kraftLayers) && kraftLayers >= 0 && kraftLayers <= 4)) {
    return refuse('A back takes no to four layers of kraft.', 'layers');
  }
  if (mullOverlapMm > textBlock.widthMm) {
    return refuse(
      `Mull ${formatMm(mullOverlapMm)} down the side reaches past a fore-edge at ${formatMm(textBlock.widthMm)}.`,
      'overlap',
    );
  }
  const mullHeightMm = textBlock.heightMm - 2 * mullShortMm;
  const kraftHeightMm = textBlock.heightMm - 2 * kraftShortMm;
  if (mullHeightMm <= 0 || kraftHeightMm <= 0) {
    return refuse(
      `Stopping so far short of head and tail leaves no lining on a book ${formatMm(textBlock.heightMm)} tall.`,
      'short',
    );
  }

  const mullWidthMm = backWidthMm + 2 * mullOverlapMm;
  const pieces: Piece[] = [
    { part: 'mull', material: 'mull', heightMm: mullHeightMm, widthMm: mullWidthMm, count: 1, grain: 'any' },
  ];
  const working: Step[] = [
    {
      label: 'Mull, wide',
      formula: 'back + overlap on both sides',
      value: mullWidthMm,
      unit: 'mm',
      source: 'Bailey 1916, spec. 21',
    },
    {
      label: 'Mull, high',
      formula: 'block height − what it stops short, twice',
      value: mullHeightMm,
      unit: 'mm',
      source: 'Bailey 1916',
    },
  ];
  if (kraftLayers > 0) {
    pieces.push({
      part: 'kraft lining',
      material: 'kraft',
      heightMm: kraftHeightMm,
      widthMm: backWidthMm,
      count: kraftLayers,
      grain: 'height',
    });
    working.push(
      { label: 'Kraft, wide', formula: 'the back', value: backWidthMm, unit: 'mm' },
      {
        label: 'Kraft, high',
        formula: 'block height − what it stops short, twice',
        value: kraftHeightMm,
        unit: 'mm',
        source: noSource,
      },
    );
  }
  if (hollow !== 'none') {
    const layers = hollow === 'one on, two off' ? 3 : 4;
    const hollowWidthMm = layers * backWidthMm;
    pieces.push({
      part: 'hollow',
      material: 'kraft',
      heightMm: textBlock.heightMm,
      widthMm: hollowWidthMm,
      count: 1,
      grain: 'height',
    });
    working.push({
      label: 'Hollow, wide before folding',
      formula: `${layers} times the back: ${hollow}`,
      value: hollowWidthMm,
      unit: 'mm',
      source: 'Zaehnsdorf 1890, covering with a hollow',
    });
  }
  return ok({ pieces, working, remarks: remarksOnLinings(textBlock, mullOverlapMm, mullShortMm) });
}

function remarksOnLinings(textBlock: BookSize, mullOverlapMm: number, mullShortMm: number): readonly string[] {
  const remarks = ['Kraft with its grain along the spine; a lining across it will not let the back open.'];
  if (mullOverlapMm < mmPerInch) remarks.push('Mull less than 1 in down the side holds little.');
  if (mullOverlapMm < 2 * mmPerInch && textBlock.heightMm > 12 * mmPerInch) {
    remarks.push('Bailey 1916 asks for 2 in down each side on reference books.');
  }
  if (mullShortMm > textBlock.heightMm / 8)
    remarks.push('The mull stops very short for a book of this height; 6.4 mm (1/4 in) may do.');
  return remarks;
}
