/** Weeks and the moving present, in the workshop's time zone. */
import { useEffect, useState } from 'react';

/** The Monday, YYYY-MM-DD, of the week an instant falls in. */
export function mondayOf(instant: number, timeZone: string): string {
  const date = dateOf(instant, timeZone);
  const weekday = new Date(`${date}T00:00:00Z`).getUTCDay();
  return addDays(date, -((weekday + 6) % 7));
}

export function addDays(date: string, days: number): string {
  const at = new Date(`${date}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

/** The date, YYYY-MM-DD, on which an instant falls. */
export function dateOf(instant: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(
    instant,
  );
}

export type OpenDay = Readonly<{ date: string; from: number; to: number }>;

/** The days with open hours, in order, each from its first to its last open minute. */
export function openDays(hours: readonly Readonly<{ from: number; to: number }>[], timeZone: string): OpenDay[] {
  const days: OpenDay[] = [];
  for (const { from, to } of hours) {
    const date = dateOf(from, timeZone);
    const last = days.at(-1);
    if (last?.date === date) days[days.length - 1] = { ...last, to };
    else days.push({ date, from, to });
  }
  return days;
}

/** The same distance into the next open day, or the one before; null where there is none. */
export function otherDay(
  hours: readonly Readonly<{ from: number; to: number }>[],
  timeZone: string,
  at: number,
  step: 1 | -1,
): number | null {
  const days = openDays(hours, timeZone);
  const here = days.findLastIndex((day) => day.from <= at);
  const there = days[here + step];
  return here < 0 || !there ? null : there.from + (at - days[here]!.from);
}

/** This minute; nothing on the bench is finer. */
export function useNow(): number {
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 60_000);
    return () => clearInterval(timer);
  }, []);
  return now;
}
