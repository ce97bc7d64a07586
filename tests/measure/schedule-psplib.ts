/** Reads single-mode PSPLIB files (`.sm`; Kolisch & Sprecher 1997) and their bounds. */
import { readFileSync } from 'node:fs';
import type { Problem, Task } from '../../core/schedule/problem.ts';

/** One `.sm` file as a problem: always open, finish to start, no weights. */
export function readPsplib(path: string): Problem {
  const lines = readFileSync(path, 'utf8').split(/\r?\n/);
  const after = (heading: string) => lines.findIndex((line) => line.startsWith(heading)) + 1;
  const numbers = (line: string | undefined) => (line ?? '').trim().split(/\s+/).map(Number);
  const jobs = numbers(lines.find((line) => line.startsWith('jobs'))?.split(':')[1])[0]!;
  const successors = lines
    .slice(after('PRECEDENCE RELATIONS') + 1, after('PRECEDENCE RELATIONS') + 1 + jobs)
    .map((line) => numbers(line).slice(3));
  const requests = lines.slice(after('REQUESTS/DURATIONS') + 2, after('REQUESTS/DURATIONS') + 2 + jobs).map(numbers);
  const capacities = numbers(lines[after('RESOURCEAVAILABILITIES') + 1]);
  const before: string[][] = Array.from({ length: jobs }, () => []);
  for (const [job, list] of successors.entries()) for (const next of list) before[next - 1]!.push(`${job + 1}`);
  const tasks = requests.map((row, job): Task => {
    if (row[0] !== job + 1 || row.length !== 3 + capacities.length)
      throw new Error(`${path}: the line of job ${job + 1} is not as expected`);
    return {
      id: `${job + 1}`,
      label: `job ${job + 1}`,
      minutes: row[2]!,
      calendar: null,
      shape: 'whole',
      demands: row.slice(3).map((amount, r) => ({ resource: `R${r + 1}`, amount })),
      heldUntil: null,
      after: before[job]!.map((task) => ({ task, minLag: 0 })),
      release: null,
      due: null,
      weight: 0,
      pinned: null,
      progress: null,
    };
  });
  const resources = capacities.map((capacity, r) => ({
    id: `R${r + 1}`,
    label: `resource ${r + 1}`,
    kind: 'tool' as const,
    capacity,
  }));
  return { now: 0, calendars: {}, resources, pools: [], tasks };
}

/** Best known lower and upper bounds by file name, from a CSV with the columns instance, lb, ub. */
export function readBounds(path: string): ReadonlyMap<string, Readonly<{ lower: number; upper: number }>> {
  const [, ...rows] = readFileSync(path, 'utf8').trim().split(/\r?\n/);
  return new Map(
    rows.map((row) => {
      const [instance, lower, upper] = row.split(',');
      return [instance!, { lower: Number(lower), upper: Number(upper) }];
    }),
  );
}
