/**
 * Brings a workshop's file to the shape this program knows. Steps are numbered SQL files that are never changed once landed, each run in
 * one transaction; `user_version` is the number of the last one. Foreign keys are off while a step runs, because SQLite's own recipe for
 * rebuilding a table (lang_altertable, section 7) would otherwise empty its child tables, and are checked before the step is kept.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type Database from 'better-sqlite3';
import { assert } from '../../core/result.ts';

export type Step = Readonly<{ number: number; name: string; sql: string }>;

/** Where the steps lie: beside this file, and beside the bundle when packaged. */
const stepsFolder = fileURLToPath(new URL('./migrations/', import.meta.url));

/** The steps in order, numbered 1, 2, 3 … without a gap. */
export function readSteps(folder: string = stepsFolder): readonly Step[] {
  const names = readdirSync(folder)
    .filter((name) => /^\d{4}-.*\.sql$/.test(name))
    .sort();
  const steps = names.map((name) => ({
    number: Number(name.slice(0, 4)),
    name: name.slice(5, -4),
    sql: readFileSync(`${folder}/${name}`, 'utf8'),
  }));
  assert(steps.length > 0, `there are migrations in ${folder}`);
  assert(
    steps.every((step, index) => step.number === index + 1),
    `migrations are numbered from 1 without a gap: ${names.join(', ')}`,
  );
  return steps;
}

export function fileVersion(raw: Database.Database): number {
  return raw.pragma('user_version', { simple: true }) as number;
}

/** Runs the steps the file has not had yet. A step that fails leaves the file as the step before left it, and throws. */
export function migrate(raw: Database.Database, steps: readonly Step[]): void {
  const from = fileVersion(raw);
  assert(from <= steps.length, 'a newer file is refused before it is migrated');
  raw.pragma('foreign_keys = OFF');
  try {
    for (const step of steps.slice(from)) {
      raw
        .transaction(() => {
          raw.exec(step.sql);
          const broken = raw.pragma('foreign_key_check') as readonly unknown[];
          assert(
            broken.length === 0,
            `migration ${step.number} leaves ${broken.length} rows without what they belong to`,
          );
          raw.pragma(`user_version = ${step.number}`);
        })
        .immediate();
    }
  } finally {
    raw.pragma('foreign_keys = ON');
  }
}
