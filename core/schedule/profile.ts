/** What is free of one resource over time, as a step function on typed arrays; equal neighbouring steps are kept joined. */
import { never } from './clock.ts';

export type Profile = { times: Int32Array; free: Int32Array; steps: number };

/** A profile with room for so many tasks to begin with; `changes` are sorted. */
export function makeProfile(
  capacity: number,
  changes: readonly Readonly<{ at: number; capacity: number }>[],
  room: number,
): Profile {
  const size = 2 * room + changes.length + 4;
  const profile: Profile = { times: new Int32Array(size), free: new Int32Array(size), steps: 1 };
  profile.times[0] = -never;
  profile.free[0] = capacity;
  for (const change of changes) {
    if (profile.free[profile.steps - 1] === change.capacity) continue;
    profile.times[profile.steps] = change.at;
    profile.free[profile.steps++] = change.capacity;
  }
  return profile;
}

export function copyProfile(source: Profile, target: Profile): void {
  while (target.times.length < source.steps) grow(target);
  target.times.set(source.times.subarray(0, source.steps));
  target.free.set(source.free.subarray(0, source.steps));
  target.steps = source.steps;
}

/** Index of the step that contains the minute. */
function stepAt(profile: Profile, minute: number): number {
  const { times } = profile;
  let [low, high] = [0, profile.steps - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle]! <= minute) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** When the first stretch with fewer than `amount` free inside [from, to) ends; `from` itself when there is none. `never`: it never ends. */
export function shortUntil(profile: Profile, amount: number, from: number, to: number): number {
  const { times, free, steps } = profile;
  for (let k = stepAt(profile, from); k < steps && times[k]! < to; k++) {
    if (free[k]! < amount) {
      while (++k < steps) if (free[k]! >= amount) return times[k]!;
      return never;
    }
  }
  return from;
}

/** When the last stretch with fewer than `amount` free inside [from, to) begins; `to` itself when there is none. */
export function shortFrom(profile: Profile, amount: number, from: number, to: number): number {
  const { times, free } = profile;
  if (from >= to) return to;
  for (let k = stepAt(profile, to - 1); k >= 0; k--) {
    if (free[k]! < amount) {
      while (k > 0 && free[k - 1]! < amount) k--;
      return times[k]!;
    }
    if (times[k]! <= from) break;
  }
  return to;
}

/** Takes `amount` over [from, to); a negative amount gives it back. */
export function take(profile: Profile, amount: number, from: number, to: number): void {
  if (from >= to) return;
  const first = split(profile, from);
  const last = split(profile, to);
  for (let k = first; k < last; k++) profile.free[k]! -= amount;
  join(profile, last);
  join(profile, first);
}

/** Makes a step begin at the minute; its index. */
function split(profile: Profile, minute: number): number {
  const { times, free } = profile;
  const k = stepAt(profile, minute);
  if (times[k] === minute) return k;
  if (profile.steps === times.length) {
    grow(profile);
    return split(profile, minute);
  }
  times.copyWithin(k + 2, k + 1, profile.steps);
  free.copyWithin(k + 2, k + 1, profile.steps);
  times[k + 1] = minute;
  free[k + 1] = free[k]!;
  profile.steps++;
  return k + 1;
}

function grow(profile: Profile): void {
  const [times, free] = [new Int32Array(profile.times.length * 2), new Int32Array(profile.times.length * 2)];
  times.set(profile.times);
  free.set(profile.free);
  Object.assign(profile, { times, free });
}

function join(profile: Profile, k: number): void {
  const { times, free } = profile;
  if (k === 0 || k >= profile.steps || free[k] !== free[k - 1]) return;
  times.copyWithin(k, k + 1, profile.steps);
  free.copyWithin(k, k + 1, profile.steps);
  profile.steps--;
}
