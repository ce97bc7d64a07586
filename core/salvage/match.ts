/**
 * Which piece of the drawer suits a repair. A piece must yield what the repair needs by guillotine cuts, grain along grain; those that do
 * are ranked by pattern, colour, years apart and what breaking into them costs, each turned into points that are shown with their reason.
 * How many points a year or a pattern weighs is common practice, no source.
 */
import type { GrainPattern } from '../book/book.ts';
import { planCuts } from '../cutting/plan.ts';
import type { CutSheet, Wanted } from '../cutting/stock.ts';
import { type Assigned, assignOneToOne } from '../optimise/assignment.ts';
import type { SolveModel } from '../optimise/mip.ts';
import { assert } from '../result.ts';
import { bandOf, colourDifference } from './colour.ts';
import type { DrawerPiece, Look, PieceKind } from './piece.ts';

/** A repair that needs one piece of material, out of which its parts are cut. */
export type Repair = Look & Readonly<{ id: string; name: string; kind: PieceKind; parts: readonly Wanted[] }>;

export type Reason = Readonly<{ of: 'pattern' | 'colour' | 'years' | 'breaking'; points: number; words: string }>;

export type Match = Readonly<{
  pieceId: string;
  /** Fewer is better. */
  points: number;
  reasons: readonly Reason[];
  /** CIEDE2000, where both colours are known. */
  difference: number | null;
  band: string | null;
  /** Where on the piece the parts lie. */
  sheet: CutSheet;
}>;

export type Misfit = Readonly<{ pieceId: string; because: string }>;
export type Ranking = Readonly<{ matches: readonly Match[]; misfits: readonly Misfit[] }>;

/** Fillings tried before a piece is said not to yield the parts: a handful of parts has few orders. */
const looks = 400;

/** Sides a remnant needs to be worth keeping, as for a cutting plan. */
const usefulMm = 40;

/** Every piece of the kind, best first; those that do not yield the parts, with the reason. */
export function rankPieces(repair: Repair, pieces: readonly DrawerPiece[]): Ranking {
  const matches: Match[] = [];
  const misfits: Misfit[] = [];
  for (const piece of pieces) {
    if (piece.kind !== repair.kind) continue;
    const fit = fitInto(repair, piece);
    if (typeof fit === 'string') misfits.push({ pieceId: piece.id, because: fit });
    else matches.push(judge(repair, piece, fit));
  }
  matches.sort((a, b) => a.points - b.points || (a.pieceId < b.pieceId ? -1 : 1));
  return { matches, misfits };
}

/**
 * The piece each repair counts on, the earlier ones choosing first; one for which nothing is left that suits it counts on its best match all
 * the same, which another has then chosen too. Null where nothing suits. Parts are laid only until they fit: what a piece costs in points is
 * known before.
 */
export function chooseInTurn(repairs: readonly Repair[], pieces: readonly DrawerPiece[]): readonly (string | null)[] {
  const taken = new Set<string>();
  return repairs.map((repair) => {
    const suited = pieces
      .filter(({ kind }) => kind === repair.kind)
      .map((piece) => ({ piece, points: pointsIfCut(repair, piece) }))
      .filter(({ points }) => points < withoutPoints)
      .sort((a, b) => a.points - b.points || (a.piece.id < b.piece.id ? -1 : 1))
      .map(({ piece }) => piece);
    const fits = (piece: DrawerPiece) => typeof fitInto(repair, piece) !== 'string';
    const chosen = suited.filter(({ id }) => !taken.has(id)).find(fits) ?? suited.find(fits);
    if (chosen !== undefined) taken.add(chosen.id);
    return chosen?.id ?? null;
  });
}

function pointsIfCut(repair: Repair, piece: DrawerPiece): number {
  const whole = piece.heightMm * piece.widthMm;
  const used = repair.parts.reduce((sum, part) => sum + part.heightMm * part.widthMm * part.count, 0);
  return tenth(total(lookReasons(repair, piece)) + breakingPoints(whole, used));
}

/** The parts laid on the piece, or why they do not go onto it. */
function fitInto(repair: Repair, piece: DrawerPiece): CutSheet | string {
  const { id, name, heightMm, widthMm, grain } = piece;
  const across = grain === 'width';
  for (const part of repair.parts) {
    const upright = part.heightMm <= heightMm && part.widthMm <= widthMm;
    const turned = part.widthMm <= heightMm && part.heightMm <= widthMm;
    if (part.grain === 'any' ? upright || turned : across ? turned : upright) continue;
    return upright || turned
      ? `its grain runs the wrong way for the ${part.name}`
      : `too small for the ${part.name}, ${size(part.heightMm)} × ${size(part.widthMm)} mm`;
  }
  const needed = repair.parts.reduce((sum, part) => sum + part.heightMm * part.widthMm * part.count, 0);
  if (needed > heightMm * widthMm) return 'too small for all the parts together';
  let looked = 0;
  const plan = planCuts(
    {
      wanted: repair.parts,
      stock: [{ id, name, heightMm, widthMm, grain, count: 1, costMinor: 0, offcut: true, trimMm: 0 }],
      settings: { kerfMm: 0, usefulMm, mostTurns: null },
    },
    { seed: 1, shouldStop: () => ++looked > looks },
  );
  if (!plan.ok) return plan.refusal.sentence;
  const [sheet] = plan.value.sheets;
  return sheet === undefined || plan.value.uncut.length > 0
    ? 'the parts cannot all be cut from it edge to edge'
    : sheet;
}

function judge(repair: Repair, piece: DrawerPiece, sheet: CutSheet): Match {
  const difference = differenceOf(repair, piece);
  const reasons = [...lookReasons(repair, piece, difference), breakingReason(sheet)];
  const points = total(reasons);
  return {
    pieceId: piece.id,
    points: tenth(points),
    reasons,
    difference,
    band: difference === null ? null : bandOf(difference).words,
    sheet,
  };
}

function lookReasons(repair: Repair, piece: DrawerPiece, difference = differenceOf(repair, piece)): readonly Reason[] {
  return [
    patternReason(repair.pattern, piece.pattern),
    colourReason(repair, piece, difference),
    yearsReason(repair, piece),
  ];
}

function differenceOf(repair: Look, piece: Look): number | null {
  return repair.lab && piece.lab ? colourDifference(repair.lab, piece.lab) : null;
}

function breakingPoints(whole: number, used: number): number {
  return (4 * (whole - used)) / whole;
}

function tenth(points: number): number {
  return Math.round(points * 10) / 10;
}

function total(reasons: readonly Reason[]): number {
  return reasons.reduce((sum, reason) => sum + reason.points, 0);
}

/** Patterns that look alike at arm's length. Common practice, no source. */
const families: readonly (readonly GrainPattern[])[] = [
  ['plain', 'linen weave', 'buckram'],
  ['diaper', 'net', 'dot and line'],
  ['ripple', 'rib', 'wave'],
  ['bead', 'sand', 'pebble', 'bubble', 'honeycomb', 'morocco'],
];

function patternReason(wanted: GrainPattern | null, found: GrainPattern | null): Reason {
  const of = 'pattern';
  if (wanted === null && found === null) return { of, points: 4, words: 'neither pattern is noted' };
  if (wanted === null || found === null) {
    return { of, points: 7, words: `the pattern of the ${wanted === null ? 'book' : 'piece'} is not noted` };
  }
  if (wanted === found) return { of, points: 0, words: `the same pattern, ${found}` };
  if (families.some((family) => family.includes(wanted) && family.includes(found))) {
    return { of, points: 5, words: `${found} beside ${wanted}: of one family` };
  }
  return { of, points: 14, words: `${found} beside ${wanted}: another pattern` };
}

/** Colours beyond this are all equally unfit. */
const mostColourPoints = 30;

function colourReason(repair: Look, piece: Look, difference: number | null): Reason {
  const of = 'colour';
  if (difference === null) {
    return { of, points: 12, words: `no colour is known of the ${repair.lab === null ? 'book' : 'piece'}` };
  }
  const { words } = bandOf(difference);
  const points = Math.min(mostColourPoints, difference);
  if (repair.measured && piece.measured) return { of, points, words: `${words}, ΔE00 ${difference.toFixed(1)}` };
  // An estimate from words is good for the colour's name, not for its shade.
  return {
    of,
    points: Math.max(6, points),
    words: `by the colour’s words only: ${words}, ΔE00 about ${Math.round(difference)}`,
  };
}

function yearsReason(repair: Look, piece: Look): Reason {
  const of = 'years';
  const apart = yearsApart(repair, piece);
  if (apart === null) return { of, points: 4, words: 'a date is not known' };
  if (apart === 0) return { of, points: 0, words: 'of the same years' };
  return { of, points: Math.min(12, apart / 5), words: `${apart} ${apart === 1 ? 'year' : 'years'} apart` };
}

/** Years between two spans; 0 where they meet, null where one is not known. */
function yearsApart(a: Look, b: Look): number | null {
  const [aFrom, aTo, bFrom, bTo] = [
    a.yearFrom ?? a.yearTo,
    a.yearTo ?? a.yearFrom,
    b.yearFrom ?? b.yearTo,
    b.yearTo ?? b.yearFrom,
  ];
  if (aFrom === null || aTo === null || bFrom === null || bTo === null) return null;
  return Math.max(0, bFrom - aTo, aFrom - bTo);
}

/** What of the piece is lost to waste: a small piece used up costs less than a large one broken into. */
function breakingReason({ heightMm, widthMm, pieces, remnants }: CutSheet): Reason {
  const of = 'breaking';
  const whole = heightMm * widthMm;
  const used = pieces.reduce((sum, { rect }) => sum + rect.heightMm * rect.widthMm, 0);
  const kept = remnants.reduce((sum, rect) => sum + rect.heightMm * rect.widthMm, 0);
  const lost = whole - used - kept;
  const points = breakingPoints(whole, used);
  const [largest] = remnants;
  const rest =
    largest === undefined
      ? 'nothing to keep is left'
      : `${size(largest.heightMm)} × ${size(largest.widthMm)} mm is left`;
  return {
    of,
    points,
    words: `uses ${percent(used / whole)} of it, ${percent(lost / whole)} is waste; ${rest}`,
  };
}

const percent = (share: number) => `${Math.round(share * 100)} %`;
const size = (mm: number) => String(Math.round(mm * 10) / 10);

/** What the points of a match come to in words. Common practice, no source. */
export function verdictOf(points: number): string {
  if (points < 8) return 'a good match';
  if (points < 15) return 'a fair match';
  return points < withoutPoints ? 'a poor match' : 'no match: better without';
}

export type Together = Readonly<{
  /** By repair: the piece it gets, or null where it goes without. */
  given: readonly Readonly<{ repairId: string; match: Match | null; instead: Match | null; words: string }>[];
  points: number;
  proven: boolean;
}>;

/** A repair that goes without counts as much as the worst match a person would still take. Common practice, no source. */
export const withoutPoints = 25;

/**
 * Shares the pieces among repairs that compete for them, a piece to one repair at most, so that the points of all are fewest. `instead`
 * is the match a repair would have had for itself alone, where that went to another.
 */
export async function matchTogether(
  repairs: readonly Readonly<{ repair: Repair; matches: readonly Match[] }>[],
  solve: SolveModel,
  seconds = 5,
): Promise<Together> {
  const pieceIds = [...new Set(repairs.flatMap(({ matches }) => matches.map((match) => match.pieceId)))];
  const size = repairs.length + pieceIds.length;
  if (repairs.length === 0) return { given: [], points: 0, proven: true };
  const costs = Array.from({ length: size }, (_, row) => {
    const matches = new Map(repairs[row]?.matches.map((match) => [match.pieceId, match.points]));
    return Array.from({ length: size }, (_, column) => {
      if (row >= repairs.length) return 0;
      const pieceId = pieceIds[column];
      // A column without a piece is going without; a piece that does not fit costs more than that.
      return pieceId === undefined ? withoutPoints : (matches.get(pieceId) ?? withoutPoints + 1);
    });
  });
  const { placeOf, proven }: Assigned = await assignOneToOne(costs, solve, seconds);
  const taken = new Map<string, number>();
  const given = repairs.map(({ repair, matches }, row) => {
    const pieceId = pieceIds[placeOf[row] ?? -1];
    const match = matches.find((one) => one.pieceId === pieceId && one.points < withoutPoints) ?? null;
    if (match !== null) {
      assert(!taken.has(match.pieceId), 'a piece goes to one repair');
      taken.set(match.pieceId, row);
    }
    return { repair, match, best: matches[0] ?? null };
  });
  return {
    given: given.map(({ repair, match, best }) => {
      const instead = best !== null && best.pieceId !== match?.pieceId && taken.has(best.pieceId) ? best : null;
      const holder = instead === null ? undefined : repairs[taken.get(instead.pieceId) ?? -1]?.repair.name;
      const words =
        holder === undefined
          ? match === null
            ? 'Nothing in the drawer suits it.'
            : 'Its best match.'
          : `Gives its best match up to ${holder}, which would lose more without it.`;
      return { repairId: repair.id, match, instead, words };
    }),
    points: given.reduce((sum, { match }) => sum + (match?.points ?? withoutPoints), 0),
    proven,
  };
}
