/** A cut sheet as lines and words, so that the page and the printer show the same. Millimetres, x to the right, y down. */
import type { Cut, CutSheet, Rect } from './stock.ts';

export type CutLine = Readonly<{
  number: number;
  trim: boolean;
  from: Readonly<{ x: number; y: number }>;
  to: Readonly<{ x: number; y: number }>;
  /** Where the number stands: a third along, staggered so that neighbours stay apart. */
  label: Readonly<{ x: number; y: number }>;
  /** Millimetres the number may take: the short side of the part that is cut. */
  roomMm: number;
}>;

export function cutLines({ cuts }: CutSheet): readonly CutLine[] {
  return cuts.map((cut) => {
    const { part, direction, number, trim } = cut;
    const at = bladeAt(cut);
    const roomMm = Math.min(part.heightMm, part.widthMm);
    const share = [0.3, 0.5, 0.7][number % 3] ?? 0.5;
    if (direction === 'across') {
      return {
        number,
        trim,
        roomMm,
        from: { x: part.xMm, y: at },
        to: { x: part.xMm + part.widthMm, y: at },
        label: { x: part.xMm + part.widthMm * share, y: at },
      };
    }
    return {
      number,
      trim,
      roomMm,
      from: { x: at, y: part.yMm },
      to: { x: at, y: part.yMm + part.heightMm },
      label: { x: at, y: part.yMm + part.heightMm * share },
    };
  });
}

/** Where the blade falls, on the sheet. */
function bladeAt({ part, direction, fence, atMm }: Cut): number {
  if (direction === 'across') return fence === 'head' ? part.yMm + atMm : part.yMm + part.heightMm - atMm;
  return fence === 'left' ? part.xMm + atMm : part.xMm + part.widthMm - atMm;
}

/** How to set the fence: “head edge to the fence, 212 mm”. The measure is worded by the caller. */
export function sayCut({ fence }: Cut, measure: string): string {
  const edge = { head: 'head edge', tail: 'tail edge', left: 'left edge', right: 'right edge' }[fence];
  return `${edge} to the fence, ${measure}`;
}

/** Which part of the sheet a cut goes through, as far as it needs saying: the whole, or a part by its size. */
export function partWords({ part }: Cut, sheet: CutSheet, words: (mm: number) => string): string {
  if (part.heightMm === sheet.heightMm && part.widthMm === sheet.widthMm) return 'the whole sheet';
  return `the part ${words(part.heightMm)} × ${words(part.widthMm)}`;
}

/** A, B … Z, AA: pieces of a sheet by letter, from index 0, so that they are not taken for cuts. */
export function pieceLetter(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : pieceLetter(Math.floor(index / 26) - 1) + last;
}

export type PieceGroup = Readonly<{
  letters: string;
  name: string;
  heightMm: number;
  widthMm: number;
  turned: boolean;
}>;

/** Pieces of a sheet that are alike, with their letters: “A, C–F”. Height and width as they lie on the sheet. */
export function pieceGroups({ pieces }: CutSheet): readonly PieceGroup[] {
  const alike = Map.groupBy(pieces.keys(), (index) => {
    const { name, rect, turned } = pieces[index]!;
    return `${name} ${rect.heightMm} ${rect.widthMm} ${turned}`;
  });
  return [...alike.values()].map((indexes) => {
    const { name, rect, turned } = pieces[indexes[0]!]!;
    const letters = runsOf(indexes)
      .map(([first, last]) => {
        if (first === last) return pieceLetter(first);
        return `${pieceLetter(first)}${last === first + 1 ? ', ' : '–'}${pieceLetter(last)}`;
      })
      .join(', ');
    return { letters, name, heightMm: rect.heightMm, widthMm: rect.widthMm, turned };
  });
}

/** First and last of each run of numbers that follow one another; the numbers rise. */
function runsOf(numbers: readonly number[]): readonly (readonly [number, number])[] {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run && run[1] === number - 1) run[1] = number;
    else runs.push([number, number]);
  }
  return runs;
}

/** What falls off ready with this cut: a piece by its number on the sheet, from 1, or null. */
export function readyWith(cut: Cut, sheet: CutSheet): readonly number[] {
  const isPart = (rect: Rect | null) =>
    rect === null
      ? -1
      : sheet.pieces.findIndex(
          ({ rect: piece }) =>
            piece.xMm === rect.xMm &&
            piece.yMm === rect.yMm &&
            piece.heightMm === rect.heightMm &&
            piece.widthMm === rect.widthMm,
        );
  return [cut.before, cut.after].map(isPart).flatMap((index) => (index < 0 ? [] : [index + 1]));
}

/** Room on paper, in any one unit of length: points, for the printer. */
type Room = Readonly<{ width: number; height: number }>;

export type Panes = Readonly<{
  /** Of the whole sheet, so many units to a millimetre; in it only what can be read is written. */
  overview: number;
  /** The sheet in parts drawn larger, in reading order; none where the whole can be read. */
  panes: readonly Rect[];
  /** Of the parts, all alike. */
  scale: number;
}>;

/** More parts than this of one sheet are no help at the shear. */
const mostPanes = 24;

/**
 * How a sheet is drawn so that its letters come out no smaller than `least`: whole where they do, else whole and then in parts as large as
 * the smallest piece asks for. `room` is for the whole, `paneRoom` for each part.
 */
export function panesOf(sheet: CutSheet, room: Room, paneRoom: Room, least: number): Panes {
  const { widthMm, heightMm } = sheet;
  const overview = Math.min(room.width / widthMm, room.height / heightMm);
  let needed = overview;
  for (const [index, { rect }] of sheet.pieces.entries()) {
    needed = Math.max(needed, (overview * least) / Math.max(1e-9, letterSize(rect, index, overview)));
  }
  if (needed <= overview) return { overview, panes: [], scale: overview };
  // Parts share a strip, so that a piece on their edge has its letter in one of them whole.
  const shared = { wide: (least * letterWide(sheet.pieces.length - 1)) / acrossShare / 2, high: least / upShare / 2 };
  const [roomWide, roomHigh] = [paneRoom.width - 2 * shared.wide, paneRoom.height - 2 * shared.high];
  let [columns, rows] = [1, 1];
  for (let scale = needed; ; scale *= 0.9) {
    columns = Math.ceil((widthMm * scale) / roomWide);
    rows = Math.ceil((heightMm * scale) / roomHigh);
    if (columns * rows <= mostPanes) break;
  }
  const [wide, high] = [widthMm / columns, heightMm / rows];
  const scale = Math.min(roomWide / wide, roomHigh / high);
  const panes = Array.from({ length: columns * rows }, (_, place) => {
    const [left, top] = [(place % columns) * wide, Math.floor(place / columns) * high];
    const from = { x: Math.max(0, left - shared.wide / scale), y: Math.max(0, top - shared.high / scale) };
    return {
      xMm: from.x,
      yMm: from.y,
      widthMm: Math.min(widthMm, left + wide + shared.wide / scale) - from.x,
      heightMm: Math.min(heightMm, top + high + shared.high / scale) - from.y,
    };
  });
  return { overview, panes, scale };
}

/** Of a piece's width and height a letter may take so much, for the numbers of the cuts on its edges to stand beside it. */
const acrossShare = 0.5;
const upShare = 0.45;

/** A letter is about so wide as a share of its height, and later pieces have two or three. */
function letterWide(index: number): number {
  return 0.68 * pieceLetter(index).length;
}

/** How tall a piece's letter may stand within it beside the numbers of the cuts round it, in the units that `scale` gives to a millimetre. */
export function letterSize({ widthMm, heightMm }: Rect, index: number, scale: number): number {
  return Math.min(heightMm * scale * upShare, (widthMm * scale * acrossShare) / letterWide(index));
}

/** What of a rectangle lies in another; null where nothing does. */
export function within(rect: Rect, pane: Rect): Rect | null {
  const xMm = Math.max(rect.xMm, pane.xMm);
  const yMm = Math.max(rect.yMm, pane.yMm);
  const widthMm = Math.min(rect.xMm + rect.widthMm, pane.xMm + pane.widthMm) - xMm;
  const heightMm = Math.min(rect.yMm + rect.heightMm, pane.yMm + pane.heightMm) - yMm;
  return widthMm > 1e-9 && heightMm > 1e-9 ? { xMm, yMm, widthMm, heightMm } : null;
}
