/** Which books for the week: the set worth most within its hours, presses and cupboard, and what just missed. */
import { and, desc, eq, gt, inArray, isNull, notInArray, or, sql } from 'drizzle-orm';
import type { Choice, WeekCandidate } from '../../core/contract/bench.ts';
import { ok, type Result } from '../../core/result.ts';
import { onHandByKind } from '../../core/stock/demand.ts';
import { totals } from '../../core/treatment/totals.ts';
import type { ToolKind } from '../../core/treatment/treatment.ts';
import { candidateOf, chooseWeek } from '../../core/triage/week.ts';
import { listTools } from '../store/bench.ts';
import { readSurveyed, type Surveyed } from '../store/books.ts';
import { reason, score } from '../store/ranking.ts';
import { remainingSteps } from '../store/remaining.ts';
import { arrival, assessment, book } from '../store/schema.ts';
import { listMovements, listStocked } from '../store/stockroom.ts';
import type { Workshop } from '../store/workshop.ts';
import { openMinutes, type WeekFrame } from './bench-frame.ts';
import { piecesCountedOn } from './offcuts-repairs.ts';

/** The books most worth doing that are looked at; a week holds a few dozen, and worth falls off along the list. */
const mostCandidates = 300;
const mostMissed = 8;
/** Books looked through the drawer for, more than a week has room for. */
const mostMatched = 60;
/** The rest of the open hours is kept for what takes longer than likely and for what comes to the door. Common practice, no source. */
const plannedShare = 0.8;

type Wish = Readonly<{ handMinutes?: number | undefined; keep: readonly string[]; leave: readonly string[] }>;

/** Chooses among the books that may be treated; `keep` are in, `leave` out, whatever their worth. */
export async function chooseBooks(store: Workshop, frame: WeekFrame, wish: Wish): Promise<Result<Choice>> {
  const inWeek = frame.hands.filter((window) => window.from < 7 * 1440);
  const handMinutes = wish.handMinutes ?? Math.round(plannedShare * openMinutes(inWeek, frame.now));
  const rows = candidates(store, wish);
  const worth = new Map(rows.map((row) => [row.bookId, row]));

  const keep = new Set(wish.keep);
  const books = readSurveyed(
    store.db,
    rows.map((row) => row.bookId),
  );
  const left = new Map(books.map((one) => [one.book.id, totals(remainingSteps(store.db, one))]));
  const pieces = await piecesCountedOn(store, first(books, rows));
  const considered = [...left].filter(([, proposal]) => proposal.steps.length > 0);
  const found = chooseWeek(
    considered.map(([bookId, proposal]) => {
      // The score is worth by the hour; a week is filled by what the books in it are worth together.
      const value = (worth.get(bookId)?.score ?? 0) * Math.max(0.5, proposal.minutes.likely / 60);
      return candidateOf(bookId, proposal, value, { locked: keep.has(bookId), donors: pieces.get(bookId) ?? [] });
    }),
    { handMinutes, toolMinutes: toolMinutes(store, frame), stock: stockFor(store, frame.startsOn) },
  );

  const shown = (bookId: string): WeekCandidate => {
    const row = worth.get(bookId)!;
    return {
      bookId,
      title: row.title,
      reason: row.reason,
      minutes: left.get(bookId)!.minutes.likely,
      value: row.score,
    };
  };
  const chosen = found.chosen.map(shown);
  return ok({
    handMinutes,
    usedMinutes: chosen.reduce((sum, one) => sum + one.minutes, 0),
    chosen,
    missed: found.missed.slice(0, mostMissed).map(({ bookId, because, never }) => ({
      ...shown(bookId),
      because: never && !because.includes('the week has') ? `Too much for any week like this. ${because}` : because,
    })),
    optimal: found.optimal,
  });
}

/** Those books that compete for the drawer, in the order of their rows: the kept ones first, then by worth. */
function first(books: readonly Surveyed[], rows: readonly Row[]): readonly Surveyed[] {
  const byId = new Map(books.map((one) => [one.book.id, one]));
  return rows.slice(0, mostMatched).flatMap(({ bookId }) => byId.get(bookId) ?? []);
}

type Row = Readonly<{ bookId: string; title: string; score: number; reason: string }>;

/** Books that are to be mended and may be, the most urgent first, and those a person asked to keep. */
function candidates(store: Workshop, wish: Wish): readonly Row[] {
  const columns = { bookId: book.id, title: book.title, score, reason };
  const from = () => store.db.select(columns).from(book).innerJoin(assessment, eq(assessment.bookId, book.id));
  const mendable = from()
    .where(
      and(
        inArray(book.stage, ['waiting', 'surveyed', 'agreed', 'in hand']),
        or(
          inArray(book.fate, ['restore', 'clean only']),
          and(isNull(book.fate), inArray(assessment.suggestedFate, ['restore', 'clean only'])),
        ),
        eq(assessment.hazardOpen, false),
        gt(assessment.minutesLikely, 0),
        wish.leave.length > 0 ? notInArray(book.id, [...wish.leave]) : sql`1`,
      ),
    )
    .orderBy(desc(score), book.id)
    .limit(mostCandidates)
    .all();
  const missing = wish.keep.filter((id) => !mendable.some((row) => row.bookId === id));
  const kept = missing.length > 0 ? from().where(inArray(book.id, missing)).all() : [];
  return [...kept, ...mendable];
}

/**
 * What the cupboard holds of each kind that it has ever held, with what is ordered and due before the week begins; a kind that nobody has
 * counted yet limits nothing.
 */
function stockFor(store: Workshop, startsOn: string) {
  const arriving = new Map<string, number>();
  for (const row of store.db.select().from(arrival).where(isNull(arrival.receivedAt)).all()) {
    if (row.dueOn > startsOn) continue;
    arriving.set(row.materialId, (arriving.get(row.materialId) ?? 0) + row.quantityMillionths);
  }
  const counted = new Set(listMovements(store.db).map((row) => row.materialId));
  const cupboard = listStocked(store.db)
    .filter(({ material }) => counted.has(material.id))
    .map(({ material, onHandMillionths }) => ({
      material,
      onHand: (onHandMillionths + (arriving.get(material.id) ?? 0)) / 1e6,
    }));
  return onHandByKind(cupboard);
}

/** A press works nights as well: it is there from now to the week's end, in each of its places. */
function toolMinutes(store: Workshop, frame: WeekFrame): Partial<Record<ToolKind, number>> {
  const minutes: Partial<Record<ToolKind, number>> = {};
  for (const { kind, capacity } of listTools(store.db)) {
    minutes[kind] = (minutes[kind] ?? 0) + capacity * Math.max(0, frame.weekEnd - frame.now);
  }
  return minutes;
}
