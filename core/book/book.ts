/**
 * The book and the words the workshop uses of it. The word lists are the only place where these terms stand;
 * forms, checks and the store derive from them.
 */

/** What is to become of a book. */
export const fates = ['restore', 'practice', 'salvage', 'clean only', 'leave'] as const;
export type Fate = (typeof fates)[number];

/** Where a book stands on its way through the workshop. */
export const stages = ['waiting', 'surveyed', 'agreed', 'in hand', 'pressing', 'done'] as const;
export type Stage = (typeof stages)[number];

/** A worker's experience; also how demanding an operation or a practice copy is. Ordered, least first. */
export const levels = ['newcomer', 'improver', 'journeyman'] as const;
export type Level = (typeof levels)[number];

export const bindings = [
  'cloth case',
  'quarter cloth',
  'half cloth',
  'quarter leather',
  'half leather',
  'full leather',
  'paper boards',
  'paper wrappers',
  'vellum',
  'unbound',
] as const;
export type Binding = (typeof bindings)[number];

/** Grain patterns embossed on publishers' cloth, by descriptive name; Sadleir 1930 and Carter 1932 use such words. */
export const grainPatterns = [
  'plain',
  'diaper',
  'morocco',
  'ripple',
  'rib',
  'bead',
  'sand',
  'pebble',
  'wave',
  'net',
  'dot and line',
  'honeycomb',
  'bubble',
  'linen weave',
  'buckram',
] as const;
export type GrainPattern = (typeof grainPatterns)[number];

export const parts = [
  'boards',
  'joints',
  'hinges',
  'spine',
  'corners',
  'covering',
  'label',
  'headbands',
  'sewing',
  'spine lining',
  'text block',
  'leaves',
  'plates',
  'endpapers',
  'edges',
  'clasps',
] as const;
export type Part = (typeof parts)[number];

export const damages = [
  'dirty',
  'loose',
  'detached',
  'torn',
  'split',
  'worn',
  'frayed',
  'broken',
  'missing',
  'faded',
  'stained',
  'foxed',
  'brittle',
  'cockled',
  'failed adhesive',
  'old repair',
  'red rot',
  'mould',
  'insects',
] as const;
export type Damage = (typeof damages)[number];

/** 1 slight, 2 marked, 3 severe. */
export type Severity = 1 | 2 | 3;
export const severityWords: Readonly<Record<Severity, string>> = { 1: 'slight', 2: 'marked', 3: 'severe' };

/** What the survey found of one part. `count` counts leaves, plates, tears or corners where counting makes sense. */
export type Finding = Readonly<{ part: Part; damage: Damage; severity: Severity; count: number | null; note: string }>;

/** What the mended book is for; it bounds how much treatment is worth doing. */
export const uses = ['daily reading', 'occasional reading', 'reference', 'display', 'teaching'] as const;
export type Use = (typeof uses)[number];

export const scarcities = ['common', 'uncommon', 'scarce', 'rare', 'unknown'] as const;
export type Scarcity = (typeof scarcities)[number];

export const completenesses = ['complete', 'incomplete', 'unknown'] as const;
export type Completeness = (typeof completenesses)[number];

/** A book as the workshop describes it. Lengths in millimetres; unknown is null, never zero. */
export type Book = Readonly<{
  id: string;
  shelfMark: string | null;
  title: string;
  author: string;
  imprint: string;
  /** The date as written on the title page or the list, kept word for word. */
  dateText: string;
  yearFrom: number | null;
  yearTo: number | null;
  /** Format in the trade's words, e.g. "crown 8vo". */
  format: string;
  heightMm: number | null;
  widthMm: number | null;
  thicknessMm: number | null;
  /** Pages counted from the page statement. */
  pages: number | null;
  pagesText: string;
  binding: Binding | null;
  /** Colour of the covering in words, e.g. "dark green". */
  colour: string;
  pattern: GrainPattern | null;
  lotId: string | null;
  placeId: string | null;
  fate: Fate | null;
  /** True when the person has decided the fate and no proposal may change it. */
  fateLocked: boolean;
  stage: Stage;
  use: Use;
  /** 0 none, 1 some, 2 considerable, 3 outstanding: the owner's own judgement. */
  significance: 0 | 1 | 2 | 3;
  scarcity: Scarcity;
  completeness: Completeness;
  note: string;
}>;

/** How much of a hazard has been looked at: raised by rule, confirmed or cleared by a person. */
export const hazardStates = ['raised', 'confirmed', 'cleared'] as const;
export type HazardState = (typeof hazardStates)[number];

export const hazardKinds = ['arsenical green', 'lead or chromium pigment', 'mould', 'insects', 'red rot'] as const;
export type HazardKind = (typeof hazardKinds)[number];

/** A hazard on one book with the published reason it was raised and what a person decided, if anyone has yet. */
export type Hazard = Readonly<{ kind: HazardKind; state: HazardState; reason: string; decision: string }>;
