import type { Fold } from './formats.ts';

/**
 * The notation of a collation: its parts, the series of signatures, and how a formula is printed.
 */

/** A, 2B, πA, ²a, ¶, or a signature quoted as the printer set it. */
export type Signature = Readonly<{
  /** What tells a repeated series apart: π, χ, * or a raised figure; empty for none. */
  prefix: string;
  /** Once, doubled, trebled: 1 for A, 2 for Aa. */
  times: number;
  /** One letter, a symbol, π or χ; for a quoted signature whatever stands in the quotation marks. */
  base: string;
  /** As found, in brackets: not printed, but certain from its neighbours. */
  inferred: boolean;
  style: 'plain' | 'quoted' | 'in parentheses';
}>;

/** Leaves named by number; conjugate when joined by points, disjunct by commas. */
export type LeafNumbers = Readonly<{ numbers: readonly number[]; joined: '.' | ',' }>;

export type LeafReference = LeafNumbers & Readonly<{ signature: Signature | undefined }>;

/** What was put in: so many unsigned leaves, named leaves, or a whole gathering. */
export type Insertion =
  | (LeafReference & Readonly<{ kind: 'leaves' }>)
  | Readonly<{ kind: 'gathering'; signature: Signature; size: number }>;

export type Change =
  | Readonly<{ kind: 'removed'; leaves: LeafReference }>
  | Readonly<{ kind: 'cancelled'; leaves: LeafReference }>
  /** Said to be blank; counted all the same. */
  | Readonly<{ kind: 'blank'; leaves: LeafReference }>
  | Readonly<{ kind: 'inserted'; after: LeafReference | undefined; what: Insertion }>
  | Readonly<{ kind: 'replaced'; leaves: LeafReference; by: Insertion }>;

export type Part = Readonly<{
  from: Signature;
  /** The last of a range; the first itself when there is one gathering only. */
  to: Signature;
  /** Leaves to a gathering, taken in turn when they alternate; or single leaves by number. */
  made: Readonly<{ kind: 'gatherings'; sizes: readonly number[] }> | (LeafNumbers & Readonly<{ kind: 'leaves' }>);
  changes: readonly Change[];
  /** Where a leaf was printed, as in π1[=B2]. */
  printedAs: string | undefined;
}>;

export type Alphabet = 23 | 26;

export type Collation = Readonly<{
  fold: Fold | undefined;
  parts: readonly Part[];
  /** The statement of signing as written, [$4 signed]. */
  signing: string | undefined;
  alphabet: Alphabet;
}>;

const letters: Readonly<Record<Alphabet, string>> = { 23: 'ABCDEFGHIKLMNOPQRSTVXYZ', 26: 'ABCDEFGHIJKLMNOPQRSTUVWXYZ' };

/**
 * The place of a signature in its series: A is 0, 2A follows Z; ¶ is 0, 2¶ is 1. With 23 letters J stands for I and U for V, and W has
 * no place; nor has a quoted signature.
 */
export function placeInSeries({ base, times, style }: Signature, alphabet: Alphabet): number | undefined {
  if (style === 'quoted') return undefined;
  if (!/^[a-z]$/i.test(base)) return times - 1;
  let letter = base.toUpperCase();
  if (alphabet === 23) letter = letter === 'J' ? 'I' : letter === 'U' ? 'V' : letter;
  const place = letters[alphabet].indexOf(letter);
  return place < 0 ? undefined : (times - 1) * alphabet + place;
}

/** The signature at a place of the series that `like` belongs to. */
export function signatureAt(place: number, like: Signature, alphabet: Alphabet): Signature {
  if (!/^[a-z]$/i.test(like.base)) return { ...like, times: place + 1 };
  const letter = letters[alphabet][place % alphabet] ?? 'A';
  const lower = like.base === like.base.toLowerCase();
  return { ...like, times: Math.floor(place / alphabet) + 1, base: lower ? letter.toLowerCase() : letter };
}

/** The formula in one form: raised figures as superscripts, dashes for ranges. Reading it back gives the same collation. */
export function printCollation({ fold, parts, signing }: Collation): string {
  const words = parts.map(printPart);
  if (fold !== undefined) words.unshift(`${fold}:`);
  if (signing !== undefined) words.push(`[${signing}]`);
  return words.join(' ');
}

/** One part of a formula. */
export function printPart({ from, to, made, changes, printedAs }: Part): string {
  const range = from === to || printSignature(from) === printSignature(to) ? '' : `–${printSignature(to)}`;
  const names = `${printSignature(from)}${range}`;
  const quoted = from.style === 'quoted';
  const text =
    made.kind === 'leaves'
      ? quoted
        ? `“${from.base}${made.numbers.join(made.joined)}”`
        : `${names}${made.numbers.join(made.joined)}`
      : quoted
        ? `“${from.base}${made.sizes.map(raised).join('/')}”`
        : `${names}${made.sizes.map(raised).join('/')}`;
  const changed = changes.length === 0 ? '' : `(${changes.map(printChange).join(' ')})`;
  return `${text}${changed}${printedAs === undefined ? '' : `[=${printedAs}]`}`;
}

function printChange(change: Change): string {
  switch (change.kind) {
    case 'removed':
      return `−${printReference(change.leaves)}`;
    case 'cancelled':
      return `±${printReference(change.leaves)}`;
    case 'blank':
      return `${printReference(change.leaves)} blank`;
    case 'inserted':
      return `${change.after === undefined ? '' : printReference(change.after)}+${printInsertion(change.what)}`;
    case 'replaced':
      return `${printReference(change.leaves)}±${printInsertion(change.by)}`;
  }
}

function printInsertion(what: Insertion): string {
  return what.kind === 'gathering' ? `${printSignature(what.signature)}${raised(what.size)}` : printReference(what);
}

/** A leaf or leaves by name. */
export function printReference({ signature, numbers, joined }: LeafReference): string {
  const list = numbers.join(joined);
  if (signature?.style === 'quoted') return `“${signature.base}${list}”`;
  return `${signature === undefined ? '' : printSignature(signature)}${list}`;
}

/** A signature by itself. */
export function printSignature({ prefix, times, base, inferred, style }: Signature): string {
  const before = prefix.replace(/\d+/, (figures) => raised(Number(figures)));
  const plain = `${before}${times > 1 ? times : ''}${base}`;
  if (style === 'quoted') return `“${base}”`;
  if (style === 'in parentheses') return `(${plain})`;
  return inferred ? `[${plain}]` : plain;
}

function raised(figure: number): string {
  return [...String(figure)].map((digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)] ?? '').join('');
}
