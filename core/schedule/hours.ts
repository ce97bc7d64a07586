/** When one task may start, end and be out by its own hours alone, resources and other tasks aside. */
import type { Clock } from './clock.ts';
import {
  endOfOpen,
  firstAttended,
  firstOpen,
  firstWhole,
  lastAttended,
  lastWhole,
  never,
  startOfOpen,
} from './clock.ts';
import type { Compiled } from './compile.ts';

/** First start at or after this minute that the task's own hours allow. */
export function startFrom(compiled: TimeData, task: number, minute: number): number {
  const clock = compiled.clocks[task]!;
  const presence = compiled.presences[task]!;
  if (!presence) {
    if (!clock) return minute;
    return compiled.breakable[task] ? firstOpen(clock, minute) : firstWhole(clock, minute, compiled.minutes[task]!);
  }
  let start = minute;
  for (;;) {
    start = firstAttended(presence, start);
    if (!clock || start >= never) return start;
    const inHours = compiled.breakable[task]
      ? firstOpen(clock, start)
      : firstWhole(clock, start, compiled.minutes[task]!);
    if (inHours === start) return start;
    start = inHours;
  }
}

export function endFrom(compiled: TimeData, task: number, start: number): number {
  const clock = compiled.clocks[task]!;
  return clock && compiled.breakable[task]
    ? endOfOpen(clock, start, compiled.minutes[task]!)
    : start + compiled.minutes[task]!;
}

export function outFrom(compiled: TimeData, task: number, end: number): number {
  const presence = compiled.presences[task]!;
  return presence && end < never ? firstOpen(presence, end) : end;
}

/** Last start that the task's own hours allow for it to be out by this minute; -never when there is none. */
export function startUntil(compiled: TimeData, task: number, out: number): number {
  const [clock, presence] = [compiled.clocks[task]!, compiled.presences[task]!];
  const end = presence ? lastOpen(presence, out) : out;
  if (end <= -never) return -never;
  const minutes = compiled.minutes[task]!;
  let start = end - minutes;
  if (clock) start = compiled.breakable[task] ? startOfOpen(clock, end, minutes) : lastWhole(clock, end, minutes);
  while (presence && start > -never) {
    const attended = lastAttended(presence, start);
    if (attended === start) break;
    start = attended;
    if (clock && start > -never)
      start = compiled.breakable[task] ? lastOpen(clock, start) : lastWhole(clock, start + minutes, minutes);
  }
  return start;
}

/** Earliest start whose out is at or after this minute. */
export function startForOut(compiled: TimeData, task: number, out: number): number {
  const late = startFrom(compiled, task, out - compiled.minutes[task]!);
  const reaches = (start: number) => {
    const from = startFrom(compiled, task, start);
    return outFrom(compiled, task, endFrom(compiled, task, from)) >= out;
  };
  let step = 1;
  let low = out - compiled.minutes[task]!;
  while (step < never / 4 && reaches(low - step)) step *= 2;
  let [none, some] = [low - step, low];
  while (some - none > 1) {
    const middle = Math.floor((none + some) / 2);
    if (reaches(middle)) some = middle;
    else none = middle;
  }
  low = startFrom(compiled, task, some);
  return Math.min(low, late);
}

type TimeData = Pick<Compiled, 'minutes' | 'clocks' | 'presences' | 'breakable'>;

/** Last open minute at or before this one. */
function lastOpen(clock: Clock, minute: number): number {
  const attended = lastAttended(clock, minute);
  if (attended <= -never) return -never;
  return firstOpen(clock, attended) === attended ? attended : attended - 1;
}
