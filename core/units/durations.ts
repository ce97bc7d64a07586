/** Durations as people read them; everything inside the program is minutes. */

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
