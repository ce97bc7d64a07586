/**
 * Holds the schedule engine against PSPLIB files: `schedule DIR --bounds CSV --schedules N --seed S [--limit K] [--every K]`. One JSON line a
 * case and one for the whole. Every forward or backward pass counts as a schedule, the first plan's included.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { build } from '../../core/schedule/build.ts';
import { check } from '../../core/schedule/check.ts';
import { improve } from '../../core/schedule/improve.ts';
import type { Plan, Problem } from '../../core/schedule/problem.ts';
import { readBounds, readPsplib } from './schedule-psplib.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      bounds: { type: 'string' },
      schedules: { type: 'string', default: '1000' },
      seed: { type: 'string', default: '1' },
      limit: { type: 'string' },
      every: { type: 'string', default: '1' },
    },
  });
  const [folder] = positionals;
  if (folder === undefined) throw new Error('Name a folder of .sm files.');
  const schedules = Number(values.schedules);
  const bounds = values.bounds === undefined ? new Map() : readBounds(values.bounds);
  const names = readdirSync(folder)
    .filter((name) => name.endsWith('.sm'))
    .sort()
    .filter((_, k) => k % Number(values.every) === 0)
    .slice(0, values.limit === undefined ? undefined : Number(values.limit));
  const lines = names.map((name) => {
    const problem = readPsplib(join(folder, name));
    const began = performance.now();
    const plan = solve(problem, schedules, Number(values.seed));
    const seconds = (performance.now() - began) / 1000;
    const violations = check(problem, plan);
    if (violations.length > 0) throw new Error(`${name}: ${violations[0]!.sentence}`);
    const line = {
      case: name,
      finish: plan.objective.finish,
      bound: plan.bound.finish,
      path: criticalPath(problem),
      schedules: plan.stats.schedules,
      seconds,
      ...bounds.get(name),
    };
    console.log(JSON.stringify(line));
    return line;
  });
  const mean = (of: (line: (typeof lines)[number]) => number) =>
    lines.reduce((sum, line) => sum + of(line), 0) / lines.length;
  const known = lines.every((line) => bounds.has(line.case));
  console.log(
    JSON.stringify({
      cases: lines.length,
      schedules,
      seed: Number(values.seed),
      meanFromCriticalPath: round(mean((line) => (100 * (line.finish - line.path)) / line.path)),
      ...(known && {
        meanAboveBest: round(mean((line) => (100 * (line.finish - bounds.get(line.case)!.upper)) / line.path)),
        meanFromBestPercent: round(
          mean((line) => (100 * (line.finish - bounds.get(line.case)!.upper)) / bounds.get(line.case)!.upper),
        ),
      }),
      optimal: lines.filter((line) => line.finish === Math.max(line.bound, bounds.get(line.case)?.lower ?? 0)).length,
      lowerBoundGap: round(mean((line) => (100 * (line.finish - line.bound)) / line.finish)),
      meanSchedulesMade: round(mean((line) => line.schedules)),
      secondsPerCase: round(mean((line) => line.seconds)),
    }),
  );
}

function solve(problem: Problem, schedules: number, seed: number): Plan {
  const first = build(problem, { seed, rule: 'longest tail' });
  if (!first.ok) throw new Error(first.refusal.sentence);
  const search = improve(problem, first.value, { seed, schedules: schedules - first.value.stats.schedules });
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
  }
}

/** The literature's reference length: precedence alone. */
function criticalPath(problem: Problem): number {
  const ends = new Map<string, number>();
  const end = (id: string): number => {
    const known = ends.get(id);
    if (known !== undefined) return known;
    const task = problem.tasks.find((one) => one.id === id)!;
    const value = task.minutes + Math.max(0, ...task.after.map((after) => end(after.task)));
    ends.set(id, value);
    return value;
  };
  return Math.max(...problem.tasks.map((task) => end(task.id)));
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}
