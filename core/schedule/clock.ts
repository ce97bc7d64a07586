/** Arithmetic in one calendar on typed arrays: where work may start, when it ends, when somebody is there. `null` clocks are always open. */
import type { Calendar } from './problem.ts';

/** Later than any plan; what cannot be placed is placed here. */
export const never = 0x3fffffff;

export type Clock = Readonly<{ from: Int32Array; to: Int32Array }>;

export function makeClock(calendar: Calendar): Clock {
  return {
    from: Int32Array.from(calendar, (window) => window.from),
    to: Int32Array.from(calendar, (window) => window.to),
  };
}

/** Index of the first window that ends after the minute; the number of windows when there is none. */
export function windowAt(clock: Clock, minute: number): number {
  const { to } = clock;
  let [low, high] = [0, to.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (to[middle]! > minute) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** First open minute at or after this one. */
export function firstOpen(clock: Clock, minute: number): number {
  const k = windowAt(clock, minute);
  if (k === clock.to.length) return never;
  return Math.max(minute, clock.from[k]!);
}

/** First minute at or after this one that is open or at which a window closes. */
export function firstAttended(clock: Clock, minute: number): number {
  const k = windowAt(clock, minute - 1);
  if (k === clock.to.length) return never;
  return Math.max(minute, clock.from[k]!);
}

/** Last minute at or before this one that is open or at which a window closes; -never when there is none. */
export function lastAttended(clock: Clock, minute: number): number {
  const k = windowAt(clock, minute);
  if (k < clock.to.length && clock.from[k]! <= minute) return minute;
  return k === 0 ? -never : clock.to[k - 1]!;
}

/** First start at or after this minute from which so many minutes fit inside one window. */
export function firstWhole(clock: Clock, minute: number, minutes: number): number {
  for (let k = windowAt(clock, minute - 1); k < clock.to.length; k++) {
    const start = Math.max(minute, clock.from[k]!);
    if (start + minutes <= clock.to[k]!) return start;
  }
  return never;
}

/** Last start from which so many minutes fit inside one window and end by this minute; -never when there is none. */
export function lastWhole(clock: Clock, minute: number, minutes: number): number {
  for (let k = Math.min(windowAt(clock, minute), clock.to.length - 1); k >= 0; k--) {
    const start = Math.min(minute, clock.to[k]!) - minutes;
    if (start >= clock.from[k]!) return start;
  }
  return -never;
}

/** The minute after the last of so many open minutes from an open start. */
export function endOfOpen(clock: Clock, start: number, minutes: number): number {
  let k = windowAt(clock, start);
  if (k === clock.to.length) return never;
  let left = minutes - (clock.to[k]! - Math.max(start, clock.from[k]!));
  while (left > 0) {
    if (++k === clock.to.length) return never;
    left -= clock.to[k]! - clock.from[k]!;
  }
  return clock.to[k]! + left;
}

/** Last open start from which so many open minutes end by this minute; -never when there is none. */
export function startOfOpen(clock: Clock, end: number, minutes: number): number {
  let k = Math.min(windowAt(clock, end - 1), clock.to.length - 1);
  while (k >= 0 && clock.from[k]! >= end) k--;
  let left = minutes;
  for (; k >= 0; k--) {
    const close = Math.min(end, clock.to[k]!);
    left -= close - clock.from[k]!;
    if (left <= 0) return clock.from[k]! - left;
  }
  return -never;
}

/** Length of the longest window. */
export function longestWindow(clock: Clock): number {
  return clock.from.reduce((longest, from, k) => Math.max(longest, clock.to[k]! - from), 0);
}
