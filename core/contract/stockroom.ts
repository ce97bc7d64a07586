/** The cupboard: what is on hand, promised and arriving, when it runs out, and what to order by which day. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { Cover } from '../stock/cover.ts';
import type { Keeping } from '../stock/lots.ts';
import type { Material, MovementKind } from '../stock/material.ts';
import { materialKinds, movementKinds, stockUnits } from '../stock/material.ts';
import type { OrderAdvice } from '../stock/orders.ts';
import type { Purpose } from '../stock/projection.ts';
import { ask, date, type FileAnswer, id, line } from './ask.ts';

/** What would do instead, and how much of it is there beyond what it is itself promised to. */
export type SubstituteLine = Readonly<{
  materialId: string;
  name: string;
  unit: Material['unit'];
  onHand: number;
  /** What would be left of it after everything it is promised to. */
  spare: number;
  note: string;
}>;

/** Of what came in together, what is left. */
export type LotLine = Readonly<{
  /** Null: in no lot. */
  id: string | null;
  materialId: string;
  receivedOn: string;
  bestBefore: string | null;
  quantity: number;
  received: number;
  supplier: string;
  costMinor: number | null;
  number: string;
  note: string;
  keeping: Keeping;
  /** Said where it is past keeping or soon will be. */
  words: string | null;
}>;

/** Quantities in the material's own unit throughout. */
export type StockLine = Readonly<{
  material: Material;
  onHand: number;
  promised: Readonly<Record<Purpose, number>>;
  arriving: number;
  cover: Cover;
  advice: OrderAdvice | null;
  /** What would do instead; only where it runs short. */
  substitutes: readonly SubstituteLine[];
}>;

export type Stock = Readonly<{
  /** Today in the workshop's time zone, YYYY-MM-DD. */
  today: string;
  horizonDays: number;
  lines: readonly StockLine[];
  /** Needs that no material could be counted for, in words, each once. */
  remarks: readonly string[];
  /** Lots past keeping or soon to be, the first to expire first. */
  expiring: readonly (LotLine & Readonly<{ name: string; unit: Material['unit'] }>)[];
}>;

export type LedgerLine = Readonly<{
  id: string;
  kind: MovementKind;
  /** Signed. */
  quantity: number;
  /** What the ledger stood at after it. */
  balance: number;
  at: number;
  reason: string;
  bookId: string | null;
  book: string;
  /** Already answered, or itself the answer to another: it cannot be answered again. */
  closed: boolean;
  /** When the line that this one answers was entered; null where it answers none. */
  answers: number | null;
  /** The lot it came into or out of, in words; empty for none. */
  lot: string;
  /** What it was made into, in words; empty where it was not. */
  made: string;
}>;

export type PriceLine = Readonly<{
  on: string;
  /** Minor units a unit of the material, not rounded. */
  unitPriceMinor: number;
  /** "pack of 5 m at 21.50" as it was paid or quoted. */
  quantity: number;
  costMinor: number;
  supplier: string;
  kind: 'paid' | 'quoted';
  note: string;
}>;

export type Recipe = Readonly<{
  yield: number;
  keepsDays: number;
  note: string;
  ingredients: readonly Readonly<{
    materialId: string;
    name: string;
    unit: Material['unit'];
    quantity: number;
    onHand: number;
  }>[];
}>;

export type PromisedLine = Readonly<{
  date: string | null;
  quantity: number;
  purpose: Purpose;
  bookId: string | null;
  courseId: string | null;
  title: string;
  why: string;
  working: string;
}>;

export type ArrivalLine = Readonly<{
  id: string;
  materialId: string;
  name: string;
  unit: Material['unit'];
  supplier: string;
  quantity: number;
  orderedOn: string;
  dueOn: string;
  overdue: boolean;
}>;

export type MaterialDetail = StockLine &
  Readonly<{
    today: string;
    horizonDays: number;
    /** Newest first, at most 200 of `ledgerLines`. */
    ledger: readonly LedgerLine[];
    ledgerLines: number;
    /** The balance of each day, today first: `low` before a parcel comes, `balance` at its end. */
    series: readonly Readonly<{ date: string; low: number; balance: number; from: number; to: number }>[];
    /** What the range says in words; null where the ledger is too short to give one. */
    range: string | null;
    promises: readonly PromisedLine[];
    arrivals: readonly ArrivalLine[];
    /** The level it should not fall below, and how that was reckoned. */
    safety: number;
    safetyWorking: string;
    /** Said where some of it has been here longer than it keeps, or soon will have been. */
    keeping: string | null;
    /** What is there by lot, in the order it is used. */
    lots: readonly LotLine[];
    /** Newest first. */
    prices: readonly PriceLine[];
    /** What was said to do instead, short or not. */
    wouldDo: readonly SubstituteLine[];
    recipe: Recipe | null;
  }>;

export type OrderLine = Readonly<{
  material: Material;
  onHand: number;
  arriving: number;
  advice: OrderAdvice;
  /** Why: the sentence of its cover. */
  because: string;
  substitutes: readonly SubstituteLine[];
}>;

export type SupplierTerms = Readonly<{
  /** Null: nothing is known of this supplier yet but the name. */
  id: string | null;
  name: string;
  postageMinor: number;
  freeFromMinor: number | null;
  minimumMinor: number;
  leadDays: number | null;
  note: string;
}>;

/** Orders of one supplier that are best sent together. */
export type ParcelLine = Readonly<{
  orderBy: string | null;
  materials: readonly string[];
  goodsMinor: number;
  postageMinor: number;
  /** Minimum, postage and what it pays to bring forward or to add, a sentence each. */
  words: readonly string[];
}>;

export type SupplierOrder = Readonly<{
  supplier: string;
  /** The earliest day among its lines; null where none has one. */
  orderBy: string | null;
  costMinor: number;
  lines: readonly OrderLine[];
  terms: SupplierTerms;
  parcels: readonly ParcelLine[];
}>;

export type OrderList = Readonly<{
  today: string;
  currency: string;
  suppliers: readonly SupplierOrder[];
  /** Of every supplier that a material names. */
  terms: readonly SupplierTerms[];
  arriving: readonly ArrivalLine[];
  /** What sizes and days rest on, a sentence each. */
  rules: readonly string[];
}>;

const unit = z.enum(stockUnits, `Choose one of the units ${stockUnits.join(', ')}.`);
const kind = z.enum(materialKinds, 'Choose one of the kinds in the list.');
const side = z.number('Give the size as a number.').positive('A sheet or roll has a size above zero.').max(100_000);
const number = z.number('Give the quantity as a number.');

const materialShape = z.object({
  id: id.optional(),
  name: line.min(1, 'Give the material a name.'),
  kind,
  unit,
  packQuantity: z
    .number('Give what a pack holds as a number.')
    .min(0.001, 'A pack must hold something: a thousandth at least.')
    .max(1_000_000, 'A pack of more than a million is no pack.'),
  packPriceMinor: z
    .int('Give the price of a pack.')
    .min(0, 'A price cannot be negative.')
    .max(1_000_000_000, 'This price is too high to be true.'),
  supplier: line,
  leadDays: z
    .int('Give whole days.')
    .min(0, 'It cannot come before it is ordered.')
    .max(730, 'More than two years is no lead time.'),
  shelfLifeDays: z.int('Give whole days.').min(1, 'It must keep for a day at least.').max(36_500).nullable(),
  sheetHeightMm: side.nullable(),
  sheetWidthMm: side.nullable(),
  grain: z.enum(['long', 'short']).nullable(),
  caliperMm: z.number().positive('A thickness is above zero.').max(100).nullable(),
  colour: line,
  place: line,
  note: line,
  hazardSheet: line
    .refine(
      (text) => text.trim() === '' || isSecureAddress(text),
      'Give the whole address of the sheet; it begins with https://.',
    )
    .optional(),
});
export type MaterialInput = Readonly<z.infer<typeof materialShape>>;

const addressShape = z.url({ protocol: /^https$/, hostname: z.regexes.domain });
function isSecureAddress(text: string): boolean {
  return addressShape.safeParse(text.trim()).success;
}

const money = z
  .int('Give an amount of money.')
  .min(0, 'An amount of money cannot be negative.')
  .max(1_000_000_000, 'This is too much to be true.');
const above = number
  .positive('Give a quantity above zero.')
  .max(10_000_000, 'Ten million is the most a cupboard holds.');

/** What is known of what came in. */
const cameShape = z.object({
  number: line.optional(),
  /** Null: it does not spoil. Left out: by how long the material keeps. */
  bestBefore: date.nullable().optional(),
  costMinor: money.nullable().optional(),
  note: line.optional(),
});
export type Came = Readonly<z.infer<typeof cameShape>>;

const supplierShape = z.object({
  name: line.min(1, 'Give the supplier’s name.'),
  postageMinor: money,
  freeFromMinor: money.nullable(),
  minimumMinor: money,
  leadDays: z
    .int('Give whole days.')
    .min(0, 'It cannot come before it is ordered.')
    .max(730, 'More than two years is no lead time.')
    .nullable(),
  note: line,
});
export type SupplierInput = Readonly<z.infer<typeof supplierShape>>;

const quoteShape = z.object({
  materialId: id,
  on: date,
  packQuantity: number.min(0.001, 'A pack must hold something: a thousandth at least.').max(1_000_000),
  packPriceMinor: money,
  supplier: line,
  note: line,
});
export type QuoteInput = Readonly<z.infer<typeof quoteShape>>;

const portionShape = z.object({ materialId: id, quantity: above });
const recipeShape = z.object({
  materialId: id,
  yield: above,
  keepsDays: z.int('Give whole days.').min(1, 'It must keep for a day at least.').max(3650),
  note: line,
  ingredients: z.array(portionShape).min(1, 'Name what it is made of.').max(20),
});
export type RecipeInput = Readonly<z.infer<typeof recipeShape>>;

const batchShape = z.object({
  materialId: id,
  made: above,
  ingredients: z.array(portionShape).min(1, 'Name what went into it.').max(20),
  reason: line,
  number: line,
});
export type BatchInput = Readonly<z.infer<typeof batchShape>>;

export const tables = ['materials', 'movements', 'orders', 'lots', 'prices'] as const;
export type TableName = (typeof tables)[number];

export const stockroomContract = {
  list: ask.output(type<Stock>()),
  material: ask.input(z.object({ id })).output(type<MaterialDetail>()),
  saveMaterial: ask.input(materialShape).output(type<Readonly<{ id: string; name: string }>>()),
  /** A line of the ledger. It is never changed; `answerMovement` answers one that was wrong with its opposite. */
  addMovement: ask
    .input(
      z.object({
        materialId: id,
        kind: z.enum(movementKinds),
        quantity: number,
        reason: line,
        bookId: id.optional(),
        /** The lot a person picked. Without one, what expires first goes first, and what comes in is a lot of its own. */
        lotId: id.optional(),
        came: cameShape.optional(),
      }),
    )
    .output(type<Readonly<{ onHand: number; words: string }>>()),
  answerMovement: ask
    .input(z.object({ movementId: id, reason: line }))
    .output(type<Readonly<{ onHand: number; words: string }>>()),
  orders: ask.output(type<OrderList>()),
  /** Notes what has been ordered, in packs; due after the lead time where no day is given. */
  placeOrder: ask
    .input(
      z.object({
        lines: z
          .array(
            z.object({
              materialId: id,
              packs: z.int('Order whole packs.').min(1, 'Order one pack at least.').max(10_000),
            }),
          )
          .min(1, 'Choose something to order.')
          .max(500),
        dueOn: date.optional(),
      }),
    )
    .output(type<Readonly<{ ordered: number; words: string }>>()),
  /** Takes in what came, all or in part; `restComing` keeps the rest among what is arriving. */
  receive: ask
    .input(z.object({ arrivalId: id, quantity: number, restComing: z.boolean(), came: cameShape.optional() }))
    .output(type<Readonly<{ onHand: number; words: string }>>()),
  /** An order that will not come. */
  cancelOrder: ask.input(z.object({ arrivalId: id })).output(type<Readonly<{ words: string }>>()),
  /** Terms of the supplier of this name. */
  saveSupplier: ask.input(supplierShape).output(type<Readonly<{ name: string }>>()),
  /** A price somebody named, with its day; kept beside what was paid. */
  addQuote: ask.input(quoteShape).output(type<Readonly<{ words: string }>>()),
  /** What would do instead of a material; takes the place of what was said before. */
  saveSubstitutes: ask
    .input(z.object({ materialId: id, substitutes: z.array(z.object({ materialId: id, note: line })).max(20) }))
    .output(type<Readonly<{ words: string }>>()),
  /** How a material is made here. */
  saveRecipe: ask.input(recipeShape).output(type<Readonly<{ words: string }>>()),
  removeRecipe: ask.input(z.object({ materialId: id })).output(type<Readonly<{ words: string }>>()),
  /** Takes the ingredients out and puts the batch in as a lot with its days. */
  makeBatch: ask.input(batchShape).output(type<Readonly<{ onHand: number; words: string }>>()),
  exportCsv: ask.input(z.object({ table: z.enum(tables) })).output(type<FileAnswer>()),
  printOrders: ask.output(type<FileAnswer>()),
  /** A sheet to count the cupboard by, place by place and lot by lot. */
  printCount: ask.output(type<FileAnswer>()),
};
