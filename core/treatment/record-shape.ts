/** What a treatment record is made of and made into, for those who gather it, set it and show it. */
import type { Book, Finding, Hazard } from '../book/book.ts';
import type { Proposal, Step } from './treatment.ts';

/** What only a person knows. Empty where nobody has said it yet. */
export type RecordWords = Readonly<{
  description: string;
  conditionBefore: string;
  purpose: string;
  departures: string;
  kept: readonly Readonly<{ what: string; where: string }>[];
  conditionAfter: string;
  care: string;
  signedBy: string;
  /** YYYY-MM-DD. */
  signedOn: string | null;
}>;

export const unsaidWords: RecordWords = {
  description: '',
  conditionBefore: '',
  purpose: '',
  departures: '',
  kept: [],
  conditionAfter: '',
  care: '',
  signedBy: '',
  signedOn: null,
};

/** Material of the ledger booked to the book: how much in the unit it is counted in, out of which lot, in which step. */
export type MaterialUsed = Readonly<{
  name: string;
  supplier: string;
  quantity: number;
  unit: string;
  lot: string;
  operation: string;
}>;

/** A piece by its name, which says its size, and the other book it came from or went to; empty where there is none. */
export type PieceTold = Readonly<{ name: string; otherBook: string; where: string; on: string }>;

export type RecordFacts = Readonly<{
  book: Book;
  place: string;
  lot: string;
  findings: readonly Finding[];
  hazards: readonly Hazard[];
  proposal: Proposal;
  /** `on` as people write a day. */
  agreed: Readonly<{ steps: readonly Step[]; on: string; note: string }> | null;
  done: readonly Readonly<{ on: string; what: string; minutes: number | null }>[];
  materials: readonly MaterialUsed[];
  /** Pieces of other books, and of new sheets, that are in this one now. */
  added: readonly PieceTold[];
  /** Pieces that came off this book. */
  takenOff: readonly PieceTold[];
  photographs: readonly RecordPhotograph[];
  words: RecordWords;
  signedOn: string;
  workshop: string;
}>;

/** A photograph by its row; whoever sets the record fetches it. */
export type RecordPhotograph = Readonly<{ id: string; stage: string; words: string; scaled: boolean }>;

export type RecordPart =
  | Readonly<{ kind: 'words'; words: string }>
  | Readonly<{ kind: 'missing'; words: string }>
  | Readonly<{ kind: 'caution'; words: string }>
  | Readonly<{ kind: 'table'; columns: readonly RecordColumn[]; rows: readonly (readonly string[])[] }>
  | Readonly<{ kind: 'photographs'; photographs: readonly RecordPhotograph[] }>;

/** `share` is the column's part of the width. */
export type RecordColumn = Readonly<{ head: string; share: number; align?: 'right' }>;

export type RecordSection = Readonly<{ title: string; parts: readonly RecordPart[] }>;

export type RecordDocument = Readonly<{
  title: string;
  lead: string;
  sections: readonly RecordSection[];
  /** What a reader who opens the book must know, short enough for a card: [name, words]. */
  card: readonly (readonly [string, string])[];
}>;
