import { ok, type Result, refuse } from '../result.ts';
import { type BookSize, formatMm, mmPerInch } from '../units/lengths.ts';
import { noSource, type Step } from './working.ts';

/** Board and paper by weight and thickness. */

/** One pound avoirdupois in grams, exactly. International yard and pound agreement, 1959. */
const gramsPerPound = 453.59237;

/** What American papers are weighed by: 500 sheets of the category's basic size, in inches. Printers' tables. */
const basicSizes = {
  bond: [17, 22],
  text: [25, 38],
  cover: [20, 26],
  index: [25.5, 30.5],
  bristol: [22.5, 28.5],
  tag: [24, 36],
} as const;

export type PaperCategory = keyof typeof basicSizes;

/** g/m² of a paper sold by basis weight. Exact, where printed tables carry a factor rounded by up to 0.03 per cent. */
export function gsmFromBasisWeight(pounds: number, category: PaperCategory): Result<number> {
  if (!(pounds > 0 && pounds < 1000))
    return refuse('A basis weight is more than nothing and under 1000 lb.', 'basis weight');
  return ok(pounds * gsmPerPound(category));
}

/** Pounds a ream of a paper of so many g/m². */
export function basisWeightFromGsm(gsm: number, category: PaperCategory): Result<number> {
  if (!(gsm > 0 && gsm < 5000)) return refuse('Paper weighs more than nothing and under 5000 g/m².', 'grammage');
  return ok(gsm / gsmPerPound(category));
}

function gsmPerPound(category: PaperCategory): number {
  const [wide, long] = basicSizes[category];
  return gramsPerPound / (500 * ((wide * mmPerInch) / 1000) * ((long * mmPerInch) / 1000));
}

/** Caliper of a paper from its weight and bulk in cm³/g (ISO 534: bulk = thickness ÷ grammage). Good for bulk 0.6 to 2.5. */
export function caliperFromBulk(gsm: number, bulk: number): Result<number> {
  if (!(gsm > 0 && gsm < 5000)) return refuse('Paper weighs more than nothing and under 5000 g/m².', 'grammage');
  if (!(bulk >= 0.6 && bulk <= 2.5))
    return refuse('Bulk of paper lies between 0.6 (glassine) and 2.5 cm³/g (blotting paper).', 'bulk');
  return ok((gsm * bulk) / 1000);
}

/** Weight of one sheet in grams. */
export function sheetMass(gsm: number, widthMm: number, heightMm: number): Result<number> {
  if (!(gsm > 0 && widthMm > 0 && heightMm > 0))
    return refuse('A sheet needs a weight, a width and a height.', 'sheet');
  return ok((gsm * widthMm * heightMm) / 1e6);
}

/** What a material of this caliper is called: board from 0.012 in, paper under 0.006 in. Roberts & Etherington 1982, "board". */
export function paperOrBoard(caliperMm: number): 'paper' | 'mostly called paper' | 'board' {
  if (caliperMm >= 0.012 * mmPerInch - 1e-9) return 'board';
  return caliperMm < 0.006 * mmPerInch ? 'paper' : 'mostly called paper';
}

/**
 * Old board numbers: how many sheets of 20 x 30 in make a 50 lb bundle (Bailey 1916, "Boards"). Weight is exact; the thickness needs a
 * density, and 0.90 g/cm³ is assumed (no source). Good for No. 12 to No. 70.
 */
export function boardByNumber(
  number: number,
): Result<Readonly<{ poundsPerSheet: number; gsm: number; thicknessMm: number; working: readonly Step[] }>> {
  if (!(number >= 12 && number <= 70))
    return refuse('Boards ran from No. 12, the thickest, to about 70 to the bundle.', 'number');
  const poundsPerSheet = 50 / number;
  const squareMetres = ((20 * mmPerInch) / 1000) * ((30 * mmPerInch) / 1000);
  const gsm = (poundsPerSheet * gramsPerPound) / squareMetres;
  const thicknessMm = gsm / 1000 / assumedDensity;
  return ok({
    poundsPerSheet,
    gsm,
    thicknessMm,
    working: [
      {
        label: 'Weight',
        formula: '50 lb ÷ number, over 20 × 30 in',
        value: gsm,
        unit: 'g/m²',
        source: 'Bailey 1916, "Boards"',
      },
      {
        label: 'Thickness',
        formula: `weight ÷ ${assumedDensity} g/cm³, assumed`,
        value: thicknessMm,
        unit: 'mm',
        source: noSource,
      },
    ],
  });
}

const assumedDensity = 0.9;

/**
 * Thickness of greyboard from its weight: g/m² × 1.55 ÷ 1000, a seller's formula that its own price list follows up to about 1700 g/m² and
 * leaves above, where boards are thicker than it says. Refuses outside 600 to 1700.
 */
export function greyboardThickness(gsm: number): Result<number> {
  if (!(gsm >= 600 && gsm <= 1700))
    return refuse('That rule for greyboard is good from 600 to 1700 g/m² only; measure the board.', 'grammage');
  return ok((gsm * 1.55) / 1000);
}

/** Binder's board as sold, in thousandths of an inch. The series is from memory. */
export const boardCalipersThou = [59, 70, 80, 88, 98, 123] as const;

export type BoardChoice = Readonly<{ thicknessMm: number; thou: number; remarks: readonly string[] }>;

/**
 * Which board for which book: thicker for a taller and a heavier book. The steps are common practice, no source; a century ago Bailey's
 * libraries used far stouter boards (No. 20 or 25 for fiction).
 */
export function boardForBook({ heightMm, thicknessMm }: BookSize): BoardChoice {
  const byHeight =
    heightMm <= 130 ? 0 : heightMm <= 180 ? 1 : heightMm <= 215 ? 2 : heightMm <= 260 ? 3 : heightMm <= 330 ? 4 : 5;
  const heavier = thicknessMm > 50 ? 1 : 0;
  const thou = boardCalipersThou[Math.min(byHeight + heavier, boardCalipersThou.length - 1)] ?? 98;
  const board = (thou / 1000) * mmPerInch;
  const remarks =
    heightMm > 450
      ? [`Over 450 mm one board of ${formatMm(board)} is weak; paste two together, the thinner next the book.`]
      : [];
  return { thicknessMm: board, thou, remarks };
}

/** How far a paper grows from dry to damp, per cent, least and most: along and across the grain. A trade page of 2011 that states no humidity. */
const growthPercent = { along: [0.1, 0.2], across: [0.2, 0.4] } as const;

/** What a pasted bond or book paper may grow by, so that it is cut to allow for it. Good for uncoated papers only. */
export function dampGrowth(
  lengthMm: number,
  direction: 'along the grain' | 'across the grain',
): Result<Readonly<{ fromMm: number; toMm: number }>> {
  if (!(lengthMm > 0)) return refuse('A paper needs a length to grow by.', 'length');
  const [least, most] = growthPercent[direction === 'along the grain' ? 'along' : 'across'];
  return ok({ fromMm: (lengthMm * least) / 100, toMm: (lengthMm * most) / 100 });
}
