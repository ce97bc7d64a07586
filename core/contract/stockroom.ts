/** The cupboard: what is on hand, promised and arriving, when it runs out, and what to order by which day. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { Cover } from '../stock/cover.ts';
import type { Material, MovementKind } from '../stock/material.ts';
import { materialKinds, movementKinds, stockUnits } from '../stock/material.ts';
import type { OrderAdvice } from '../stock/orders.ts';
import type { Purpose } from '../stock/projection.ts';
import { ask, date, type FileAnswer, id, line } from './ask.ts';

/** Quantities in the material's own unit throughout. */
export type StockLine = Readonly<{
  material: Material;
  onHand: number;
  promised: Readonly<Record<Purpose, number>>;
  arriving: number;
  cover: Cover;
  advice: OrderAdvice | null;
}>;

export type Stock = Readonly<{
  /** Today in the workshop's time zone, YYYY-MM-DD. */
  today: string;
  horizonDays: number;
  lines: readonly StockLine[];
  /** Needs that no material could be counted for, in words, each once. */
  remarks: readonly string[];
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
    series: readonly Readonly<{ date: string; low: number; balance: number }>[];
    promises: readonly PromisedLine[];
    arrivals: readonly ArrivalLine[];
    /** The level it should not fall below, and how that was reckoned. */
    safety: number;
    safetyWorking: string;
    /** Said where some of it has been here longer than it keeps, or soon will have been. */
    keeping: string | null;
  }>;

export type OrderLine = Readonly<{
  material: Material;
  onHand: number;
  arriving: number;
  advice: OrderAdvice;
  /** Why: the sentence of its cover. */
  because: string;
}>;

export type SupplierOrder = Readonly<{
  supplier: string;
  /** The earliest day among its lines; null where none has one. */
  orderBy: string | null;
  costMinor: number;
  lines: readonly OrderLine[];
}>;

export type OrderList = Readonly<{
  today: string;
  currency: string;
  suppliers: readonly SupplierOrder[];
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
});
export type MaterialInput = Readonly<z.infer<typeof materialShape>>;

export const tables = ['materials', 'movements', 'orders'] as const;
export type TableName = (typeof tables)[number];

export const stockroomContract = {
  list: ask.output(type<Stock>()),
  material: ask.input(z.object({ id })).output(type<MaterialDetail>()),
  saveMaterial: ask.input(materialShape).output(type<Readonly<{ id: string; name: string }>>()),
  /** A line of the ledger. It is never changed; `answerMovement` answers one that was wrong with its opposite. */
  addMovement: ask
    .input(
      z.object({ materialId: id, kind: z.enum(movementKinds), quantity: number, reason: line, bookId: id.optional() }),
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
    .input(z.object({ arrivalId: id, quantity: number, restComing: z.boolean() }))
    .output(type<Readonly<{ onHand: number; words: string }>>()),
  /** An order that will not come. */
  cancelOrder: ask.input(z.object({ arrivalId: id })).output(type<Readonly<{ words: string }>>()),
  exportCsv: ask.input(z.object({ table: z.enum(tables) })).output(type<FileAnswer>()),
  printOrders: ask.output(type<FileAnswer>()),
};
