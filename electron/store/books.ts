/** Books as core knows them, with their survey, hazards and agreed treatment, read out of the tables. */
import { asc, desc, eq, inArray } from 'drizzle-orm';
import type { Book, Finding, Hazard } from '../../core/book/book.ts';
import type { KeptMeasures } from '../../core/trade/own-case.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { keptByBook } from './reckoner.ts';
import { book, finding, hazard, treatment } from './schema.ts';
import type { Reader } from './workshop.ts';

export type BookRow = typeof book.$inferSelect;
/** `kept` is what a person measured or chose otherwise than the book's size and binding give. */
export type Surveyed = Readonly<{
  book: Book;
  findings: readonly Finding[];
  hazards: readonly Hazard[];
  kept: KeptMeasures;
}>;

/** So many names fit into one SQLite statement with room to spare. */
const chunk = 5000;

/** These books with their survey, in the order of the ids; ids of no book are passed over. */
export function readSurveyed(db: Reader, bookIds: readonly string[]): readonly Surveyed[] {
  const all: Surveyed[] = [];
  for (let from = 0; from < bookIds.length; from += chunk) {
    const ids = bookIds.slice(from, from + chunk);
    const rows = new Map(
      db
        .select()
        .from(book)
        .where(inArray(book.id, ids))
        .all()
        .map((row) => [row.id, row]),
    );
    const findings = Map.groupBy(
      db.select().from(finding).where(inArray(finding.bookId, ids)).orderBy(asc(finding.id)).all(),
      (row) => row.bookId,
    );
    const hazards = Map.groupBy(db.select().from(hazard).where(inArray(hazard.bookId, ids)).all(), (row) => row.bookId);
    const kept = keptByBook(db, ids);
    for (const id of ids) {
      const row = rows.get(id);
      if (!row) continue;
      all.push({
        book: bookOf(row),
        findings: (findings.get(id) ?? []).map(findingOf),
        hazards: (hazards.get(id) ?? []).map(hazardOf),
        kept: kept.get(id) ?? {},
      });
    }
  }
  return all;
}

export type Agreed = Readonly<{ steps: readonly Step[]; agreedAt: number; note: string }>;

/** The steps a person last agreed to for a book, as they were then, and when; null where nothing is agreed. */
export function agreedTreatment(db: Reader, bookId: string): Agreed | null {
  const row = db
    .select()
    .from(treatment)
    .where(eq(treatment.bookId, bookId))
    .orderBy(desc(treatment.agreedAt), desc(treatment.id))
    .limit(1)
    .get();
  return row ? { steps: row.steps as readonly Step[], agreedAt: row.agreedAt, note: row.note } : null;
}

/** A row as core knows a book. The words in it were checked at the contract when they were written. */
export function bookOf(row: BookRow): Book {
  const mm = (micrometres: number | null) => (micrometres === null ? null : micrometres / 1000);
  return {
    id: row.id,
    shelfMark: row.shelfMark,
    title: row.title,
    author: row.author,
    imprint: row.imprint,
    dateText: row.dateText,
    yearFrom: row.yearFrom,
    yearTo: row.yearTo,
    format: row.format,
    heightMm: mm(row.heightUm),
    widthMm: mm(row.widthUm),
    thicknessMm: mm(row.thicknessUm),
    pages: row.pages,
    pagesText: row.pagesText,
    binding: row.binding as Book['binding'],
    colour: row.colour,
    pattern: row.pattern as Book['pattern'],
    lotId: row.lotId,
    placeId: row.placeId,
    fate: row.fate as Book['fate'],
    fateLocked: row.fateLocked,
    stage: row.stage as Book['stage'],
    use: row.use as Book['use'],
    significance: row.significance as Book['significance'],
    scarcity: row.scarcity as Book['scarcity'],
    completeness: row.completeness as Book['completeness'],
    note: row.note,
  };
}

export function findingOf(row: typeof finding.$inferSelect): Finding {
  return {
    part: row.part as Finding['part'],
    damage: row.damage as Finding['damage'],
    severity: row.severity as Finding['severity'],
    count: row.count,
    note: row.note,
  };
}

export function hazardOf(row: typeof hazard.$inferSelect): Hazard {
  return {
    kind: row.kind as Hazard['kind'],
    state: row.state as Hazard['state'],
    reason: row.reason,
    decision: row.decision,
  };
}
