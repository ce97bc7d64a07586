/**
 * One-to-one assignment on OR-Library files (Beasley 1990): `npm run -s measure -- assign assign100.txt …`. Prints one JSON line a file with
 * the cost found; the optimum of assign100 is published as 305.
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { assignOneToOne } from '../../core/optimise/assignment.ts';
import { loadSolver } from '../../electron/engines/highs.ts';

export async function measure(files: readonly string[]): Promise<void> {
  if (files.length === 0) {
    console.error('Say which files: npm run -s measure -- assign assign100.txt');
    process.exitCode = 2;
    return;
  }
  const solve = await loadSolver();
  for (const file of files) {
    const [size = 0, ...numbers] = readFileSync(file, 'utf8').trim().split(/\s+/).map(Number);
    if (numbers.length !== size * size || !numbers.every(Number.isFinite)) {
      console.error(`${file}: not an assignment file: ${size} and then ${size} × ${size} costs are expected.`);
      process.exitCode = 1;
      continue;
    }
    const costs = Array.from({ length: size }, (_, row) => numbers.slice(row * size, (row + 1) * size));
    const started = performance.now();
    const { cost, proven } = await assignOneToOne(costs, solve, 60);
    const seconds = Math.round(performance.now() - started) / 1000;
    console.log(
      JSON.stringify({
        engine: 'assign',
        file: basename(file),
        size,
        cost,
        status: proven ? 'optimal' : 'stopped',
        seconds,
      }),
    );
  }
}
