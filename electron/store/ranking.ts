/**
 * The order of the shelf. A score is never kept: it follows, within a query, from the parts of a book's priority, its minutes, and the
 * weights in the workshop's one row, which the file's engine looks up once a query. Other weights are then another order at once.
 */
import { type SQL, sql } from 'drizzle-orm';
import type { Steadiness } from '../../core/contract/shelf.ts';
import {
  defaultWeights,
  neighboursKept,
  partNames,
  rankRange,
  type Strengths,
  strengthsOf,
} from '../../core/triage/priority.ts';
import { readHabits } from './habits.ts';
import type { Workshop } from './workshop.ts';

type Part = (typeof partNames)[number];

const column: Readonly<Record<Part, string>> = {
  significance: 'significance',
  decay: 'decay',
  use: '"use"',
  benefit: 'benefit',
};

const weights = Object.fromEntries(
  partNames.map((name) => [
    name,
    `(SELECT max(0, coalesce(json_extract(weights, '$.${name}'), ${defaultWeights[name]})) FROM workshop)`,
  ]),
) as Readonly<Record<Part, string>>;

/** As core reckons it: the weighted mean times 100 by hours, of which under half an hour counts as half. `table` is the assessment's name. */
export function scoreIn(table: string): string {
  const worth = partNames.map((name) => `${weights[name]} * ${table}.${column[name]}`).join(' + ');
  const all = partNames.map((name) => weights[name]).join(' + ');
  return `CASE WHEN ${table}.minutes_likely = 0 THEN 0.0
    ELSE coalesce(round(100 * (${worth}) / nullif(${all}, 0) / (max(${table}.minutes_likely, 30) / 60.0), 3), 0.0) END`;
}

/** The reason of the part that weighs most, the first of equals; or the only one. */
export function reasonIn(table: string): string {
  const [first, second, third, fourth] = partNames.map((name) => `${weights[name]} * ${table}.${column[name]}`);
  const strongest = `CASE WHEN ${first} >= max(${second}, ${third}, ${fourth}) THEN 0 WHEN ${second} >= max(${third}, ${fourth}) THEN 1
    WHEN ${third} >= ${fourth} THEN 2 ELSE 3 END`;
  const reasons = `${table}.reasons`;
  return `coalesce(json_extract(${reasons}, '$[' || (${strongest}) || ']'), json_extract(${reasons}, '$[0]'), '')`;
}

/** For queries that select from `assessment` by its own name. */
export const score: SQL<number> = sql.raw(scoreIn('assessment')) as SQL<number>;
export const reason: SQL<string> = sql.raw(reasonIn('assessment')) as SQL<string>;

type Ranked = Readonly<{ changes: number; bookIds: readonly string[]; strengths: readonly Strengths[] }>;
const kept = new WeakMap<Workshop, Ranked>();

/** How steady the order is when every weight moves by up to a fifth, and between which ranks a book then stays. */
export function steadinessOf(store: Workshop, id: string | null): Steadiness {
  const { bookIds, strengths } = rankedStrengths(store);
  const place = id === null ? -1 : bookIds.indexOf(id);
  return {
    books: bookIds.length,
    kept: neighboursKept(strengths),
    range: place < 0 ? null : rankRange(strengths, place),
  };
}

/** Books with something to be done, first things first; kept until something in the file changes. */
function rankedStrengths(store: Workshop): Ranked {
  const changes = store.raw.prepare('SELECT total_changes()').pluck().get() as number;
  const known = kept.get(store);
  if (known?.changes === changes) return known;
  const own = { ...defaultWeights, ...readHabits(store.db).habits.weights };
  const rows = store.raw
    .prepare(
      `SELECT a.book_id, a.minutes_likely, ${partNames.map((name) => `a.${column[name]}`).join(', ')} FROM assessment a
       JOIN book_number n ON n.book_id = a.book_id WHERE a.minutes_likely > 0
         AND max(a.significance, a.decay, a."use", a.benefit) > 0 ORDER BY ${scoreIn('a')} DESC, n.number`,
    )
    .raw()
    .all() as [string, number, ...number[]][];
  const ranked = {
    changes,
    bookIds: rows.map(([id]) => id),
    strengths: rows.map(([, minutes, ...values]) => strengthsOf(values, own, minutes)),
  };
  kept.set(store, ranked);
  return ranked;
}
