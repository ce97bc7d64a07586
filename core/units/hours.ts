import { ok, type Result, refuse } from '../result.ts';
import { quoted } from './numbers.ts';

/** Hours of a day as people write them: "9–12:30, 13.30–17". */

/** From and to in minutes after midnight. */
export type Sitting = readonly [from: number, to: number];

/**
 * Reads the sittings of one day, in order and apart: `9-12:30, 13:30-17`, `9h30 to 12`, `9.15–1pm`; nothing, `closed` and `-` are a day
 * off. Refuses what is no time, and sittings that end before they begin or run into each other.
 */
export function readSittings(text: string): Result<readonly Sitting[]> {
  const tidy = text.trim().toLowerCase();
  if (tidy === '' || /^(closed|none|off|[-–—])$/.test(tidy)) return ok([]);
  const sittings: Sitting[] = [];
  for (const part of tidy.split(/[,;]|\band\b/)) {
    const [first, second, ...more] = part.split(/[-–—]|\bto\b/).map((time) => time.trim());
    const from = minuteOf(first ?? '');
    const to = minuteOf(second ?? '');
    if (from === undefined || to === undefined || more.length > 0) {
      return refuse(`${quoted(part.trim())} is not a sitting. Write it like 9:00–12:30.`);
    }
    if (to <= from) return refuse(`${quoted(part.trim())} ends before it begins.`);
    if (from < (sittings.at(-1)?.[1] ?? 0)) return refuse(`${quoted(part.trim())} begins before the last one ends.`);
    sittings.push([from, to]);
  }
  return ok(sittings);
}

/** `9:00–12:30, 13:30–17:00`, which `readSittings` reads back; `closed` for a day without any. */
export function formatSittings(sittings: readonly Sitting[]): string {
  if (sittings.length === 0) return 'closed';
  return sittings.map(([from, to]) => `${clock(from)}–${clock(to)}`).join(', ');
}

function minuteOf(text: string): number | undefined {
  const read = /^(\d{1,2})(?:[:.h](\d{2})?)?\s*(am|pm|h|hrs)?$/.exec(text);
  if (read === null) return undefined;
  const half = read[3] === 'pm' && Number(read[1]) < 12 ? 12 : read[3] === 'am' && Number(read[1]) === 12 ? -12 : 0;
  const minute = (Number(read[1]) + half) * 60 + Number(read[2] ?? 0);
  return Number(read[2] ?? 0) > 59 || minute > 24 * 60 ? undefined : minute;
}

function clock(minute: number): string {
  return `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`;
}
