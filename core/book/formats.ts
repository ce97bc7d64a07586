import { assert, ok, type Result, refuse } from '../result.ts';
import { mmPerInch } from '../units/lengths.ts';
import { quoted } from '../units/numbers.ts';

/**
 * Formats: a sheet of a named size folded into leaves. The same name meant different sheets in different countries, so a sheet is always
 * looked up with its tradition. Sizes are of the untrimmed sheet and leaf unless a name says otherwise.
 */

/** How often a sheet was folded, under the trade's names. */
export type Fold = keyof typeof divisions;

export type Tradition = 'british' | 'american' | 'french' | 'german';

export const traditions = ['british', 'american', 'french', 'german'] as const satisfies readonly Tradition[];

export type SheetName = keyof typeof british | keyof typeof french | keyof typeof german;

export type Format = Readonly<{ fold: Fold; sheet?: SheetName; oblong: boolean }>;

export type LeafSize = Readonly<{ heightMm: number; widthMm: number }>;

/**
 * Leaves along the sheet's long and short side, and which side of the sheet becomes the leaf's height. To 16mo and for 32mo and 64mo each
 * fold halves the longer side (Cockerell 1901, ch. XX); twelves are imposed three by four (Roberts & Etherington 1982, "twelvemo"). The
 * chain lines of folio, quarto and octavo that follow from this agree with Roberts & Etherington, "chain lines". 6to, 18mo, 24mo, 36mo and
 * 48mo: from memory; binders also met other impositions of them.
 */
const divisions = {
  broadside: { leaves: 1, long: 1, short: 1, heightFrom: 'long' },
  folio: { leaves: 2, long: 2, short: 1, heightFrom: 'short' },
  '4to': { leaves: 4, long: 2, short: 2, heightFrom: 'long' },
  '6to': { leaves: 6, long: 3, short: 2, heightFrom: 'short' },
  '8vo': { leaves: 8, long: 4, short: 2, heightFrom: 'short' },
  '12mo': { leaves: 12, long: 3, short: 4, heightFrom: 'long' },
  '16mo': { leaves: 16, long: 4, short: 4, heightFrom: 'long' },
  '18mo': { leaves: 18, long: 6, short: 3, heightFrom: 'short' },
  '24mo': { leaves: 24, long: 6, short: 4, heightFrom: 'short' },
  '32mo': { leaves: 32, long: 8, short: 4, heightFrom: 'short' },
  '36mo': { leaves: 36, long: 6, short: 6, heightFrom: 'long' },
  '48mo': { leaves: 48, long: 6, short: 8, heightFrom: 'long' },
  '64mo': { leaves: 64, long: 8, short: 8, heightFrom: 'long' },
} as const;

/**
 * British printing papers in inches, long side first. Cockerell 1901, ch. XX, "the more usual sizes of printing papers". Pott is half his
 * double pott; the other doubles and quads not in his list are two or four of the single sheet.
 */
const british = {
  pott: [15, 12.5],
  foolscap: [17, 13.5],
  crown: [20, 15],
  post: [19.25, 15.5],
  demy: [22.5, 17.5],
  medium: [24, 19],
  royal: [25, 20],
  'super royal': [27, 21],
  imperial: [30, 22],
  'double pott': [25, 15],
  'double foolscap': [27, 17],
  'double crown': [30, 20],
  'double post': [31.5, 19.5],
  'double demy': [35, 22.5],
  'double royal': [40, 25],
  'quad crown': [40, 30],
  'quad demy': [45, 35],
} as const satisfies Readonly<Record<string, readonly [number, number]>>;

/** American papers in inches. Scientific American, March 1854, as reprinted at sizes.com. */
const american: Readonly<Partial<Record<SheetName, readonly [number, number]>>> = {
  foolscap: [17, 14],
  crown: [20, 15],
  demy: [22, 17],
  medium: [24, 19],
  royal: [25, 20],
  'super royal': [27, 22],
  imperial: [32, 22],
};

/**
 * French papers in centimetres. A. Cim, "Une bibliothèque", 1902, table of papers in use; couronne, écu and tellière from later lists of the
 * AFNOR names, which agree with each other.
 */
const french = {
  tellière: [44, 34],
  couronne: [46, 36],
  écu: [52, 40],
  coquille: [56, 44],
  carré: [56, 45],
  cavalier: [62, 46],
  raisin: [65, 50],
  'petit jésus': [68, 52],
  jésus: [70, 55],
  'grand jésus': [76, 56],
  'double couronne': [74, 47],
  soleil: [80, 58],
  colombier: [90, 63],
  'grand aigle': [106, 75],
} as const satisfies Readonly<Record<string, readonly [number, number]>>;

/**
 * The one German sheet whose size was found: 33 by 42 cm, the Kanzlei sheet (H. Kahnt and B. Knorr, Alte Maße, Münzen und Gewichte, 1986,
 * p. 136), which is the first of the twelve normal sheets agreed in 1883; its octavo leaf is 10.5 by 16.5 cm. The other eleven are left out.
 */
const german = { kanzlei: [42, 33] } as const satisfies Readonly<Record<string, readonly [number, number]>>;

const sources: Readonly<Record<Tradition, string>> = {
  british: 'Cockerell 1901, ch. XX',
  american: 'Scientific American, March 1854',
  french: 'A. Cim, Une bibliothèque, 1902',
  german: 'H. Kahnt and B. Knorr, Alte Maße, Münzen und Gewichte, 1986, p. 136',
};

export const folds = Object.keys(divisions) as readonly Fold[];

/** How often the sheet's long and short side are divided by its folds. */
export function divisionsOf(fold: Fold): Readonly<{ long: number; short: number }> {
  return divisions[fold];
}

/** Leaves one sheet gives when so folded; pages are twice as many. */
export function leavesPerSheet(fold: Fold): number {
  return divisions[fold].leaves;
}

export type Sheet = Readonly<{ longMm: number; shortMm: number; source: string }>;

/** The untrimmed sheet of that name. Refuses a name that the tradition did not use. */
export function sheetSize(name: SheetName, tradition: Tradition): Result<Sheet> {
  const sides = table(tradition)[name];
  if (sides === undefined) return refuse(`No ${tradition} sheet called ${name} is known here.`, 'sheet');
  const mm = tradition === 'french' || tradition === 'german' ? 10 : mmPerInch;
  return ok({ longMm: sides[0] * mm, shortMm: sides[1] * mm, source: sources[tradition] });
}

/** The untrimmed leaf of a folded sheet. */
export function foldedLeaf({ longMm, shortMm }: Readonly<{ longMm: number; shortMm: number }>, fold: Fold): LeafSize {
  const { long, short, heightFrom } = divisions[fold];
  const alongLong = longMm / long;
  const alongShort = shortMm / short;
  return heightFrom === 'long'
    ? { heightMm: alongLong, widthMm: alongShort }
    : { heightMm: alongShort, widthMm: alongLong };
}

/** Trim at head, tail and fore-edge, 1/8 in each. Roberts & Etherington 1982, "book sizes". */
const customaryTrimMm = mmPerInch / 8;

/** The leaf after the edges are cut; nothing is taken off the fold. Refuses a trim that leaves no leaf. */
export function trimmedLeaf(leaf: LeafSize, trimMm = customaryTrimMm): Result<LeafSize> {
  const trimmed = { heightMm: leaf.heightMm - 2 * trimMm, widthMm: leaf.widthMm - trimMm };
  if (trimMm < 0) return refuse('A trim cannot be less than nothing.', 'trim');
  return trimmed.heightMm > 0 && trimmed.widthMm > 0 ? ok(trimmed) : refuse('So much trim leaves no leaf.', 'trim');
}

/**
 * Where the grain lies in a leaf of the folded sheet. Chain lines of hand-made paper run with the short side of the sheet (Roberts &
 * Etherington, "chain lines"); ask with `short` to know where to look for them.
 */
export function grainAfterFolding(fold: Fold, sheetGrain: 'long' | 'short'): 'along the spine' | 'across the spine' {
  return divisions[fold].heightFrom === sheetGrain ? 'along the spine' : 'across the spine';
}

/** What was measured: boards with squares, a leaf as cut, or a leaf with its deckle. */
export type Measured = 'boards' | 'trimmed leaf' | 'untrimmed leaf';

export type Likeness = Readonly<{
  fold: Fold;
  sheet: SheetName;
  tradition: Tradition;
  expected: LeafSize;
  /** The larger of the two relative differences, 0.02 for two per cent. */
  off: number;
}>;

/** How far a measure may be from the arithmetic: hand-made sheets and binders' ploughs both varied. Common practice, no source. */
const tolerance = 0.05;

/**
 * Formats whose leaf is like these measures, the nearest first; empty when there is none within five per cent. Boards with ordinary squares
 * are as tall as the untrimmed leaf, because trim and square are both 1/8 in (Roberts & Etherington, "book sizes"). Size alone proves no
 * format: a crown octavo and a double crown 16mo are the same leaf.
 */
export function recogniseFormat(
  measures: LeafSize,
  measured: Measured,
  traditions: readonly Tradition[] = ['british', 'american'],
): Result<readonly Likeness[]> {
  if (!(measures.heightMm > 0 && measures.widthMm > 0)) return refuse('A leaf needs a height and a width.', 'height');
  const found: Likeness[] = [];
  for (const tradition of traditions) {
    for (const sheet of Object.keys(table(tradition)) as SheetName[]) {
      for (const fold of folds) {
        const size = sheetSize(sheet, tradition);
        assert(size.ok, `${tradition} ${sheet} is in the table it was taken from`);
        const whole = foldedLeaf(size.value, fold);
        const cut = measured === 'trimmed leaf' ? trimmedLeaf(whole) : ok(whole);
        if (!cut.ok) continue;
        const expected = cut.value;
        const off = Math.max(
          Math.abs(measures.heightMm / expected.heightMm - 1),
          Math.abs(measures.widthMm / expected.widthMm - 1),
        );
        if (off <= tolerance) found.push({ fold, sheet, tradition, expected, off });
      }
    }
  }
  return ok(found.sort((one, other) => one.off - other.off || folds.indexOf(one.fold) - folds.indexOf(other.fold)));
}

/**
 * The trade's name for a book of this height when nothing is known of its sheet: the scale of the American Library Association, by the
 * outside height of the boards.
 */
export function formatByHeight(boardHeightMm: number): Result<Readonly<{ name: string; fold: Fold }>> {
  if (!(boardHeightMm > 0)) return refuse('A book needs a height.', 'height');
  for (const [above, fold, name] of alaScale) if (boardHeightMm > above) return ok({ fold, name });
  return ok({ fold: '64mo', name: '64mo' });
}

const alaScale: readonly (readonly [number, Fold, string])[] = [
  [300, 'folio', 'folio'],
  [250, '4to', 'quarto'],
  [200, '8vo', 'octavo'],
  [175, '12mo', 'duodecimo'],
  [150, '16mo', '16mo'],
  [125, '18mo', '18mo'],
  [100, '32mo', '32mo'],
  [75, '48mo', '48mo'],
];

/**
 * ISO 216 (A, B) and ISO 269 (C) trimmed sizes, short side first. Each is the one before halved and rounded down to the millimetre; A0,
 * B0 and C0 are as the standards print them.
 */
export function isoSize(name: string): Result<Readonly<{ shortMm: number; longMm: number }>> {
  const parts = /^\s*([ABC])\s*(10|\d)\s*$/i.exec(name);
  if (!parts) return refuse(`${quoted(name)} is not a size of ISO 216 or ISO 269; those run from A0 to C10.`, 'size');
  let [shortMm, longMm] = isoZero[(parts[1] ?? 'A').toUpperCase()] ?? [0, 0];
  for (let step = Number(parts[2]); step > 0; step--) [shortMm, longMm] = [Math.floor(longMm / 2), shortMm];
  return ok({ shortMm, longMm });
}

const isoZero: Readonly<Record<string, readonly [number, number]>> = {
  A: [841, 1189],
  B: [1000, 1414],
  C: [917, 1297],
};

function table(tradition: Tradition): Readonly<Partial<Record<SheetName, readonly [number, number]>>> {
  return { british, american, french, german }[tradition];
}
