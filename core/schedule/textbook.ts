/** The search for the textbook case (see `genetic.ts`) on schedules as the rest of the engine has them. */
import type { Compiled } from './compile.ts';
import type { Schedule } from './fit.ts';
import type { Line } from './genetic.ts';
import { evolve, habitsFor } from './genetic.ts';
import { makeGrids } from './grid.ts';
import type { Chance } from './random.ts';

/** Schedules of the first round where no number is given; every further round begins anew with twice as many. */
const firstRound = 5000;

/**
 * Improves `best` in place until its finish is `floor` or so many schedules are made; without an end where `schedules` is infinite.
 * Yields how many schedules each step took.
 */
export function* searchTextbook(
  compiled: Compiled,
  best: Schedule,
  floor: number,
  schedules: number,
  chance: Chance,
): Generator<number, void> {
  const grids = makeGrids(compiled);
  const { grain, minutes } = grids[0];
  const { now } = compiled.problem;
  const finish = best.out.reduce((latest, out) => Math.max(latest, out), now);
  const least = Math.ceil((floor - now) / grain);
  // On the grid the plan it starts from may be a fraction of a grain longer than it need be.
  const line: Line = {
    start: best.start.map((start) => Math.floor((start - now) / grain)),
    length: Math.ceil((finish - now) / grain),
  };
  const share = new Float64Array(compiled.count);
  for (let task = 0; task < compiled.count; task++)
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++) {
      const resource = compiled.candidates[compiled.demandOf[d]!]![0]!;
      best.chosen[d] = resource;
      share[task]! += compiled.demandAmount[d]! / compiled.problem.resources[resource]!.capacity;
    }
  let known = line.length;
  for (let round = firstRound; line.length > least; round *= 2) {
    const most = Number.isFinite(schedules) ? schedules : round;
    for (const step of evolve(grids, share, line, least, most, chance, habitsFor(compiled.count, most))) {
      if (line.length < known) {
        known = line.length;
        for (let task = 0; task < compiled.count; task++) {
          best.start[task] = line.start[task]! * grain + now;
          best.end[task] = best.out[task] = best.start[task]! + minutes[task]! * grain;
        }
      }
      yield step;
    }
    if (Number.isFinite(schedules)) return;
  }
}
