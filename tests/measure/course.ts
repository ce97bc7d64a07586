/**
 * The allocation of invented practice copies to invented people: `npm run -s measure -- course --people 24 --copies 80 --operations 12
 * --seed S [--limit 5] [--scarce]`. Prints one JSON line: whether every step is proven best, how far from its bound the first that is not,
 * and the seconds it took. With --scarce one operation is taught by too few copies, and what is lacking is said.
 */
import { parseArgs } from 'node:util';
import { allocate } from '../../core/course/allocation.ts';
import { chanceFrom } from '../../core/schedule/random.ts';
import { loadSolver } from '../../electron/engines/highs.ts';
import { inventedCourse } from '../core/course/invented.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      people: { type: 'string', default: '24' },
      copies: { type: 'string', default: '80' },
      operations: { type: 'string', default: '12' },
      seed: { type: 'string', default: '1' },
      limit: { type: 'string', default: '5' },
      scarce: { type: 'boolean', default: false },
    },
  });
  const [people = 0, copies = 0, operations = 0, seed = 0, limit = 0] = [
    values.people,
    values.copies,
    values.operations,
    values.seed,
    values.limit,
  ].map(Number);
  if (![people, copies, operations, seed].every((number) => Number.isInteger(number) && number >= 0) || !(limit > 0)) {
    console.error('Say whole numbers: npm run -s measure -- course --people 24 --copies 80 --operations 12 --seed 1');
    process.exitCode = 2;
    return;
  }
  const problem = inventedCourse({ people, copies, operations, scarce: values.scarce }, chanceFrom(seed));
  const solve = await loadSolver();
  const started = performance.now();
  const found = await allocate(problem, solve, { seconds: limit, clock: () => performance.now() });
  const seconds = Math.round(performance.now() - started) / 1000;
  const about = { engine: 'course', people, copies, operations, seed };
  if (found.kind === 'allocated') {
    const { status, gap, value } = found;
    const given = found.pairs.length;
    console.log(
      JSON.stringify({ ...about, status: status === 'best' ? 'optimal' : 'stopped', gap, seconds, value, given }),
    );
  } else if (found.kind === 'impossible') {
    const { conflict, irreducible, waysOut } = found.shortage;
    const said = conflict.map(({ sentence }) => sentence);
    console.log(
      JSON.stringify({ ...about, status: 'infeasible', gap: 0, seconds, conflict: said, irreducible, waysOut }),
    );
  } else console.log(JSON.stringify({ ...about, status: 'stopped', gap: null, seconds }));
}
