/** Materials by kind and the units people count them in. Treatments ask for a kind; the cupboard holds materials of that kind. */

export const materialKinds = [
  'mull',
  'kraft paper',
  'greyboard',
  'spine card',
  'box board',
  'book cloth',
  'aero cotton',
  'leather',
  'Japanese tissue',
  'repair paper',
  'endpaper',
  'label paper',
  'linen thread',
  'linen tape',
  'headband',
  'wheat starch',
  'paste',
  'methylcellulose',
  'PVA adhesive',
  'leather consolidant',
  'toning colour',
  'silicone paper',
  'blotting paper',
  'polyester film',
  'cleaning sponge',
  'eraser crumbs',
  'nitrile gloves',
] as const;
export type MaterialKind = (typeof materialKinds)[number];

/** Units a treatment asks in. Areas in square metres, lengths in metres, masses in grams, volumes in millilitres. */
export type NeedUnit = 'm2' | 'm' | 'g' | 'ml' | 'piece';

/** A rectangle to cut: grain runs along the height unless it does not matter. */
export type CutPiece = Readonly<{
  heightMm: number;
  widthMm: number;
  grain: 'along height' | 'any';
  count: number;
  what: string;
}>;

/** What one step uses up. `working` says in words how the quantity follows from the book's size. */
export type MaterialNeed = Readonly<{
  kind: MaterialKind;
  unit: NeedUnit;
  quantity: number;
  cut: CutPiece | null;
  working: string;
}>;

/** Units the cupboard counts in. */
export const stockUnits = ['sheet', 'm', 'g', 'ml', 'piece'] as const;
export type StockUnit = (typeof stockUnits)[number];

/** A material in the cupboard. Sheet and roll sizes in millimetres; price per pack in minor units of the workshop's money. */
export type Material = Readonly<{
  id: string;
  name: string;
  kind: MaterialKind;
  unit: StockUnit;
  packQuantity: number;
  packPriceMinor: number;
  supplier: string;
  leadDays: number;
  shelfLifeDays: number | null;
  /** Sheets: both sides. Rolls sold by the metre: width only. */
  sheetHeightMm: number | null;
  sheetWidthMm: number | null;
  grain: 'long' | 'short' | null;
  caliperMm: number | null;
  colour: string;
  place: string;
  note: string;
  /** Where its hazard sheet can be read, https only; empty where none is known. */
  hazardSheet: string;
}>;

export const movementKinds = ['in', 'out', 'counted', 'wasted'] as const;
export type MovementKind = (typeof movementKinds)[number];

/** One line of the ledger; `quantity` is signed, in the material's unit. On hand is always the sum of these. */
export type Movement = Readonly<{
  id: string;
  materialId: string;
  kind: MovementKind;
  quantity: number;
  /** UTC epoch milliseconds. */
  at: number;
  reason: string;
  bookId: string | null;
  courseId: string | null;
}>;
