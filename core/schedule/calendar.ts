/**
 * Working hours as people write them, turned into the open windows of a plan and back to instants. Wall-clock times are read in the
 * workshop's time zone, so that nine o'clock stays nine o'clock on the days the clocks change (IANA time zone data through Temporal).
 */
import { Temporal } from 'temporal-polyfill';
import type { Result } from '../result.ts';
import { ok, refuse } from '../result.ts';
import type { Calendar, Span } from './problem.ts';

/** Hours on a weekday, 1 Monday to 7 Sunday; 'HH:MM' wall-clock, `to` may be '24:00'. */
export type WeeklyHours = Readonly<{ weekday: number; from: string; to: string }>;
/** Hours on one date, YYYY-MM-DD, open even on a day off. */
export type ExtraHours = Readonly<{ date: string; from: string; to: string }>;

export type Hours = Readonly<{
  /** IANA name, such as 'Europe/London'. */
  timeZone: string;
  weekly: readonly WeeklyHours[];
  /** Dates, YYYY-MM-DD, on which the weekly hours do not count. */
  daysOff: readonly string[];
  extra: readonly ExtraHours[];
}>;

/** The plan's origin: midnight (or the day's first minute) of a date, YYYY-MM-DD, in a time zone, as UTC epoch milliseconds. */
export function originOf(startDate: string, timeZone: string): Result<number> {
  const day = readDate(startDate);
  if (!day) return refuse(`“${startDate}” is not a date.`, 'startDate');
  try {
    return ok(day.toZonedDateTime(timeZone).startOfDay().epochMilliseconds);
  } catch {
    return refuse(`“${timeZone}” is not a time zone.`, 'timeZone');
  }
}

/** The instant of a plan's minute, UTC epoch milliseconds. */
export function instantOf(originMs: number, minute: number): number {
  return originMs + minute * 60_000;
}

/** The plan's minute that an instant falls in. */
export function minuteOf(originMs: number, epochMs: number): number {
  return Math.floor((epochMs - originMs) / 60_000);
}

/**
 * Open windows of so many days from a date, in minutes after that date's first minute. A window that the clocks' change cuts or
 * stretches has its true length; hours that touch or overlap are one window.
 */
export function openWindows(hours: Hours, startDate: string, days: number): Result<Calendar> {
  const origin = originOf(startDate, hours.timeZone);
  if (!origin.ok) return origin;
  const first = readDate(startDate)!;
  const off = new Set(hours.daysOff);
  const windows: Span[] = [];
  for (let n = 0; n < days; n++) {
    const day = first.add({ days: n });
    const name = day.toString();
    const weekly = off.has(name) ? [] : hours.weekly.filter((h) => h.weekday === day.dayOfWeek);
    for (const stretch of [...weekly, ...hours.extra.filter((h) => h.date === name)]) {
      const from = minuteAt(day, stretch.from, hours.timeZone, origin.value);
      const to = minuteAt(day, stretch.to, hours.timeZone, origin.value);
      if (from === null) return refuse(`“${stretch.from}” is not a time of day.`, 'from');
      if (to === null) return refuse(`“${stretch.to}” is not a time of day.`, 'to');
      if (stretch.to <= stretch.from) return refuse(`Hours from ${stretch.from} to ${stretch.to} are empty.`, 'to');
      if (to > from) windows.push({ from, to });
    }
  }
  return ok(merge(windows));
}

function readDate(text: string): Temporal.PlainDate | null {
  try {
    return /^\d{4}-\d{2}-\d{2}$/.test(text) ? Temporal.PlainDate.from(text, { overflow: 'reject' }) : null;
  } catch {
    return null;
  }
}

function minuteAt(day: Temporal.PlainDate, time: string, timeZone: string, originMs: number): number | null {
  const match = /^(\d{2}):(\d{2})$/.exec(time);
  const [hour, minute] = [Number(match?.[1]), Number(match?.[2])];
  if (!match || hour > 24 || minute > 59 || (hour === 24 && minute > 0)) return null;
  const instant =
    hour === 24
      ? day.add({ days: 1 }).toZonedDateTime(timeZone).startOfDay()
      : day.toZonedDateTime({ timeZone, plainTime: Temporal.PlainTime.from({ hour, minute }) });
  return minuteOf(originMs, instant.epochMilliseconds);
}

/** Sorted and disjoint, touching windows joined. */
function merge(windows: readonly Span[]): Calendar {
  const merged: Span[] = [];
  for (const window of windows.toSorted((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last && window.from <= last.to)
      merged[merged.length - 1] = { from: last.from, to: Math.max(last.to, window.to) };
    else merged.push(window);
  }
  return merged;
}
