/**
 * An operation of the bench as data: what it is, how long it takes and how that grows with the book, what it uses up by formula, what must
 * come before it. Nothing here is code of one operation, so that a workshop can add its own. `stepOf` works one out for one book.
 */
import type { Damage, Level, Part, Severity } from '../book/book.ts';
import type { CutPiece, MaterialKind, MaterialNeed, NeedUnit } from '../stock/material.ts';
import type { Measures } from './measures.ts';
import type { Attention, Caution, Step, ThreePoint, ToolKind, Wait } from './treatment.ts';

/** Names a formula may use: the book's measures in millimetres and counts, and `count`, how many tears, leaves or corners are to be done. */
export type MeasureName = Exclude<keyof Measures, 'assumed'> | 'count';

/** All of them, with words for a form. */
export const measureWords: Readonly<Record<MeasureName, string>> = {
  count: 'how many',
  blockHeight: 'height of the block',
  blockWidth: 'width of the block',
  blockThickness: 'thickness of the block',
  back: 'width of the back',
  boardHeight: 'height of a board',
  boardWidth: 'width of a board',
  board: 'thickness of a board',
  joint: 'cloth in a joint',
  caseWidth: 'width of the case lying flat',
  turnIn: 'what is turned in',
  lift: 'new cloth under the old',
  onBoard: 'new cloth over the board',
  mullOverlap: 'mull down each side',
  mullShort: 'mull short at each end',
  kraftLayers: 'layers of kraft',
  hollow: 'hollow before it is folded',
  proud: 'endpaper over, to trim',
  leaves: 'leaves',
  sections: 'sections',
  tapes: 'tapes',
  threadM: 'metres of thread',
};
export const measureNames = Object.keys(measureWords) as readonly MeasureName[] as readonly [
  MeasureName,
  ...MeasureName[],
];

/** A length or number as a sum: so many times each measure, and `mm` on top. `{ back: 1, mm: 63.5 }` is the back and 2 1/2 in. */
export type Formula = Readonly<Partial<Record<MeasureName | 'mm', number>>>;

/**
 * What an operation uses up. A piece is cut to height by width; an amount is `times` the product of `of`, plus `fixed`. `words` say how it
 * follows from the book's size, as a person would.
 */
export type NeedRule = Readonly<{ kind: MaterialKind; words: string }> &
  (
    | Readonly<{ height: Formula; width: Formula; count: Formula; grain: CutPiece['grain']; what: string }>
    | Readonly<{ unit: Exclude<NeedUnit, 'm2'>; times: number; of: readonly Formula[]; fixed: number }>
  );

/**
 * How minutes grow: `fixedShare` of them stay whatever the book, the rest grow in proportion to `by` from `from`, the size for which the
 * minutes are written.
 */
type Growth = Readonly<{ by: MeasureName; from: number; fixedShare: number }>;

export type Operation = Readonly<{
  /** The bench's own words, unique; records refer to it for good. */
  id: string;
  /** Raised whenever minutes, materials or order change; old records keep what was done. */
  version: number;
  name: string;
  level: Level;
  minutes: ThreePoint;
  grows: Growth | null;
  /** There are never more of them on one book: two joints, four corners. */
  atMost: number;
  wait: Wait | null;
  tools: readonly ToolKind[];
  attention: Attention;
  needs: readonly NeedRule[];
  cautions: readonly Caution[];
  /** Where steps, measures and minutes come from, or "common practice, no source". */
  source: string;
  /** Of each group one must be in the plan, and before this. */
  requires: readonly (readonly string[])[];
  /** Comes after these where they are in the plan. */
  after: readonly string[];
  /** Original material that stays because of how it is done. */
  keeps: string | null;
  /** Handles or cuts the covering, so that pigments in it matter. */
  onCovering: boolean;
  /** Cannot be taken back without trace: not for a rare book on this bench. */
  invasive: boolean;
  /** Findings that call for it, beside the rules the program brings. */
  calledBy?: readonly FindingCall[];
}>;

/** Such damage to such a part, from one degree to another. */
export type FindingCall = Readonly<{ part: Part; damage: Damage; from: Severity; to: Severity }>;

/** The operation worked out for a book of these measures. `wanted` is how many, at least 1; `why` is a sentence. */
export function stepOf(
  operation: Operation,
  measures: Measures,
  wanted: number,
  why: string,
  extra: Readonly<{ cautions: readonly Caution[]; needs: readonly MaterialNeed[] }>,
): Step {
  const count = Math.min(wanted, operation.atMost);
  const needs: MaterialNeed[] = [];
  for (const rule of operation.needs) {
    const need = needOf(rule, measures, count);
    if (need.quantity > 0) needs.push(need);
  }
  return {
    operationId: operation.id,
    operationVersion: operation.version,
    name: operation.name,
    why,
    level: operation.level,
    minutes: minutesOf(operation, measures, count),
    wait: operation.wait,
    tools: operation.tools,
    attention: operation.attention,
    needs: extra.needs.length > 0 ? [...needs, ...extra.needs] : needs,
    cautions: extra.cautions.length > 0 ? [...operation.cautions, ...extra.cautions] : operation.cautions,
    source: operation.source,
    ...(operation.keeps === null ? {} : { keeps: operation.keeps }),
  };
}

/** Minutes for this book: never under a third nor over eight times what is written, so that a wild measure makes no wild plan. */
function minutesOf(operation: Operation, measures: Measures, count: number): ThreePoint {
  const { minutes, grows } = operation;
  if (grows === null) return minutes;
  const driver = grows.by === 'count' ? count : measures[grows.by];
  const factor = Math.min(8, Math.max(1 / 3, grows.fixedShare + (1 - grows.fixedShare) * (driver / grows.from)));
  return {
    low: Math.max(1, Math.round(minutes.low * factor)),
    likely: Math.max(1, Math.round(minutes.likely * factor)),
    high: Math.max(1, Math.round(minutes.high * factor)),
  };
}

function needOf(rule: NeedRule, measures: Measures, count: number): MaterialNeed {
  if ('height' in rule) {
    const heightMm = Math.max(smallestPieceMm, tenth(worthOf(rule.height, measures, count)));
    const widthMm = Math.max(smallestPieceMm, tenth(worthOf(rule.width, measures, count)));
    const wanted = worthOf(rule.count, measures, count);
    const pieces = wanted === 0 ? 0 : Math.max(1, Math.round(wanted));
    return {
      kind: rule.kind,
      unit: 'm2',
      quantity: tidy((heightMm * widthMm * pieces) / 1e6),
      cut: { heightMm, widthMm, grain: rule.grain, count: pieces, what: rule.what },
      working: rule.words,
    };
  }
  let product = rule.times;
  for (const formula of rule.of) product *= Math.max(0, worthOf(formula, measures, count));
  const amount = rule.fixed + product;
  return {
    kind: rule.kind,
    unit: rule.unit,
    quantity: tidy(amount),
    cut: null,
    working: rule.words,
  };
}

/** Nothing narrower can be cut and handled. Common practice, no source. */
const smallestPieceMm = 6;

function worthOf(formula: Formula, measures: Measures, count: number): number {
  let sum = 0;
  for (const [name, times] of termsOf(formula)) {
    sum += name === 'mm' ? times : times * (name === 'count' ? count : measures[name]);
  }
  return sum;
}

type Terms = readonly (readonly [MeasureName | 'mm', number])[];

/** The terms of a formula as a list, made once: a shelf of a hundred thousand books asks for them ten million times. */
function termsOf(formula: Formula): Terms {
  let terms = listed.get(formula);
  if (terms === undefined) {
    terms = Object.entries(formula) as unknown as Terms;
    listed.set(formula, terms);
  }
  return terms;
}

const listed = new WeakMap<Formula, Terms>();

function tenth(mm: number): number {
  return Math.round(mm * 10) / 10;
}

/** To the tenth of a square centimetre, or of a hundredth of a gram: below what any scale or ruler here shows. */
function tidy(quantity: number): number {
  return Math.round(quantity * 1e5) / 1e5;
}
