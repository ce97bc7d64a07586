/** What is cut, out of what, and how: millimetres throughout. Height and width are those of the piece or sheet as it lies. */

/** Along which side the grain runs. */
export type Grain = 'height' | 'width';

/** A kind of sheet, or one offcut. */
export type Stock = Readonly<{
  id: string;
  name: string;
  heightMm: number;
  widthMm: number;
  /** Null where nobody noted it: pieces are then laid as if it ran along the height, and that is said. */
  grain: Grain | null;
  count: number;
  /** Of one, in minor units; an offcut's is what breaking into it is felt to cost, often nothing. */
  costMinor: number;
  offcut: boolean;
  /** Cut off all round before anything else. */
  trimMm: number;
}>;

/** A piece to be cut. With its grain along the height it is never turned against the stock's grain; with `any` it may lie either way. */
export type Wanted = Readonly<{
  id: string;
  name: string;
  heightMm: number;
  widthMm: number;
  grain: 'along height' | 'any';
  count: number;
  /** Ids of the only stock it may be cut from, where not every stock will do: cloth of the book's colour. */
  from?: readonly string[];
}>;

export type CutSettings = Readonly<{
  /** What the blade takes away: 0 for a knife or a shear. */
  kerfMm: number;
  /** What is smaller than this on its short side, or less than twice as long as that, is waste. */
  usefulMm: number;
  /** Times the work may be turned between cuts, after trimming; null where that does not matter. */
  mostTurns: number | null;
}>;

export type Rect = Readonly<{ xMm: number; yMm: number; heightMm: number; widthMm: number }>;

/** One cut, edge to edge through one part. */
export type Cut = Readonly<{
  /** Order of the cuts of one sheet, from 1. */
  number: number;
  part: Rect;
  /** `across` runs from left to right and divides the height; `down` runs from head to tail and divides the width. */
  direction: 'across' | 'down';
  /** The edge of the part that lies against the fence, and the distance from it at which the blade falls. */
  fence: 'head' | 'tail' | 'left' | 'right';
  atMm: number;
  /** What is left of the part, before and after the blade; null where nothing is. */
  before: Rect | null;
  after: Rect | null;
  trim: boolean;
}>;

export type Placed = Readonly<{ wantedId: string; name: string; rect: Rect; turned: boolean }>;

export type CutSheet = Readonly<{
  stockId: string;
  name: string;
  offcut: boolean;
  heightMm: number;
  widthMm: number;
  grain: Grain | null;
  cuts: readonly Cut[];
  pieces: readonly Placed[];
  /** Large enough to keep. */
  remnants: readonly Rect[];
  turns: number;
}>;

/** Areas in square millimetres: stock = pieces + remnants + waste, exactly to the square micrometre the sizes are held in. */
export type Areas = Readonly<{ stock: number; pieces: number; remnants: number; waste: number }>;

export type CutPlan = Readonly<{
  sheets: readonly CutSheet[];
  /** What could not be cut, and why. */
  uncut: readonly Readonly<{ wantedId: string; name: string; count: number; because: string }>[];
  costMinor: number;
  /** No plan can cost less: the cheapest stock with room enough for the area of the pieces. */
  boundMinor: number;
  areas: Areas;
  remarks: readonly string[];
}>;
