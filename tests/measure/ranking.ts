/**
 * How long the Shelf takes to stand in another order after the weights of its priority were changed: `npm run -s measure -- ranking
 * [--books 100000]`. Each time is from the change, written through the one writer and its journal, to the first hundred rows of the new
 * order, and another for how steady that order is. Prints one JSON line.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { changeHabits } from '../../electron/store/habits.ts';
import { steadinessOf } from '../../electron/store/ranking.ts';
import { listShelf } from '../../electron/store/shelf.ts';
import { createWorkshop } from '../../electron/store/workshop.ts';
import { fillShelf } from './shelf-books.ts';

/** Weights one after another, each of another order. */
const changes = [
  { significance: 5, decay: 4, use: 2, benefit: 3 },
  { significance: 3, decay: 9, use: 2, benefit: 3 },
  { significance: 3, decay: 4, use: 8, benefit: 1 },
  { significance: 0, decay: 4, use: 2, benefit: 9 },
  { significance: 1, decay: 1, use: 1, benefit: 1 },
  { significance: 10, decay: 0, use: 0, benefit: 0 },
  { significance: 3, decay: 4, use: 2, benefit: 3 },
];

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: { books: { type: 'string', default: '100000' }, seed: { type: 'string', default: '1' } },
  });
  const [books, seed] = [Number(values.books), Number(values.seed)];
  if (!Number.isInteger(books) || books < 1 || !Number.isInteger(seed)) {
    console.error('Say how many: npm run -s measure -- ranking --books 100000 [--seed 1]');
    process.exitCode = 2;
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-measure-'));
  try {
    const made = createWorkshop(join(folder, 'workshop'), { name: 'Measured', timeZone: 'UTC', currency: 'EUR' });
    if (!made.ok) throw new Error(made.refusal.sentence);
    const workshop = made.value;
    fillShelf(workshop, books, seed);
    const question = { words: '', filter: {}, sort: 'attention', offset: 0, limit: 100 } as const;
    let first = listShelf(workshop, question).rows[0]?.id;
    let reordered = 0;
    const times: number[] = [];
    const steady: number[] = [];
    let kept = 0;
    for (const weights of changes) {
      const started = performance.now();
      const changed = changeHabits(workshop, { weights });
      const { rows } = listShelf(workshop, question);
      times.push(performance.now() - started);
      if (!changed.ok) throw new Error(changed.refusal.sentence);
      if (rows[0]?.id !== first) reordered += 1;
      first = rows[0]?.id;
      const asked = performance.now();
      kept = steadinessOf(workshop, null).kept;
      steady.push(performance.now() - asked);
    }
    workshop.close();
    times.sort((one, other) => one - other);
    steady.sort((one, other) => one - other);
    console.log(
      JSON.stringify({
        engine: 'ranking',
        books,
        seed,
        rerankMs: Math.round(times[Math.floor(times.length / 2)] ?? 0),
        rerankMsMost: Math.round(times.at(-1) ?? 0),
        steadinessMs: Math.round(steady[Math.floor(steady.length / 2)] ?? 0),
        neighboursKept: Math.round(kept * 1000) / 1000,
        changes: changes.length,
        firstBookChanged: reordered,
      }),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
