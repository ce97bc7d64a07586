/** Figures as people read them. */

/** "45 min", "2 h", "3 h 20". */
export function minutesWords(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 60) return `${whole} min`;
  const rest = whole % 60;
  return rest === 0 ? `${Math.floor(whole / 60)} h` : `${Math.floor(whole / 60)} h ${String(rest).padStart(2, '0')}`;
}

/** "1 h 20 – 2 h 10", "24 – 32 min", or one figure where both ends read alike. */
export function rangeWords(low: number, high: number): string {
  const [from, to] = [minutesWords(low), minutesWords(high)];
  if (from === to) return from;
  return from.endsWith(' min') && to.endsWith(' min') ? `${from.slice(0, -4)} – ${to}` : `${from} – ${to}`;
}

/** Minor units as money of the workshop's currency, in the person's own locale. */
export function moneyWords(minor: number, currency: string): string {
  const format = new Intl.NumberFormat(undefined, { style: 'currency', currency });
  const digits = format.resolvedOptions().maximumFractionDigits ?? 2;
  return format.format(minor / 10 ** digits);
}

/** A date without its time: "Mon 30 Nov" or with the year where it is another one. */
export function dayWords(at: number | string, timeZone: string): string {
  const instant = typeof at === 'string' ? Date.parse(`${at}T12:00:00Z`) : at;
  const zone = typeof at === 'string' ? 'UTC' : timeZone;
  return new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short', timeZone: zone }).format(
    instant,
  );
}

export function clockWords(at: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', timeZone }).format(at);
}
