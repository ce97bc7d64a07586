/** What there is to cut from, and which of it will do for which book. */
import type { PartToCut, PieceLine } from '../../core/contract/offcuts.ts';
import type { Grain, Stock, Wanted } from '../../core/cutting/stock.ts';
import { colourDifference } from '../../core/salvage/colour.ts';
import { labOfWords } from '../../core/salvage/colour-words.ts';
import type { Lab, PieceKind } from '../../core/salvage/piece.ts';
import type { Material } from '../../core/stock/material.ts';
import { readSurveyed } from '../store/books.ts';
import { bookColours, listPieces } from '../store/offcuts.ts';
import { listStocked } from '../store/stockroom.ts';
import type { Workshop } from '../store/workshop.ts';
import { coveringKinds, matchedKinds, wantedOf } from './offcuts-repairs.ts';

/** Where a stock of the plan comes from. Rolls are cut off in whole lengths. */
export type Origin = Readonly<
  | { of: 'piece'; id: string }
  | { of: 'sheet'; material: Material; quantity: number }
  /** `wholeMm` is the roll as it is now, `price` of a metre in minor units. */
  | { of: 'roll'; material: Material; quantity: number; wholeMm: number; price: number }
>;

export type Part = Omit<PartToCut, 'book' | 'kind'>;
export type CutAsked = Readonly<{
  kind: PieceKind;
  parts: readonly Part[];
  leave: readonly string[];
  kerfMm: number;
  trimMm: number;
  usefulMm: number;
  mostTurns: number | null;
}>;

/** `line` is the piece of the drawer; `colour` what new material and its remnants are sold as. */
export type Offered = Readonly<{ stock: Stock; origin: Origin; line: PieceLine | null; colour: string }>;

/** Lengths that are cut off a roll where nothing else asks for its own. Common practice, no source. */
const rollLengthsMm = [250, 500, 1000];
/** No more lengths of their own than this are offered, the longest first: each is one more kind of sheet to try. */
const mostOwnLengths = 8;

/** Pieces of the drawer that are free or kept for one of these books, then sheets and rolls on hand. */
export function stockOf(store: Workshop, asked: CutAsked): readonly Offered[] {
  const { kind, parts, leave } = asked;
  const bookIds = new Set(parts.map((part) => part.bookId));
  const pieces = listPieces(store.db)
    .filter((one) => one.kind === kind && one.usedAt === null && !leave.includes(one.id))
    .filter(({ reservedFor }) => reservedFor === null || bookIds.has(reservedFor.id))
    .map((line): Offered => {
      const { id, name, heightMm, widthMm, grain, colour } = line;
      const stock = { id, name, heightMm, widthMm, grain, count: 1, costMinor: 0, offcut: true, trimMm: 0 };
      return { stock, origin: { of: 'piece', id }, line, colour };
    });
  const sheets = listStocked(store.db)
    .filter(({ material }) => material.kind === kind && !leave.includes(material.id))
    .flatMap(({ material, onHandMillionths: millionths }) => offersOf(material, millionths / 1e6, asked));
  return [...pieces, ...sheets];
}

function offersOf(material: Material, onHand: number, asked: CutAsked): readonly Offered[] {
  const { trimMm } = asked;
  const { id, name, colour, unit, sheetHeightMm, sheetWidthMm, packPriceMinor, packQuantity } = material;
  const price = packPriceMinor / packQuantity;
  if (unit === 'sheet' && sheetHeightMm !== null && sheetWidthMm !== null) {
    const count = Math.floor(onHand + 1e-9);
    const size = { heightMm: sheetHeightMm, widthMm: sheetWidthMm };
    const grain = grainOf(material, size);
    const stock = { id, name, ...size, grain, count, costMinor: Math.round(price), offcut: false, trimMm };
    return count > 0 ? [{ stock, origin: { of: 'sheet', material, quantity: 1 }, line: null, colour }] : [];
  }
  if (unit !== 'm' || sheetWidthMm === null) return [];
  const wholeMm = Math.floor(onHand * 1000 + 1e-6);
  return lengthsOf(asked, wholeMm).flatMap((heightMm) => rollOf(material, heightMm, wholeMm, price, trimMm));
}

/** Lengths to cut off a roll: the usual ones, what the parts themselves are long, and the whole roll; longest first. */
function lengthsOf({ parts, trimMm }: CutAsked, wholeMm: number): readonly number[] {
  const own = parts.flatMap(({ heightMm, widthMm, grain }) => (grain === 'any' ? [heightMm, widthMm] : [heightMm]));
  const needed = [...new Set(own.map((mm) => Math.ceil(mm + 2 * trimMm)))].sort((a, b) => b - a);
  const all = [...rollLengthsMm, ...needed.slice(0, mostOwnLengths), wholeMm];
  return [...new Set(all)].filter((mm) => mm > 0 && mm <= wholeMm).sort((a, b) => b - a);
}

/** The same roll in whole metres and what is left over, which together are never more than the roll. */
export function wholeMetres(offered: readonly Offered[]): readonly Offered[] {
  const taken = new Set<string>();
  return offered.flatMap((one): readonly Offered[] => {
    if (one.origin.of !== 'roll') return [one];
    const { material, wholeMm, price } = one.origin;
    if (taken.has(material.id)) return [];
    taken.add(material.id);
    const { trimMm } = one.stock;
    const rest = wholeMm % 1000;
    const metres = wholeMm < 1000 ? [] : rollOf(material, 1000, wholeMm, price, trimMm);
    const last = rollOf(material, rest, wholeMm, price, trimMm).map((piece) => ({
      ...piece,
      stock: { ...piece.stock, count: 1 },
    }));
    return [...metres, ...(rest === 0 ? [] : last)];
  });
}

function rollOf(
  material: Material,
  heightMm: number,
  wholeMm: number,
  price: number,
  trimMm: number,
): readonly Offered[] {
  const { id, name, colour, sheetWidthMm } = material;
  if (sheetWidthMm === null || heightMm <= 0) return [];
  // A roll is woven or made along its length.
  const stock: Stock = {
    id: `${id}.${heightMm}`,
    name: `${name}, ${heightMm} mm off the roll`,
    heightMm,
    widthMm: sheetWidthMm,
    grain: material.grain === 'short' ? 'width' : 'height',
    count: Math.floor(wholeMm / heightMm),
    costMinor: Math.round((price * heightMm) / 1000),
    offcut: false,
    trimMm,
  };
  const origin = { of: 'roll', material, quantity: heightMm / 1000, wholeMm, price } as const;
  return [{ stock, origin, line: null, colour }];
}

function grainOf({ grain }: Material, { heightMm, widthMm }: { heightMm: number; widthMm: number }): Grain | null {
  if (grain === null) return null;
  return (grain === 'long') === heightMm >= widthMm ? 'height' : 'width';
}

type BookColour = Readonly<{ title: string; colour: string; lab: Lab | null }>;

/** Colours of the coverings that are matched, by book; none for kinds that nobody sees. */
export function coloursOf(store: Workshop, { kind, parts }: CutAsked): ReadonlyMap<string, BookColour> {
  if (!coveringKinds.has(kind)) return new Map();
  const ids = [...new Set(parts.flatMap(({ bookId }) => (bookId === null ? [] : [bookId])))];
  const measured = bookColours(store.db, ids);
  return new Map(
    readSurveyed(store.db, ids).map(({ book: { id, title, colour } }) => [
      id,
      { title, colour, lab: measured(id, 'covering')?.lab ?? labOfWords(colour) },
    ]),
  );
}

/** Shades this near to the nearest will do as well, by CIEDE2000 between what the words stand for. Common practice, no source. */
const asNear = 3;
/** Beyond this it is another colour, and said. */
const notNear = 10;

/**
 * The parts with the stock each may be cut from. What will be seen is cut from a piece kept for the book or from new material of the
 * nearest colour; what was salvaged and is kept for nobody is left for the book it will match.
 */
export function suited(
  { kind, parts }: CutAsked,
  offered: readonly Offered[],
  colours: ReadonlyMap<string, BookColour>,
  titles: ReadonlyMap<string, string>,
): Readonly<{ wanted: readonly Wanted[]; remarks: readonly string[] }> {
  if (!matchedKinds.has(kind)) return { wanted: parts.map((part) => named(part, titles)), remarks: [] };
  const remarks = new Set<string>();
  const bought = offered.filter(({ line }) => line === null || line.donor === null);
  const wanted = parts.map((part) => {
    if (part.bookId === null) return wantedOf(part);
    const wanted = named(part, titles);
    const book = colours.get(part.bookId);
    const kept = offered.filter(({ line }) => line?.reservedFor?.id === part.bookId);
    const { near, words } = book ? nearest(book, bought) : { near: bought, words: null };
    if (words !== null && kept.length === 0) remarks.add(words);
    return { ...wanted, from: [...kept, ...near].map(({ stock }) => stock.id) };
  });
  return { wanted, remarks: [...remarks] };
}

/** A part by what it is and whose it is, as it is written on the cutting sheet. */
function named(part: Part, titles: ReadonlyMap<string, string>): Wanted {
  const title = part.bookId === null ? undefined : titles.get(part.bookId);
  const wanted = wantedOf(part);
  return title === undefined ? wanted : { ...wanted, name: `${part.what}, ${title}` };
}

function nearest({ title, colour, lab }: BookColour, bought: readonly Offered[]) {
  const told = bought.map((one) => {
    const own = labOfWords(one.colour);
    return { one, difference: lab && own ? colourDifference(lab, own) : 0 };
  });
  const least = Math.min(...told.map(({ difference }) => difference));
  const near = told.filter(({ difference }) => difference <= least + asNear).map(({ one }) => one);
  const words =
    near[0] !== undefined && least >= notNear
      ? `“${title}” is ${colour}, and nothing new on hand is near that: it is laid on ${near[0].stock.name}. Look for a match in the drawer first.`
      : null;
  return { near, words };
}
