/** Pieces in the drawer: what came off a donor or was left of a sheet. Millimetres; colours as CIE Lab under D50. */
import type { GrainPattern } from '../book/book.ts';
import type { Grain } from '../cutting/stock.ts';
import type { MaterialKind } from '../stock/material.ts';

/** Kinds of material that come in flat pieces. */
export const pieceKinds = [
  'book cloth',
  'leather',
  'endpaper',
  'repair paper',
  'label paper',
  'greyboard',
  'spine card',
  'box board',
  'kraft paper',
  'mull',
  'aero cotton',
  'Japanese tissue',
] as const satisfies readonly MaterialKind[];
export type PieceKind = (typeof pieceKinds)[number];

/** L*, a*, b*, D50. */
export type Lab = readonly [number, number, number];

/** What a piece and a repair are compared by. */
export type Look = Readonly<{
  /** Null where neither words nor a measurement say. */
  lab: Lab | null;
  /** False where `lab` is only what the colour's words stand for. */
  measured: boolean;
  pattern: GrainPattern | null;
  yearFrom: number | null;
  yearTo: number | null;
}>;

export type DrawerPiece = Look &
  Readonly<{
    id: string;
    name: string;
    kind: PieceKind;
    heightMm: number;
    widthMm: number;
    grain: Grain | null;
  }>;
