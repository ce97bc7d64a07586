/** How this bench works: its operations as data, and treatments put together by a person or kept under a name. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { damages, levels, parts } from '../book/book.ts';
import { materialKinds } from '../stock/material.ts';
import type { Alternative } from '../treatment/compose.ts';
import { measureNames, type Operation } from '../treatment/operation.ts';
import { attentions, dangers, type Proposal, toolKinds } from '../treatment/treatment.ts';
import { ask, id, line } from './ask.ts';
import type { BookOpened } from './shelf.ts';

export type ListedOperation = Readonly<{
  operation: Operation;
  /** `brought` with the program; `changed` here; or the workshop's `own`. */
  standing: 'brought' | 'changed' | 'own';
  /** Versions made here, newest first. */
  versions: readonly Readonly<{ version: number; madeAt: number; withdrawn: boolean }>[];
}>;

const formula = z.partialRecord(z.enum([...measureNames, 'mm']), z.number().min(-2000).max(5000));
const words = z.string().max(300, 'Say it in less than 300 characters.');
const need = z.union([
  z.object({
    kind: z.enum(materialKinds),
    words,
    height: formula,
    width: formula,
    count: formula,
    grain: z.enum(['along height', 'any']),
    what: words,
  }),
  z.object({
    kind: z.enum(materialKinds),
    words,
    unit: z.enum(['m', 'g', 'ml', 'piece']),
    times: z.number().min(0).max(100_000),
    of: z.array(formula).max(4),
    fixed: z.number().min(0).max(100_000),
  }),
]);
const minutes = z.int('Minutes are whole.').min(1, 'Nothing is done in less than a minute.').max(10_000);
const degree = z.union([z.literal(1), z.literal(2), z.literal(3)]);

const operationShape = z.object({
  name: line.min(1, 'An operation needs a name.'),
  level: z.enum(levels),
  minutes: z.object({ low: minutes, likely: minutes, high: minutes }),
  grows: z
    .object({
      by: z.enum(measureNames),
      from: z.number().positive('Say for which size the minutes are meant.'),
      fixedShare: z.number().min(0).max(1),
    })
    .nullable(),
  atMost: z.int().min(1).max(5000),
  wait: z.object({ minutes: z.int().min(1).max(100_000), held: z.enum([...toolKinds, 'air']), what: words }).nullable(),
  tools: z.array(z.enum(toolKinds)),
  attention: z.enum(attentions),
  needs: z.array(need).max(20),
  cautions: z.array(z.object({ danger: z.enum(dangers), sentence: words })).max(10),
  source: line.min(1, 'Say where the times come from, or “own practice”.'),
  requires: z.array(z.array(line).min(1)).max(10),
  after: z.array(line).max(60),
  keeps: line.nullable(),
  onCovering: z.boolean(),
  invasive: z.boolean(),
  calledBy: z
    .array(z.object({ part: z.enum(parts), damage: z.enum(damages), from: degree, to: degree }))
    .max(50)
    .optional(),
});

export type OwnTreatment = Readonly<{ id: string; name: string; operations: readonly string[] }>;

/** As many as a treatment has steps. */
const steps = z.array(line).min(1, 'A treatment has one step at least.').max(80);

export const operationsContract = {
  list: ask.output(type<readonly ListedOperation[]>()),
  /** Keeps a new version; without an id a new operation. What was agreed before keeps what was meant then. */
  save: ask
    .input(z.object({ id: line.nullable(), operation: operationShape }))
    .output(type<Readonly<{ id: string; version: number }>>()),
  /** From now on not used; one the program brings is again as the program brings it. */
  withdraw: ask.input(z.object({ id: line })).output(type<Readonly<{ id: string }>>()),
  /** The ways of treating a book, least intervention first. */
  alternatives: ask.input(z.object({ bookId: id })).output(type<readonly Alternative[]>()),
  /** What these operations in this order come to for a book; refused where one comes before what it depends on. */
  compose: ask.input(z.object({ bookId: id, operations: steps })).output(type<Proposal>()),
  /** Freezes these operations as the treatment agreed for this book. */
  agree: ask.input(z.object({ bookId: id, operations: steps })).output(type<BookOpened>()),
  ownTreatments: ask.output(type<readonly OwnTreatment[]>()),
  keepTreatment: ask
    .input(z.object({ name: line.min(1, 'Give the treatment a name.'), operations: steps }))
    .output(type<OwnTreatment>()),
  removeTreatment: ask.input(z.object({ id })).output(type<Readonly<{ id: string }>>()),
  /** Books still to be worked out by changed rules or operations, of how many. */
  upkeep: ask.output(type<Readonly<{ left: number; of: number }>>()),
};
