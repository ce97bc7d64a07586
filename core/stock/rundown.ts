/** The run-down of a material as plain geometry: its balance by day as steps, in the picture's own pixels, with the marks along it. */
import { dayNumber } from './projection.ts';

export type RundownInput = Readonly<{
  /** Today first: what a day leaves before a parcel comes, and after; between `from` and `to` it may lie at the day's end. */
  series: readonly Readonly<{ date: string; low: number; balance: number; from?: number; to?: number }>[];
  safety: number;
  orderBy: string | null;
  /** Days on which a parcel is due, YYYY-MM-DD. */
  arrivals: readonly string[];
  width: number;
  height: number;
}>;

export type Rundown = Readonly<{
  /** The stepped line, as an SVG path. */
  line: string;
  /** Between the edges of the range, closed, as an SVG path; empty where there is no range. */
  band: string;
  /** What lies below nothing, closed, as an SVG path; empty where it never does. */
  missing: string;
  /** The height of nothing left, and of the safety stock where there is one. */
  zeroY: number;
  safetyY: number | null;
  /** Mondays. */
  weeks: readonly Readonly<{ x: number; date: string }>[];
  /** Round figures up the side. */
  levels: readonly Readonly<{ y: number; amount: number }>[];
  orderX: number | null;
  arrivals: readonly Readonly<{ x: number; y: number; date: string }>[];
}>;

export function drawRundown(input: RundownInput): Rundown {
  const { series, safety, width, height } = input;
  const first = dayNumber(series[0]?.date ?? '1970-01-01');
  const days = Math.max(1, series.length);
  const highest = Math.max(...series.map(({ balance, to }) => Math.max(balance, to ?? 0)), safety, 0);
  const lowest = Math.min(...series.map(({ low }) => low), 0);
  const step = roundStep(highest - lowest);
  const top = Math.max(step, Math.ceil((highest + step * 0.05) / step) * step);
  const bottom = Math.min(0, Math.floor(lowest / step) * step);
  const x = (day: number) => tenth((day / days) * width);
  const y = (amount: number) => tenth(((top - amount) / (top - bottom)) * height);
  const inPicture = (date: string) => {
    const day = Math.max(0, dayNumber(date) - first);
    return day < days ? day : null;
  };

  const hasBand = series.some(({ from, to }) => from !== undefined && to !== undefined && to > from);
  // What is there cannot be less than nothing, so the band ends there unless the line itself goes lower.
  const edges = series.map(({ low, balance, from = balance, to = balance }) => ({
    from: Math.max(from, Math.min(0, low)),
    to,
  }));
  const upper = edges.map(({ to }, day) => `L${x(day + 1)} ${y(to)}`).join('');
  const lower = edges.map(({ from }, day) => `L${x(day + 1)} ${y(from)}`).toReversed();
  const start = `${x(0)} ${y(series[0]?.low ?? 0)}`;

  const steps = series.map(
    ({ low, balance }, day) => `V${y(low)}H${x(day + 1)}${balance === low ? '' : `V${y(balance)}`}`,
  );
  const under = series.map(({ low }) => Math.min(0, low));
  const hasMissing = under.some((balance) => balance < 0);
  const missing = under.map((balance, day) => `V${y(balance)}H${x(day + 1)}`).join('');
  return {
    line: series.length === 0 ? '' : `M0 ${y(series[0]!.low)}${steps.join('')}`,
    band: hasBand ? `M${start}${upper}${lower.join('')}Z` : '',
    missing: hasMissing ? `M0 ${y(0)}${missing}V${y(0)}Z` : '',
    zeroY: y(0),
    safetyY: safety > 0 ? y(safety) : null,
    // Day 4 after 1 January 1970, a Thursday, was the first Monday.
    weeks: series.flatMap(({ date }, day) => ((first + day - 4) % 7 === 0 ? [{ x: x(day), date }] : [])),
    levels: Array.from({ length: Math.round((top - bottom) / step) + 1 }, (_, index) => {
      const amount = Math.round((bottom + index * step) * 1e6) / 1e6;
      return { y: y(amount), amount };
    }),
    orderX: input.orderBy === null ? null : nullOr(inPicture(input.orderBy), x),
    arrivals: input.arrivals.flatMap((date) => {
      const day = inPicture(date);
      return day === null ? [] : [{ x: x(day + 1), y: y(series[day]!.balance), date }];
    }),
  };
}

function nullOr(day: number | null, x: (day: number) => number): number | null {
  return day === null ? null : x(day);
}

/** 1, 2 or 5 times a power of ten, so that a span has three to six of them. */
function roundStep(span: number): number {
  if (span <= 0) return 1;
  const power = 10 ** Math.floor(Math.log10(span / 3));
  const ratio = span / 3 / power;
  return power * (ratio >= 5 ? 5 : ratio >= 2 ? 2 : 1);
}

function tenth(amount: number): number {
  return Math.round(amount * 10) / 10;
}
