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
