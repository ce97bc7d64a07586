/**
 * The week of an invented course: `npm run -s measure -- timetable --people 12 --days 6 --copies 3 --presses 2 --seed S [--tutors 1]
 * [--helpers 1] [--limit 3]`. Prints one JSON line: whether all work is out by the last hour, or what is most in demand; the gap to the
 * bound, the seconds to a first week and in all, and what a checker that knows nothing of the engine finds wrong (nothing).
 */
import { parseArgs } from 'node:util';
import { courseLoads, share } from '../../core/course/loads.ts';
import { courseWeek } from '../../core/course/timetable.ts';
import { build } from '../../core/schedule/build.ts';
import { check } from '../../core/schedule/check.ts';
import { improve } from '../../core/schedule/improve.ts';
import { chanceFrom } from '../../core/schedule/random.ts';
import { inventedWeek } from '../core/course/invented-week.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      people: { type: 'string', default: '12' },
      days: { type: 'string', default: '6' },
      copies: { type: 'string', default: '3' },
      presses: { type: 'string', default: '2' },
      tutors: { type: 'string', default: '1' },
      helpers: { type: 'string', default: '1' },
      seed: { type: 'string', default: '1' },
      limit: { type: 'string', default: '3' },
    },
  });
  const { limit: most, seed: chosen, ...rest } = values;
  const size = Object.fromEntries(Object.entries(rest).map(([name, text]) => [name, Number(text)])) as Record<
    keyof typeof rest,
    number
  >;
  const [seed, limit] = [Number(chosen), Number(most)];
  if (![...Object.values(size), seed].every((number) => Number.isInteger(number) && number >= 0) || !(limit > 0)) {
    console.error(
      'Say whole numbers: npm run -s measure -- timetable --people 12 --days 6 --copies 3 --presses 2 --seed 1',
    );
    process.exitCode = 2;
    return;
  }
  const course = inventedWeek(size, chanceFrom(seed));
  const about = { engine: 'timetable', ...size, seed };
  const started = performance.now();
  const seconds = () => Math.round(performance.now() - started) / 1000;
  const week = courseWeek(course.frame, course.people, course.works, course.demonstrations, course.tools);
  const first = week.ok ? build(week.value.problem) : week;
  if (!week.ok || !first.ok) {
    const refused = week.ok ? first : week;
    console.log(JSON.stringify({ ...about, status: 'refused', words: refused.ok ? '' : refused.refusal.sentence }));
    return;
  }
  const { problem } = week.value;
  const firstSeconds = seconds();
  const steps = improve(problem, first.value, { seed: 1, shouldStop: () => seconds() >= limit });
  let step = steps.next();
  while (!step.done) step = steps.next();
  const plan = step.value;
  const loads = courseLoads(course.frame, course.works, course.demonstrations, course.tools);
  const late = problem.tasks.filter(({ due }, index) => due !== null && (plan.placed[index]?.out ?? 0) > due).length;
  const heaviest = loads[0];
  console.log(
    JSON.stringify({
      ...about,
      tasks: problem.tasks.length,
      status: late === 0 ? 'fits' : 'late',
      late,
      provenLate: plan.bound.lateness > 0,
      ...(late > 0 && heaviest ? { bottleneck: heaviest.what, share: Math.round(share(heaviest) * 100) / 100 } : {}),
      gap: plan.gap,
      firstSeconds,
      seconds: seconds(),
      violations: check(problem, plan).length,
    }),
  );
}
