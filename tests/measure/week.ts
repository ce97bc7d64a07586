/**
 * Multi-constraint knapsacks in the OR-Library's form: number of problems; then for each n, m, the published optimum, n values, m rows of n
 * weights, m capacities. Prints a JSON line for each and one for all.
 */
import { readFileSync } from 'node:fs';
import { pack } from '../../core/triage/knapsack.ts';

export async function measure([file]: readonly string[]): Promise<void> {
  if (file === undefined) {
    console.error('Say which file: npm run -s measure -- week mknap1.txt');
    process.exitCode = 2;
    return;
  }
  const numbers = readFileSync(file, 'utf8').trim().split(/\s+/).map(Number);
  let at = 0;
  const next = () => {
    const number = numbers[at++];
    if (number === undefined || Number.isNaN(number)) throw new Error(`${file}: not a number at place ${at}`);
    return number;
  };
  const take = (count: number) => Array.from({ length: count }, next);

  const problems = next();
  let equal = 0;
  let total = 0;
  for (let problem = 1; problem <= problems; problem++) {
    const items = next();
    const rows = next();
    const optimum = next();
    const values = take(items);
    const weights = Array.from({ length: rows }, () => take(items));
    const capacities = take(rows);
    const started = performance.now();
    const packed = pack({
      values,
      rows: weights.map((row, index) => ({ weights: row, capacity: capacities[index] ?? 0 })),
    });
    const seconds = (performance.now() - started) / 1000;
    total += seconds;
    const same = optimum === 0 || Math.abs(packed.value - optimum) < 1e-6;
    if (same && packed.optimal) equal++;
    const { optimal, nodes, bound } = packed;
    const value = Math.round(packed.value * 1e6) / 1e6;
    console.log(
      JSON.stringify({
        problem,
        items,
        rows,
        value,
        optimum,
        bound: Math.round(bound * 1e6) / 1e6,
        optimal,
        nodes,
        seconds: round(seconds),
      }),
    );
  }
  console.log(JSON.stringify({ problems, equal, seconds: round(total) }));
}

function round(seconds: number): number {
  return Math.round(seconds * 1e5) / 1e5;
}
