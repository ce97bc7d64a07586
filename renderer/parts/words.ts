/** Figures as people read them. */

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

/** A title within a sentence: as much of it as tells the book from others. */
export function shortened(words: string): string {
  return words.length > 120 ? `${words.slice(0, 119).trimEnd()}…` : words;
}
