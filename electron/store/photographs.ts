/** Queries of photographs, and the sweeping of originals that no row and no undo can ask for any more. */
import { rmSync, statSync } from 'node:fs';
import type Database from 'better-sqlite3';
import { and, asc, eq, sql } from 'drizzle-orm';
import type { Photograph, PhotographStage, PhotographSubject } from '../../core/contract/photographs.ts';
import { originalsIn } from '../files/photographs.ts';
import { finding } from './schema.ts';
import { photograph } from './schema-photographs.ts';
import type { Change, Reader } from './workshop.ts';

type Owner = Readonly<{ bookId: string } | { findingId: string } | { pieceId: string }>;

/** By stage, then as they were taken or came. */
export function listPhotographs(db: Reader, subject: PhotographSubject): readonly Photograph[] {
  return lines(db)
    .where(
      subject.kind === 'book'
        ? eq(photograph.bookId, subject.bookId)
        : subject.kind === 'finding'
          ? eq(photograph.findingId, subject.findingId)
          : eq(photograph.pieceId, subject.pieceId),
    )
    .orderBy(
      sql`CASE ${photograph.stage} WHEN 'before' THEN 0 WHEN 'during' THEN 1 WHEN 'after' THEN 2 ELSE 3 END`,
      sql`coalesce(${photograph.takenAt}, ${photograph.addedAt})`,
      asc(photograph.id),
    )
    .all()
    .map(lineOf);
}

export function photographById(db: Reader, id: string): Photograph | null {
  const found = lines(db).where(eq(photograph.id, id)).get();
  return found ? lineOf(found) : null;
}

/** The media type of a kept original; null where no row tells of one. */
export function mediaTypeOf(db: Reader, hash: string): string | null {
  const row = db
    .select({ mediaType: photograph.mediaType })
    .from(photograph)
    .where(eq(photograph.hash, hash))
    .limit(1)
    .get();
  return row?.mediaType ?? null;
}

/** Where this very picture already shows this. */
export function isKept(db: Reader, hash: string, owner: Owner): boolean {
  const same = and(eq(photograph.hash, hash), ownedBy(owner));
  return db.select({ id: photograph.id }).from(photograph).where(same).limit(1).get() !== undefined;
}

/** Takes the rows of what is going away with it, within the same change; the originals stay for undo. */
export function removePhotographs(db: Reader, change: Change, owner: Owner): void {
  const rows = db.select({ id: photograph.id }).from(photograph).where(ownedBy(owner)).all();
  for (const { id } of rows) change.remove(photograph, id);
}

/** A finding taken back leaves its photographs with the book. */
export function keepWithoutFinding(db: Reader, change: Change, findingId: string): void {
  const rows = db.select({ id: photograph.id }).from(photograph).where(eq(photograph.findingId, findingId)).all();
  for (const { id } of rows) change.update(photograph, id, { findingId: null });
}

function ownedBy(owner: Owner) {
  if ('bookId' in owner) return eq(photograph.bookId, owner.bookId);
  return 'findingId' in owner ? eq(photograph.findingId, owner.findingId) : eq(photograph.pieceId, owner.pieceId);
}

function lines(db: Reader) {
  return db
    .select({ row: photograph, part: finding.part, damage: finding.damage })
    .from(photograph)
    .leftJoin(finding, eq(finding.id, photograph.findingId));
}

function lineOf(found: {
  row: typeof photograph.$inferSelect;
  part: string | null;
  damage: string | null;
}): Photograph {
  const { row, part, damage } = found;
  return {
    ...row,
    stage: row.stage as PhotographStage,
    scale: row.scale ?? null,
    finding: part === null ? '' : `${part} ${damage}`,
  };
}

/**
 * Removes originals that nothing can ask for any more: no row has them, no change that stands or could be done again holds such a row,
 * and they have lain there longer than a backup of the rows may be old. A photograph taken away stays for as long as the journal can
 * bring it back. What cannot be removed now is left for the next opening. Gives how many were removed.
 */
export function sweepOriginals(raw: Database.Database, folder: string, now: number): number {
  const { originals, leftovers } = originalsIn(folder);
  for (const path of leftovers) removed(path);
  const idle = new Map(originals);
  for (const hash of raw.prepare('SELECT DISTINCT hash FROM photograph').pluck().iterate()) idle.delete(hash as string);
  if (idle.size === 0) return 0;
  const journalled = raw
    .prepare(
      `SELECT changes FROM journal_run JOIN journal USING (seq)
       WHERE standing <> 'forgotten' AND instr(changes, '"table":"photograph"') > 0`,
    )
    .pluck();
  for (const changes of journalled.iterate()) {
    for (const [, hash = ''] of (changes as string).matchAll(/"hash":"([0-9a-f]{64})"/g)) idle.delete(hash);
  }
  return [...idle.values()].filter((path) => now - statSync(path).mtimeMs > patienceMs && removed(path)).length;
}

/** Common practice, no source: whoever goes back to a backup finds the photographs added since, and can add them again. */
const patienceMs = 90 * 24 * 60 * 60 * 1000;

function removed(path: string): boolean {
  try {
    rmSync(path, { force: true });
    return true;
  } catch {
    return false;
  }
}
