/**
 * How big the unsurveyed backlog is, from a random sample of it: how many books to look at, which ones, and what they say of all. Sizes by
 * n = z² p (1 − p) / d² (Drott 1969, "Random sampling: a tool for library research", College and Research Libraries 30) with the finite
 * correction n / (1 + (n − 1) / N); totals and their spread by the textbook formulas for stratified samples without replacement (Cochran
 * 1977, "Sampling Techniques", 5.3 to 5.9, from memory); shares by Wilson's interval (1927), narrowed by the part already seen.
 */
import { ok, type Result, refuse } from '../result.ts';
import type { Chance } from '../schedule/random.ts';
import { normalPoint, studentPoint } from './quantiles.ts';

export type SampleWish = Readonly<{
  /** How sure, between 0 and 1. */
  confidence: number;
  /** The share expected to show what is counted; 0.5 asks for most books and is right whatever the truth. */
  share: number;
  /** How far off the share may be, as a share of the whole. */
  margin: number;
}>;

export type SampleSize = Readonly<{
  /** By the formula, for a backlog without end; not rounded. */
  endless: number;
  /** With the finite correction; not rounded. */
  exact: number;
  /** Whole books, rounded up, never more than there are. */
  books: number;
}>;

/** How many of `population` books to survey. */
export function sampleSize({ confidence, share, margin }: SampleWish, population: number): Result<SampleSize> {
  if (!(confidence >= 0.5 && confidence <= 0.999)) return refuse('Be between 50 % and 99.9 % sure.', 'confidence');
  if (!(share > 0 && share < 1)) return refuse('Expect a share between nothing and all.', 'share');
  if (!(margin >= 0.005 && margin <= 0.5)) return refuse('Give a margin between 0.5 % and 50 %.', 'margin');
  const z = normalPoint(confidence);
  const endless = (z * z * share * (1 - share)) / (margin * margin);
  const exact = population > 0 ? finite(endless, population) : 0;
  return ok({ endless, exact, books: Math.max(0, Math.min(population, Math.ceil(exact - 1e-9))) });
}

/** The finite correction: of few books fewer need to be seen. */
export function finite(size: number, population: number): number {
  return size / (1 + (size - 1) / population);
}

export type Stratum = Readonly<{ name: string; ids: readonly string[] }>;

/** Whole books from each stratum: in proportion by largest remainders, and two from each where there are as many, so that each tells its spread. */
export function shareOut(strata: readonly number[], books: number): readonly number[] {
  const all = strata.reduce((sum, size) => sum + size, 0);
  const wanted = Math.min(books, all);
  const least = strata.map((size) => Math.min(size, 2));
  const floor = least.reduce((sum, size) => sum + size, 0);
  if (wanted <= floor) return least;
  const shares = strata.map((size, at) => Math.max(least[at] ?? 0, (wanted * size) / Math.max(1, all)));
  const given = shares.map((share, at) => Math.min(strata[at] ?? 0, Math.floor(share)));
  const order = shares
    .map((share, at) => [share - Math.floor(share), at] as const)
    .sort(([one, a], [other, b]) => other - one || a - b);
  let left = wanted - given.reduce((sum, size) => sum + size, 0);
  for (let round = 0; left > 0 && round < 2 * order.length; round++) {
    const at = order[round % order.length]?.[1] ?? 0;
    if ((given[at] ?? 0) >= (strata[at] ?? 0)) continue;
    given[at] = (given[at] ?? 0) + 1;
    left -= 1;
  }
  return given;
}

/** Draws without replacement, each book of a stratum as likely as another; per stratum the ids drawn. */
export function drawSample(strata: readonly Stratum[], books: number, chance: Chance): readonly (readonly string[])[] {
  const sizes = shareOut(
    strata.map(({ ids }) => ids.length),
    books,
  );
  return strata.map(({ ids }, at) => {
    // The first places of a shuffle (Fisher and Yates, in Durstenfeld's order).
    const pool = [...ids];
    const wanted = sizes[at] ?? 0;
    for (let place = 0; place < wanted; place++) {
      const other = place + Math.floor(chance() * (pool.length - place));
      [pool[place], pool[other]] = [pool[other] ?? '', pool[place] ?? ''];
    }
    return pool.slice(0, wanted);
  });
}

/** One stratum of the backlog: how many books it has, and what was found in those of the sample seen so far. */
export type Seen = Readonly<{ books: number; values: readonly number[] }>;
export type Interval = Readonly<{ likely: number; low: number; high: number }>;

/**
 * The total over the backlog, with an interval that holds it in the share `confidence` of samples. Null while fewer than two are seen, or a
 * stratum has none. A stratum with one lends its spread from all that are seen.
 */
export function estimateTotal(strata: readonly Seen[], confidence: number): Interval | null {
  const held = strata.filter(({ books }) => books > 0);
  const seen = held.flatMap(({ values }) => values);
  if (seen.length < 2 || held.some(({ values }) => values.length === 0)) return null;
  const overall = variance(seen);
  let likely = 0;
  let spread = 0;
  for (const { books, values } of held) {
    likely += books * mean(values);
    const own = values.length > 1 ? variance(values) : overall;
    spread += books * Math.max(0, books - values.length) * (own / values.length);
  }
  const freedom = Math.max(1, seen.length - held.length);
  const reach = studentPoint(confidence, freedom) * Math.sqrt(spread);
  const counted = seen.reduce((sum, value) => sum + value, 0);
  // What has been seen is there, whatever the rest is.
  return { likely, low: Math.max(counted, likely - reach), high: likely + reach };
}

/** How many books of the backlog have what was looked for; `values` are 1 for those that do and 0 for the others. */
export function estimateCount(strata: readonly Seen[], confidence: number): Interval | null {
  const held = strata.filter(({ books }) => books > 0);
  const seen = held.reduce((sum, { values }) => sum + values.length, 0);
  if (seen < 2 || held.some(({ values }) => values.length === 0)) return null;
  const books = held.reduce((sum, stratum) => sum + stratum.books, 0);
  const found = held.reduce((sum, { values }) => sum + values.reduce((all, value) => all + value, 0), 0);
  const share = held.reduce((sum, stratum) => sum + stratum.books * mean(stratum.values), 0) / books;
  // As many independent looks as these would be worth: without replacement each tells more, the last book everything.
  const worth = seen >= books ? Number.POSITIVE_INFINITY : (seen * (books - 1)) / (books - seen);
  const z = normalPoint(confidence);
  const pull = Number.isFinite(worth) ? (z * z) / worth : 0;
  const middle = (share + pull / 2) / (1 + pull);
  const reach = Number.isFinite(worth)
    ? (z * Math.sqrt((share * (1 - share)) / worth + (pull * pull) / (4 * z * z))) / (1 + pull)
    : 0;
  const inside = (value: number) => Math.min(books - (seen - found), Math.max(found, value));
  return {
    likely: books * share,
    low: inside(Math.floor(books * (middle - reach) + 1e-9)),
    high: inside(Math.ceil(books * (middle + reach) - 1e-9)),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function variance(values: readonly number[]): number {
  const middle = mean(values);
  return values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1);
}
