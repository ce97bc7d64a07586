import { ok, type Result, refuse } from '../result.ts';
import { quoted } from '../units/numbers.ts';

/**
 * What a title page and a list say about a book's years and pages. Uncertain figures after library practice: `[1847]`, `1847?`,
 * `ca. 1850`, `185-`, `186-?`, `188?`, `18--`, `between 1840 and 1850`.
 */

/** The years a book can be from; the same year twice when it is known. `approximate` when the source itself was unsure. */
export type Years = Readonly<{ from: number; to: number; approximate: boolean }>;

/** Plausible printed years: from Gutenberg's time on. A year outside is a slip of the pen. */
const earliest = 1450;
const latest = 2100;

/** How far `c.` reaches to each side. Common practice, no source. */
const circaYears = 5;

/**
 * Reads a year or span of years. Roman figures may carry points, spaces and the printer's `CIƆ IƆ`; a short second year completes itself
 * from the first (`1851-3`). Refuses `n.d.` and everything outside 1450–2100.
 */
export function readYears(text: string): Result<Years> {
  const shown = quoted(text);
  if (text.length > 80) return refuse(`${shown} is too long to be a date.`);
  const tidy = text
    .trim()
    .toLowerCase()
    .replace(/[\u2010-\u2015−]/g, '-')
    .replace(/^(dated|published|pub\.?|printed|in|©|c(?=\d))\s*/, '')
    .replace(/\s+/g, ' ');
  if (tidy === '') return refuse('No date was written.');
  if (/^\[?\s*(n\.? ?d\.?|s\.? ?a\.?|undated|no date|not dated|o\.? ?j\.?)\s*\]?$/.test(tidy)) {
    return refuse(`${shown} means that the book carries no date.`);
  }

  const unsure =
    /\?|\b(circa|approx(imately)?|about|probably|perhaps|early|mid|late)\b|\b(ca?|approx)\.|^ca?\b|\[ca?\b|~/.test(
      tidy,
    );
  const bare = tidy
    .replace(/\b(circa|approximately|approx|about|probably|perhaps)\b\.?|\bca?\b\.?\s*(?=[\d[])/g, ' ')
    .replace(/[[\]()?~]|\.$|\bi\.e\.|\ba\.?d\.?\b/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

  // “188?” is some year of that decade; with all four figures the query is a doubt about the year.
  const decade = /^\[?(\d{3})\?\]?$/.exec(tidy);
  if (decade) return checked(Number(decade[1]) * 10, Number(decade[1]) * 10 + 9, true, shown);
  const between = /^(?:between )?(\S+) (?:and|to|or) (\S+)$/.exec(bare);
  if (between) return span(between[1] ?? '', between[2] ?? '', unsure, shown);
  const century = /^(early |mid-? ?|late )?(\d{2})(?:th|st|nd|rd) ?c(?:ent(?:ury)?)?\.?$/.exec(bare);
  if (century) return partOfCentury(Number(century[2]) * 100 - 100, (century[1] ?? '').trim().replace('-', ''), shown);
  const period = /^(early |mid-? ?|late )?(\d{3}0)'?s$/.exec(bare);
  if (period) return partOfDecade(Number(period[2]), (period[1] ?? '').trim().replace('-', ''), shown);
  if (/^\d{3}-$/.test(bare))
    return checked(Number(bare.slice(0, 3)) * 10, Number(bare.slice(0, 3)) * 10 + 9, true, shown);
  if (/^\d{2}--$/.test(bare))
    return checked(Number(bare.slice(0, 2)) * 100, Number(bare.slice(0, 2)) * 100 + 99, true, shown);
  const pair = /^(\d{4}) ?[-/] ?(\d{1,2}|\d{4})$/.exec(bare);
  if (pair) return span(pair[1] ?? '', pair[2] ?? '', unsure, shown);

  const year = oneYear(bare);
  // “London: Murray, 1852”: an imprint that ends in its date.
  const imprint = /^.*\p{L}.*[,:;] *([^,:;]+)$/u.exec(text.trim());
  if (year === undefined && imprint && /\d{2}|[mdclxvi]{3}/i.test(imprint[1] ?? '')) return readYears(imprint[1] ?? '');
  if (year === undefined)
    return refuse(`${shown} is not a date this program can read. Try 1852, c. 1850, 1850s or 1851-3.`);
  const circa = /\bca?\b|circa|approx|about|~/.test(tidy) && unsure;
  return checked(year - (circa ? circaYears : 0), year + (circa ? circaYears : 0), unsure, shown);
}

/** What a book list or a description says about extent; leaves are half the pages, rounded up. */
export type Extent = Readonly<{ pages: number; leaves: number }>;

/**
 * Reads a page statement: `viii, 312 pp.`, `[2], xvi, 312, [4] p.`, `pp. [8] 1-205 [3]`, `120 leaves`, `ff. 44`. Bracketed figures count
 * unnumbered pages, a plain figure the last number of its run, and a run may be written with both ends. Plates are not pages and are
 * passed over. Refuses what holds no count, and runs that go backwards.
 */
export function readPages(text: string): Result<Extent> {
  const shown = quoted(text);
  if (text.length > 300) return refuse(`${shown} is too long to be a page statement.`);
  const tidy = text
    .toLowerCase()
    .replace(/[\u2010-\u2015−]/g, '-')
    .replace(
      /\+?\s*\[?\b[\divxlc]+\]?\s*(leaves of |l\. of )?(plates?|pls?\.|maps?|portraits?|ports?\.|illustrations?|ills?\.|illus\.?)/g,
      ' ',
    )
    .replace(/\b(plates?|front(is(piece)?)?\.?|illus(trated|\.)?|col(oured)?\.?)(?![a-z])/g, ' ');
  const inLeaves = /\b(leaves|leaf|ff|fol(ios?|l)?|lvs|ll|l)\b/.test(tidy) && !/\b(pp?|pages?|pgs?)\b/.test(tidy);
  const bare = tidy
    .replace(/\b(pages?|pgs?|pp?|leaves|leaf|ff|fol(ios?|l)?|lvs|ll|l|and|unnumbered|numbered)\b\.?/g, ' ')
    .trim();

  let count = 0;
  // A second count of pages, after a semicolon or with a raised figure before it, begins again at one.
  for (const sequence of bare.replace(/(^|;)\s*\d\s*(?=\[)/g, '$1').split(';')) {
    const added = countPages(sequence, shown);
    if (!added.ok) return added;
    count += added.value;
  }
  if (count === 0) return refuse(`${shown} counts no pages.`);
  if (count > 20_000)
    return refuse(`${shown} comes to ${count} ${inLeaves ? 'leaves' : 'pages'}; no single book has so many.`);
  return ok(inLeaves ? { pages: 2 * count, leaves: count } : { pages: count, leaves: Math.ceil(count / 2) });
}

/** Roman figures to a number, additive forms such as `iiii` and `MDCCCC` allowed; undefined when they are none. */
export function romanValue(text: string): number | undefined {
  const figures = text.toUpperCase();
  if (!/^[IVXLCDM]+$/.test(figures) || figures.length > 20) return undefined;
  if (!/^M{0,4}(CM|CD|D?C{0,4})(XC|XL|L?X{0,4})(IX|IV|V?I{0,4})$/.test(figures)) return undefined;
  let value = 0;
  for (const [place, figure] of [...figures].entries()) {
    const worth = romanWorth[figure] ?? 0;
    value += worth < (romanWorth[figures[place + 1] ?? ''] ?? 0) ? -worth : worth;
  }
  return value;
}

const romanWorth: Readonly<Record<string, number>> = { I: 1, V: 5, X: 10, L: 50, C: 100, D: 500, M: 1000 };

function countPages(sequence: string, shown: string): Result<number> {
  const tokens = sequence.match(/(\[[^\]]*\]|[\divxlcdm]+)(\s*-\s*(\[[^\]]*\]|[\divxlcdm]+))?|[^\s,;.+]/g) ?? [];
  let count = 0;
  let lastRun: Run | undefined;
  for (const token of tokens) {
    const run = readRun(token);
    if (run === undefined) return refuse(`${shown} is not a page statement: ${quoted(token)} is no count of pages.`);
    if (run.kind === 'range' && run.to < run.from)
      return refuse(`${shown} has a run of pages that goes backwards: ${quoted(token)}.`);
    const goesOn = lastRun !== undefined && lastRun.roman === run.roman && lastRun.to < run.to ? lastRun.to : 0;
    // A bracketed figure is a count of pages without numbers, unless it is the very next number: 4-17 [18] infers page 18.
    const inferred = run.kind === 'unnumbered' && goesOn > 0 && run.to === goesOn + 1;
    if (run.kind === 'range') count += run.to - run.from + 1;
    else if (inferred) count += 1;
    // A plain figure names the last page of a run that goes on from the one before, when that one was in the same figures.
    else count += run.to - (run.kind === 'upTo' ? goesOn : 0);
    if (run.kind !== 'unnumbered' || inferred) lastRun = run;
  }
  return ok(count);
}

type Run = Readonly<{ kind: 'unnumbered' | 'upTo' | 'range'; from: number; to: number; roman: boolean }>;

function readRun(token: string): Run | undefined {
  const bracketed = token.startsWith('[');
  const inner = token.replace(/[[\]\s]/g, '');
  const range = /^([\divxlcdm]+)-([\divxlcdm]+)$/.exec(inner);
  if (range) {
    const from = figure(range[1] ?? '');
    const to = figure(range[2] ?? '');
    if (from === undefined || to === undefined || from.roman !== to.roman) return undefined;
    return { kind: 'range', from: from.value, to: to.value, roman: to.roman };
  }
  const single = figure(inner);
  if (single === undefined) return undefined;
  return { kind: bracketed ? 'unnumbered' : 'upTo', from: 1, to: single.value, roman: single.roman };
}

function figure(text: string): Readonly<{ value: number; roman: boolean }> | undefined {
  if (/^\d{1,5}$/.test(text)) return { value: Number(text), roman: false };
  const roman = romanValue(text);
  return roman === undefined ? undefined : { value: roman, roman: true };
}

function span(first: string, second: string, unsure: boolean, shown: string): Result<Years> {
  const from = oneYear(first);
  const to =
    second.length < 4 && /^\d+$/.test(second) ? oneYear(first.slice(0, 4 - second.length) + second) : oneYear(second);
  if (from === undefined || to === undefined) return refuse(`${shown} is not a span of years.`);
  if (to < from) return refuse(`${shown} ends before it begins.`);
  return checked(from, to, unsure, shown);
}

function oneYear(text: string): number | undefined {
  if (/^\d{4}$/.test(text)) return Number(text);
  const figures = text.replace(/[\s.,]/g, '');
  // Printers of the hand press made M and D of a turned C: CIƆ and IƆ.
  return romanValue(figures.replace(/c[i|][ɔↄ)]/g, 'm').replace(/[i|][ɔↄ)]/g, 'd'));
}

function partOfCentury(start: number, part: string, shown: string): Result<Years> {
  // Early, mid and late are read as thirds. Common practice, no source.
  if (part === 'early') return checked(start, start + 33, true, shown);
  if (part.startsWith('mid')) return checked(start + 34, start + 66, true, shown);
  if (part === 'late') return checked(start + 67, start + 99, true, shown);
  return checked(start, start + 99, true, shown);
}

function partOfDecade(start: number, part: string, shown: string): Result<Years> {
  if (part === 'early') return checked(start, start + 3, true, shown);
  if (part.startsWith('mid')) return checked(start + 4, start + 6, true, shown);
  if (part === 'late') return checked(start + 7, start + 9, true, shown);
  return checked(start, start + 9, true, shown);
}

function checked(from: number, to: number, approximate: boolean, shown: string): Result<Years> {
  if (to < earliest || from > latest) return refuse(`${shown} is outside the years ${earliest} to ${latest}.`);
  return ok({ from: Math.max(from, earliest), to: Math.min(to, latest), approximate });
}
