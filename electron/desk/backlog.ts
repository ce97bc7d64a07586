/** Sizing up the backlog: the sample a person asks for, drawn and kept, and what its books say so far. */
import { randomInt } from 'node:crypto';
import type { Backlog, BacklogPlan, BacklogWish, WalkStop } from '../../core/contract/backlog.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { chanceFrom } from '../../core/schedule/random.ts';
import {
  drawSample,
  estimateCount,
  estimateTotal,
  type Interval,
  sampleSize,
  shareOut,
} from '../../core/triage/sample.ts';
import { printSurveySheet, printWalk } from '../print/walk.ts';
import { type DrawnBook, drawnBooks, keptSample, unsurveyedBy } from '../store/backlog.ts';
import { readHabits } from '../store/habits.ts';
import { backlogSample } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';

const { backlog: room } = inWorkshop;

const noSample = 'No sample has been drawn yet.';

export const backlog = {
  plan: room.plan.handler(({ input, context, errors }) => answer(planOf(context.store, input), errors)),
  draw: room.draw.handler(({ input, context, errors }) => {
    answer(draw(context.store, input, context.now()), errors);
    const drawn = readBacklog(context.store);
    return answer(drawn === null ? refuse(noSample) : ok(drawn), errors);
  }),
  current: room.current.handler(({ context }) => readBacklog(context.store)),
  print: room.print.handler(async ({ context, errors }) => {
    const drawn = answer(kept(context.store), errors);
    return printWalk(drawn, readHabits(context.store.db).habits);
  }),
  sheet: room.sheet.handler(({ input, context, errors }) => {
    const stops = stopsOf(drawnBooks(context.store, input.ids));
    const there: Result<readonly WalkStop[]> =
      stops.length > 0 ? ok(stops) : refuse('None of these books is on the shelf any more.', 'ids');
    return printSurveySheet(answer(there, errors), context.now(), readHabits(context.store.db).habits);
  }),
};

function kept(store: Workshop): Result<Backlog> {
  const drawn = readBacklog(store);
  return drawn === null ? refuse(noSample) : ok(drawn);
}

function planOf(store: Workshop, wish: BacklogWish): Result<BacklogPlan> {
  const strata = unsurveyedBy(store, wish.by).map(({ ids }) => ids.length);
  const unsurveyed = strata.reduce((sum, books) => sum + books, 0);
  const size = sampleSize(wish, unsurveyed);
  if (!size.ok) return size;
  const books = shareOut(strata, size.value.books).reduce((sum, each) => sum + each, 0);
  return ok({ unsurveyed, strata: strata.length, size: size.value, books });
}

function draw(store: Workshop, wish: BacklogWish, nowMs: number): Result<void> {
  const strata = unsurveyedBy(store, wish.by);
  const plan = planOf(store, wish);
  if (!plan.ok) return plan;
  if (plan.value.unsurveyed === 0) return refuse('Every book on the shelf has been surveyed: there is no backlog.');
  const seed = randomInt(2 ** 31);
  const drawn = drawSample(strata, plan.value.size.books, chanceFrom(seed));
  const before = keptSample(store.db);
  return store.write(`Draw a sample of ${plan.value.books} books`, (change) => {
    if (before !== null) change.remove(backlogSample, before.id);
    change.insert(backlogSample, {
      ...wish,
      drawnAt: nowMs,
      seed,
      strata: strata.map(({ name, ids }, at) => ({ name, books: ids.length, drawn: drawn[at] ?? [] })),
    });
  });
}

function readBacklog(store: Workshop): Backlog | null {
  const sample = keptSample(store.db);
  if (sample === null) return null;
  const { confidence, share, margin, strata, drawnAt } = sample;
  const ids = strata.flatMap(({ drawn }) => drawn);
  const books = new Map(drawnBooks(store, ids).map((book) => [book.id, book]));
  const seen = [...books.values()].filter(({ surveyed }) => surveyed);
  const valuesBy = (value: (book: DrawnBook) => number) =>
    strata.map(({ books: all, drawn }) => ({
      books: all,
      values: drawn.flatMap((id) => {
        const book = books.get(id);
        return book?.surveyed ? [value(book)] : [];
      }),
    }));
  const minutes = estimateTotal(
    valuesBy((book) => book.minutes),
    confidence,
  );
  const hazards = estimateCount(
    valuesBy((book) => Number(book.hazard)),
    confidence,
  );
  const { hourlyRateMinor, currency } = readHabits(store.db).habits;
  const cost = (interval: Interval): Interval => {
    const of = (each: number) => Math.round((each / 60) * hourlyRateMinor);
    return { likely: of(interval.likely), low: of(interval.low), high: of(interval.high) };
  };
  return {
    drawnAt,
    wish: { confidence, share, margin, by: sample.by as BacklogWish['by'] },
    books: strata.reduce((sum, stratum) => sum + stratum.books, 0),
    drawn: ids.length,
    seen: seen.length,
    gone: ids.length - books.size,
    walk: stopsOf(books.values()),
    estimate:
      minutes === null || hazards === null
        ? null
        : { minutes, hazards, costMinor: hourlyRateMinor > 0 ? cost(minutes) : null, currency },
    remarks: remarksOn(ids.length, seen.length),
  };
}

/** A sample is only random when all of it is in. Fewer than 30 say little of skewed hours: common practice, no source. */
function remarksOn(drawn: number, seen: number): readonly string[] {
  const remarks: string[] = [];
  if (seen > 0 && seen < drawn) {
    remarks.push(
      `${seen} of ${drawn} are surveyed. Taken in the order of the walk they are not yet a fair picture: the first shelves speak for all.`,
    );
  }
  if (seen > 1 && seen < 30) remarks.push('From fewer than 30 books the range is only a rough guide.');
  return remarks;
}

function stopsOf(books: Iterable<DrawnBook>): readonly WalkStop[] {
  return [...books]
    .sort(alongTheShelves)
    .map(({ id, title, shelfMark, place, surveyed }) => ({ bookId: id, title, shelfMark, place, surveyed }));
}

function alongTheShelves(one: DrawnBook, other: DrawnBook): number {
  const by = (a: string, b: string) => a.localeCompare(b, 'en', { numeric: true });
  return by(one.place, other.place) || by(one.shelfMark ?? '', other.shelfMark ?? '') || by(one.title, other.title);
}
