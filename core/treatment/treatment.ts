/** What a treatment is made of, as every room reads it: steps with hands-on minutes, waiting, materials, cautions and reasons. */
import type { Level } from '../book/book.ts';
import type { MaterialNeed } from '../stock/material.ts';

/** Low, likely and high minutes of hands-on work. */
export type ThreePoint = Readonly<{ low: number; likely: number; high: number }>;

/** Tools that only so many can use at once. Hands are implied: every step takes one pair. */
export const toolKinds = [
  'nipping press',
  'standing press',
  'lying press',
  'weights',
  'board shear',
  'sewing frame',
  'glue pot',
  'extraction hood',
] as const;
export type ToolKind = (typeof toolKinds)[number];

/** What holds the book while it dries: a tool that stays occupied, or the open air. */
export type Wait = Readonly<{ minutes: number; held: ToolKind | 'air'; what: string }>;

export const attentions = ['none', 'nearby', 'beside'] as const;
/** How close a tutor must be while a learner does the step. */
export type Attention = (typeof attentions)[number];

export const dangers = ['blade', 'board shear', 'heat', 'solvent', 'dust', 'mould', 'pigment', 'weight'] as const;
export type Danger = (typeof dangers)[number];

/** A plain sentence that stands beside the step it belongs to. */
export type Caution = Readonly<{ danger: Danger; sentence: string }>;

/** One step of a book's treatment, worked out for that book. */
export type Step = Readonly<{
  operationId: string;
  operationVersion: number;
  name: string;
  /** Which findings or which other step call for it. */
  why: string;
  level: Level;
  minutes: ThreePoint;
  /** Where the bench's own day-book has moved the minutes: 8 of 10 such jobs lie between these, from so many observations of this operation. */
  learned?: Readonly<{ low: number; high: number; observations: number }>;
  wait: Wait | null;
  tools: readonly ToolKind[];
  attention: Attention;
  needs: readonly MaterialNeed[];
  cautions: readonly Caution[];
  source: string;
  /** Original material that stays because of how it is done. */
  keeps?: string;
}>;

/** A proposed treatment: steps in an order that respects what each depends on. */
export type Proposal = Readonly<{
  steps: readonly Step[];
  /** Hands-on minutes of all steps; low and high are the 10 % and 90 % points of the sum, not sums of extremes. */
  minutes: ThreePoint;
  waitMinutes: number;
  needs: readonly MaterialNeed[];
  cautions: readonly Caution[];
  /** Original material that stays on the book or goes into its envelope. */
  keeps: readonly string[];
  level: Level;
  remarks: readonly string[];
}>;
