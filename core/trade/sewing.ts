import { ok, type Result, refuse } from '../result.ts';
import { formatMm, mmPerInch } from '../units/lengths.ts';
import { type Sewn, threadsInBack } from './back.ts';
import { noSource, type Step } from './working.ts';

/** Sewing: sections, where the stations are, what thread and how much of it. Lengths of thread are estimates; pull a yard more. */

/** Sections of so many folded sheets, one in another. Pages are made up to whole sections with blanks. */
export function sectionsForPages(
  pages: number,
  foldedSheets: number,
): Result<Readonly<{ sections: number; blanks: number; pages: number }>> {
  if (!(Number.isInteger(pages) && pages > 0)) return refuse('A book needs a whole number of pages.', 'pages');
  if (!(Number.isInteger(foldedSheets) && foldedSheets > 0 && foldedSheets <= 24)) {
    return refuse('A section is one to 24 folded sheets; four to eight are usual.', 'section');
  }
  const each = 4 * foldedSheets;
  const sections = Math.ceil(pages / each);
  return ok({ sections, blanks: sections * each - pages, pages: sections * each });
}

export type Support = 'tapes' | 'cords' | 'none';

/** Tapes by height: three on a book of 8 in, four on one of 12 (Bailey 1916, spec. 20); between and beyond, one for each 4 in more. */
export function tapesForHeight(heightMm: number): Result<number> {
  if (!(heightMm > 0)) return refuse('A book needs a height.', 'height');
  return ok(Math.max(2, 3 + Math.floor((heightMm / mmPerInch - 8) / 4 + 1e-9)));
}

/** Raised bands: five as a rule, six on a large thin folio, four on a small thick book (Cockerell 1901, ch. VII). */
export function bandsForBook({
  heightMm,
  thicknessMm,
}: Readonly<{ heightMm: number; thicknessMm: number }>): Result<number> {
  if (!(heightMm > 0 && thicknessMm > 0)) return refuse('A book needs a height and a thickness.', 'size');
  // Where large, small, thin and thick begin: common practice, no source.
  if (heightMm >= 330 && thicknessMm < heightMm / 10) return ok(6);
  return ok(heightMm <= 150 && thicknessMm > heightMm / 5 ? 4 : 5);
}

/** Kettle stitch from each end of a trimmed book, 1/4 in (Cockerell 1901). */
const usualKettleMm = mmPerInch / 4;

/** Width of sewing tape: common practice, no source. */
const usualTapeMm = 10;

/** How far a tape lies on each endpaper at least: 1 1/4 in, 2 in on books of reference (Bailey 1916, spec. 21; reference books, 1 and 6). */
const tapeReachMm = { 'a reading book': 1.25 * mmPerInch, 'a book of reference': 2 * mmPerInch } as const;

/** One tape, over the back and down both sides; an inch more to hold it by in the frame: common practice, no source. */
export function tapeLength(
  overBackMm: number,
  use: keyof typeof tapeReachMm,
): Result<Readonly<{ glued: number; cut: number }>> {
  if (!(overBackMm > 0 && overBackMm <= 500))
    return refuse('A back is more than nothing and at most half a metre.', 'back');
  const glued = overBackMm + 2 * tapeReachMm[use];
  return ok({ glued, cut: glued + mmPerInch });
}

export type Station = Readonly<{ fromHeadMm: number; hole: 'kettle' | 'tape' | 'cord' | 'link' }>;

/**
 * Holes along the fold from the head: a kettle at each end and the supports evenly between; a tape has a hole at either side of it. Refuses
 * supports that crowd each other.
 */
export function sewingStations(
  heightMm: number,
  supports: number,
  support: Support,
  { kettleMm = usualKettleMm, tapeMm = usualTapeMm }: Readonly<{ kettleMm?: number; tapeMm?: number }> = {},
): Result<Readonly<{ stations: readonly Station[]; working: readonly Step[] }>> {
  if (!(heightMm > 0)) return refuse('A book needs a height.', 'height');
  if (!(Number.isInteger(supports) && supports >= 1 && supports <= 12))
    return refuse('Sew on one to twelve supports.', 'supports');
  if (!(kettleMm > 0 && kettleMm < heightMm / 3)) return refuse('The kettle stitch lies near head and tail.', 'kettle');
  const span = heightMm - 2 * kettleMm;
  const apart = span / (supports + 1);
  if (support === 'tapes' && !(tapeMm > 0 && tapeMm < apart)) {
    return refuse(
      `${supports} tapes of ${formatMm(tapeMm)} do not fit between kettles ${formatMm(span)} apart.`,
      'supports',
    );
  }
  const stations: Station[] = [{ fromHeadMm: kettleMm, hole: 'kettle' }];
  for (let number = 1; number <= supports; number++) {
    const middle = kettleMm + number * apart;
    if (support === 'tapes') {
      stations.push(
        { fromHeadMm: middle - tapeMm / 2, hole: 'tape' },
        { fromHeadMm: middle + tapeMm / 2, hole: 'tape' },
      );
    } else stations.push({ fromHeadMm: middle, hole: support === 'cords' ? 'cord' : 'link' });
  }
  stations.push({ fromHeadMm: heightMm - kettleMm, hole: 'kettle' });
  return ok({
    stations,
    working: [
      {
        label: 'Kettle from each end',
        formula: 'the usual quarter inch, unless set',
        value: kettleMm,
        unit: 'mm',
        source: 'Cockerell 1901',
      },
      {
        label: 'Between supports',
        formula: 'height between kettles ÷ (supports + 1)',
        value: apart,
        unit: 'mm',
        source: noSource,
      },
    ],
  });
}

/**
 * Stations of a sewn endpaper after the Indiana University manual: 3/16 in from each end, 3/16 further, 3/8 further, and between them pairs
 * 3/8 in apart, a pair every 2 to 3 in. Refuses a book too short for both ends.
 */
export function endpaperStations(heightMm: number): Result<readonly number[]> {
  const ends = [3 / 16, 3 / 8, 3 / 4].map((inches) => inches * mmPerInch);
  const last = 0.75 * mmPerInch;
  if (!(heightMm > 2 * last))
    return refuse('The stations at head and tail need a book over 38.1 mm (1 1/2 in) tall.', 'height');
  const span = heightMm - 2 * last;
  const pairs = Math.max(0, Math.round(span / (2.5 * mmPerInch)) - 1);
  const middle: number[] = [];
  for (let pair = 1; pair <= pairs; pair++) {
    const at = last + (pair * span) / (pairs + 1);
    middle.push(at - (3 / 16) * mmPerInch, at + (3 / 16) * mmPerInch);
  }
  return ok([...ends, ...middle, ...ends.map((from) => heightMm - from).reverse()]);
}

/** Stitches in a section: one more than the bands all along, half of that two on (Cockerell 1901). */
export function stitchesPerSection(supports: number, sewn: Sewn): number {
  return sewn === 'all along' ? supports + 1 : (supports + 1) / 2;
}

/** Metres of single yarn in a kilogram for each lea: 300 yd a pound. */
const metresPerKgPerLea = (300 * 3 * 12 * mmPerInch) / 1000 / 0.45359237;

export type Thread = Readonly<{
  tex: number;
  metresPerKg: number;
  yardsPerPound: number;
  diameterMm: number;
  remarks: readonly string[];
}>;

/**
 * Linen thread by its count: lea, the number of 300 yd lengths in a pound of single yarn, and plies. Length and weight are exact; the
 * diameter takes flax at 1.5 g/cm³ packed to six tenths, which no table confirms.
 */
export function linenThread(lea: number, plies: number): Result<Thread> {
  if (!(lea >= 4 && lea <= 200)) return refuse('Linen is counted from about 4 to 200 lea.', 'lea');
  if (!(Number.isInteger(plies) && plies >= 1 && plies <= 12))
    return refuse('Thread has one to twelve plies.', 'plies');
  const metresPerKg = (metresPerKgPerLea * lea) / plies;
  const tex = 1e6 / metresPerKg;
  const areaMm2 = tex / 1000 / 1.5 / 0.6;
  return ok({
    tex,
    metresPerKg,
    yardsPerPound: (300 * lea) / plies,
    diameterMm: 2 * Math.sqrt(areaMm2 / Math.PI),
    remarks: ['The diameter is reckoned, not measured; wind ten turns on a rule to be sure.'],
  });
}

/** Lea of a yarn sold by the metric count, metres in a gram: 1.6535 lea to 1 Nm. Some published tables turn this round. */
export function leaFromMetric(metricCount: number): Result<Readonly<{ lea: number; remarks: readonly string[] }>> {
  if (!(metricCount > 0 && metricCount < 400))
    return refuse('A metric count is metres in a gram, more than nothing and under 400.', 'count');
  return ok({
    lea: (metricCount * 1000) / metresPerKgPerLea,
    remarks: [
      'Lea is the larger figure: 25 lea is 15.1 metric. A table that gives 25 metric as 15.1 lea has the relation the wrong way round.',
    ],
  });
}

/** Threads of one seller's list in 2019, thin to thick: lea and plies. */
const threadsOnSale: readonly (readonly [number, number])[] = [
  [40, 3],
  [30, 3],
  [25, 3],
  [18, 3],
  [18, 5],
];

/**
 * A thread to begin with. Many thin sections want the thinnest thread, few thick ones a thicker (Cockerell 1901); 25/3 is a reasonable
 * start (J. Peachey 2019). Where thin, thick, many and few begin: common practice, no source.
 */
export function threadForSections(
  sections: number,
  sectionThicknessMm: number,
): Result<Readonly<{ lea: number; plies: number }>> {
  if (!(sections > 0 && sectionThicknessMm > 0))
    return refuse('Thread is chosen by the number and thickness of sections.', 'sections');
  let place = 2;
  if (sectionThicknessMm < 1) place -= 1;
  if (sectionThicknessMm > 2.5) place += 1;
  if (sections > 30) place -= 1;
  if (sections < 8) place += 1;
  const [lea, plies] = threadsOnSale[place] ?? [25, 3];
  return ok({ lea, plies });
}

/**
 * Thread for a whole book: each pass from kettle to kettle, round every support and up to the next section, with a tenth for knots and two
 * needle lengths at the ends. An estimate; its allowances are common practice, no source.
 */
export function threadLength(
  book: Readonly<{ heightMm: number; sections: number; sectionThicknessMm: number; supports: number; sewn: Sewn }>,
  kettleMm = usualKettleMm,
): Result<Readonly<{ metres: number; working: readonly Step[] }>> {
  const { heightMm, sections, sectionThicknessMm, supports, sewn } = book;
  if (!(heightMm > 2 * kettleMm && sectionThicknessMm > 0))
    return refuse('A book to be sewn needs a height and sections of some thickness.', 'height');
  if (!(Number.isInteger(sections) && sections > 0))
    return refuse('Sewing needs a whole number of sections.', 'sections');
  if (!(Number.isInteger(supports) && supports >= 0 && supports <= 12))
    return refuse('Sew on none to twelve supports.', 'supports');
  const passes = threadsInBack(sections, sewn);
  const aroundMm = 6;
  const passMm = heightMm - 2 * kettleMm + supports * aroundMm;
  const climbMm = sections * sectionThicknessMm;
  const metres = (1.1 * (passes * passMm + climbMm) + 2 * 150) / 1000;
  return ok({
    metres,
    working: [
      {
        label: 'Passes along the fold',
        formula: sewn === 'all along' ? 'one a section' : 'half, but all along at the ends',
        value: passes,
        unit: '',
        source: 'Cockerell 1901',
      },
      {
        label: 'One pass',
        formula: 'kettle to kettle + round each support',
        value: passMm,
        unit: 'mm',
        source: noSource,
      },
      {
        label: 'Thread',
        formula: 'passes + climb, a tenth more, two needle ends',
        value: metres,
        unit: 'm',
        source: noSource,
      },
    ],
  });
}

/** Leaves that go to one oversewn section: as many as make 0.055 in, 0.065 in on bulky paper. Roberts & Etherington 1982, "oversewing". */
export function leavesPerOversewnSection(caliperMm: number, paper: 'normal' | 'bulky'): Result<number> {
  if (!(caliperMm > 0)) return refuse('Paper needs a thickness.', 'caliper');
  const leaves = Math.floor(((paper === 'bulky' ? 0.065 : 0.055) * mmPerInch) / caliperMm + 1e-9);
  return leaves > 0
    ? ok(leaves)
    : refuse('One leaf of this paper is thicker than an oversewn section may be.', 'caliper');
}

export type LooseBook = Readonly<{
  thicknessMm: number;
  sewn: 'sound' | 'loose sections, folds sound' | 'no';
  bindingMarginMm: number;
  mustLieFlat: boolean;
}>;

export type Attachment =
  | 'keep the sewing and recase'
  | 'sew through the fold'
  | 'double-fan adhesive'
  | 'oversew'
  | 'split into volumes';

/**
 * How the leaves of a book are to be held. Merrill-Oldham and Parisi, "Guide to the ANSI/NISO/LBI Library Binding Standard", 2008, decision
 * tree 2; the least margin for oversewing, 3/8 in, after the UC Berkeley bindery's glossary. Music and what must lie flat is never oversewn.
 */
export function leafAttachment(book: LooseBook): Result<Readonly<{ attachment: Attachment; because: string }>> {
  if (!(book.thicknessMm > 0)) return refuse('A book needs a thickness.', 'thickness');
  if (book.sewn === 'sound') return ok({ attachment: 'keep the sewing and recase', because: 'The sewing is whole.' });
  if (book.sewn === 'loose sections, folds sound')
    return ok({ attachment: 'sew through the fold', because: 'The folds are sound.' });
  if (book.thicknessMm <= doubleFanLimitMm)
    return ok({ attachment: 'double-fan adhesive', because: 'It is no thicker than 2 in.' });
  if (!book.mustLieFlat && book.bindingMarginMm >= (3 / 8) * mmPerInch) {
    return ok({ attachment: 'oversew', because: 'It is over 2 in thick, and the margin is wide enough.' });
  }
  return ok({
    attachment: 'split into volumes',
    because: book.mustLieFlat
      ? 'It is over 2 in thick and must lie flat.'
      : 'It is over 2 in thick and its margin is too narrow to oversew.',
  });
}

const doubleFanLimitMm = 2 * mmPerInch;

/** Whether the economy binding of the same Guide may be used: up to 5/8 in thick. */
export function economyBindingAllowed(thicknessMm: number): boolean {
  return thicknessMm > 0 && thicknessMm <= 0.625 * mmPerInch;
}
