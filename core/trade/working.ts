/** One step of a calculation, so that whoever reads a figure can ask why: what it is, how it comes about in words, and the number. */
export type Step = Readonly<{ label: string; formula: string; value: number; unit: Unit; source?: string }>;

type Unit = 'mm' | 'mm²' | 'cm²' | 'm' | 'm²' | 'g' | 'g/m²' | 'mL' | '°' | 'g/cm³' | 'tex' | 'min' | '%' | '';

/** Said beside every number that trade books do not settle. */
export const noSource = 'common practice, no source';

/** A piece to cut, height along the spine. Grain is the side it should run with. */
export type Piece = Readonly<{
  part: string;
  material: PieceMaterial;
  heightMm: number;
  widthMm: number;
  count: number;
  grain: 'height' | 'width' | 'any';
}>;

export type PieceMaterial =
  | 'board'
  | 'covering cloth'
  | 'covering leather'
  | 'side paper'
  | 'stiffener'
  | 'mull'
  | 'kraft'
  | 'endpaper'
  | 'jacket'
  | 'lining paper';

/** Area of pieces in square millimetres, each as often as it is needed. */
export function areaOfPieces(pieces: readonly Piece[]): number {
  return pieces.reduce((sum, piece) => sum + piece.heightMm * piece.widthMm * piece.count, 0);
}
