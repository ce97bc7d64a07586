import { ok, type Result, refuse } from '../result.ts';
import {
  type Alphabet,
  type Change,
  type Collation,
  type Insertion,
  type LeafReference,
  type Part,
  placeInSeries,
  printPart,
  printReference,
  printSignature,
  type Signature,
  signatureAt,
} from './collation-notation.ts';
import { parseFormula } from './collation-parser.ts';
import { leavesPerSheet } from './formats.ts';
import { type Extent, readPages } from './imprint.ts';

/**
 * Collation: how a book is made up of gatherings, in the notation of descriptive bibliography. F. Bowers, "Principles of Bibliographical
 * Description", 1949; P. Gaskell, "A New Introduction to Bibliography", 1972, pp. 328-331; the manual of the Short Title Catalogue
 * Flanders. Signatures run through 23 letters, without J, U and W, unless 26 are asked for.
 */

export type Gathering = Readonly<{ name: string; leaves: readonly string[] }>;

/**
 * Reads a formula such as `8°: A⁴ B–O⁸`, `F°: πA6(πA1+1 πA5+1.2) A-2B6 2C2`. Raised figures may be Unicode superscripts, follow a caret, or
 * stand on the line. Refuses with the place and what was expected there.
 */
export function parseCollation(text: string, alphabet: Alphabet = 23): Result<Collation> {
  const parsed = parseFormula(text, alphabet);
  if ('fault' in parsed) {
    const found = [...text.slice(parsed.at)][0];
    return refuse(
      `At character ${parsed.at + 1}${found === undefined ? ', the end' : ` (“${found}”)`}: expected ${parsed.fault}.`,
      'formula',
    );
  }
  const unsound = firstUnsoundChange(parsed);
  return unsound === undefined ? ok(parsed) : refuse(unsound, 'formula');
}

/** Every gathering in order with the names of its leaves as they stand after cancels, losses and insertions. */
export function listGatherings(collation: Collation): readonly Gathering[] {
  return collation.parts.flatMap((part) => {
    const { made, changes } = part;
    const signatures = signaturesOf(part, collation.alphabet);
    return signatures.map((signature, place) => {
      const name = printSignature({ ...signature, inferred: false });
      const numbers = made.kind === 'leaves' ? made.numbers : upTo(made.sizes[place % made.sizes.length] ?? 0);
      const mine = changes.filter((change) => concerns(change, signature, signatures.length === 1));
      return { name, leaves: changedLeaves(name, numbers, mine) };
    });
  });
}

export type CollationTotals = Readonly<{
  gatherings: number;
  leaves: number;
  pages: number;
  /** Whole and part sheets of paper, where the format is given. */
  sheets: number | undefined;
  remarks: readonly string[];
}>;

/** Leaves, pages and sheets of a collation. Pages are twice the leaves, whether numbered or not. */
export function totalsOf(collation: Collation): CollationTotals {
  const gatherings = listGatherings(collation);
  const leaves = gatherings.reduce((sum, gathering) => sum + gathering.leaves.length, 0);
  const odd = collation.parts.some(
    ({ made }) => made.kind === 'gatherings' && made.sizes.some((size) => size > 1 && size % 2 === 1),
  );
  return {
    gatherings: gatherings.length,
    leaves,
    pages: 2 * leaves,
    sheets: collation.fold === undefined ? undefined : leaves / leavesPerSheet(collation.fold),
    remarks: odd ? ['A gathering with an odd number of leaves has lost or gained one; say which, as in A4(−A4).'] : [],
  };
}

export type Statement = Readonly<{
  collation: Collation;
  totals: CollationTotals;
  statedLeaves: number | undefined;
  paging: Extent | undefined;
  /** What does not agree, a sentence each; empty when all does. */
  disagreements: readonly string[];
}>;

/**
 * Reads a whole statement, formula first: `8°: A4 B-O8; 108 leaves, pp. [8] 1-205 [3]`, and says where formula, leaves and paging do not
 * agree.
 */
export function readStatement(text: string, alphabet: Alphabet = 23): Result<Statement> {
  // A semicolon may stand within a formula too; the paging begins at the first after which it can be read.
  const ends = [...text.matchAll(/;/g)].map((found) => found.index).slice(0, 8);
  let refused: Result<Statement> | undefined;
  for (const end of [...ends, text.length]) {
    const read = splitAt(text, end, alphabet);
    if (read.ok) return read;
    refused ??= read;
  }
  return refused ?? splitAt(text, text.length, alphabet);
}

function splitAt(text: string, end: number, alphabet: Alphabet): Result<Statement> {
  const parsed = parseCollation(text.slice(0, end), alphabet);
  if (!parsed.ok) return parsed;
  const totals = totalsOf(parsed.value);
  const rest = text.slice(end + 1).trim();
  const leafCount = /(?:^|[\s;,])(\d{1,5})\s*(?:leaves|ll\.|ff\.)/i.exec(rest);
  const statedLeaves = leafCount ? Number(leafCount[1]) : undefined;
  const pageText = (leafCount ? rest.replace(leafCount[0], ' ') : rest).replace(/^[\s,;]+|[\s,;]+$/g, '');
  const paging = pageText === '' ? undefined : readPages(pageText);
  if (paging !== undefined && !paging.ok) return paging;
  return ok({
    collation: parsed.value,
    totals,
    statedLeaves,
    paging: paging?.value,
    disagreements: [...leavesDisagree(totals, statedLeaves), ...pagesDisagree(totals, paging?.value)],
  });
}

/** Where a page statement does not agree with the leaves of a formula; nothing when it does. */
export function pagesDisagree({ leaves, pages }: CollationTotals, paging: Extent | undefined): readonly string[] {
  if (paging === undefined || paging.pages === pages) return [];
  const by = Math.abs(paging.pages - pages);
  const sum = `The formula has ${leaves} leaves, ${pages} pages; the paging adds up to ${paging.pages}`;
  return [
    paging.pages === pages - 1
      ? `${sum}, one less: the last page may be blank and not counted.`
      : `${sum}, ${by} ${paging.pages < pages ? 'less' : 'more'}.`,
  ];
}

function leavesDisagree({ leaves }: CollationTotals, stated: number | undefined): readonly string[] {
  if (stated === undefined || stated === leaves) return [];
  return [`${stated} leaves are stated, but the formula adds up to ${leaves}.`];
}

/** What a copy lacks of the ideal book, and what it has besides, leaf by leaf in reading order. */
export function compareCopy(
  ideal: Collation,
  copy: Collation,
): Readonly<{ missing: readonly string[]; extra: readonly string[] }> {
  const names = (collation: Collation) => listGatherings(collation).flatMap((gathering) => gathering.leaves);
  return { missing: lacking(names(ideal), names(copy)), extra: lacking(names(copy), names(ideal)) };
}

/** What of the first list is not in the second, each as often as it is short. */
function lacking(wanted: readonly string[], there: readonly string[]): readonly string[] {
  const left = new Map<string, number>();
  for (const name of there) left.set(name, (left.get(name) ?? 0) + 1);
  return wanted.filter((name) => {
    const count = left.get(name) ?? 0;
    left.set(name, count - 1);
    return count <= 0;
  });
}

/** All signatures of a range, its ends included. */
function signaturesOf({ from, to }: Part, alphabet: Alphabet): readonly Signature[] {
  const first = placeInSeries(from, alphabet);
  const last = placeInSeries(to, alphabet);
  if (first === undefined || last === undefined || first === last) return [from];
  const signatures: Signature[] = [];
  for (let place = first; place <= last; place++) signatures.push(signatureAt(place, from, alphabet));
  return signatures;
}

function sameSignature(one: Signature, other: Signature): boolean {
  return one.prefix === other.prefix && one.times === other.times && one.base === other.base;
}

function referenceOf(change: Change): LeafReference | undefined {
  return change.kind === 'inserted' ? change.after : change.leaves;
}

/** Whether a change is to this gathering: by its signature, or without one when there is only one gathering it could mean. */
function concerns(change: Change, signature: Signature, alone: boolean): boolean {
  const named = referenceOf(change)?.signature;
  return named === undefined ? alone : sameSignature(named, signature);
}

function changedLeaves(name: string, numbers: readonly number[], changes: readonly Change[]): readonly string[] {
  const gone = new Set<number>();
  const after = new Map<number, string[]>();
  const insert = (place: number, names: readonly string[]) => after.set(place, [...(after.get(place) ?? []), ...names]);
  for (const change of changes) {
    if (change.kind === 'removed') for (const number of change.leaves.numbers) gone.add(number);
    if (change.kind === 'replaced') {
      for (const number of change.leaves.numbers) gone.add(number);
      insert(change.leaves.numbers[0] ?? 0, insertedNames(change.by, `${name}${change.leaves.numbers[0]}`));
    }
    if (change.kind === 'inserted') {
      const place = change.after?.numbers.at(-1) ?? numbers.at(-1) ?? 0;
      insert(place, insertedNames(change.what, `${name}${place}`));
    }
  }
  const cancels = new Set(changes.flatMap((change) => (change.kind === 'cancelled' ? change.leaves.numbers : [])));
  return numbers.flatMap((number) => [
    ...(gone.has(number) ? [] : [`${cancels.has(number) ? '±' : ''}${name}${number}`]),
    ...(after.get(number) ?? []),
  ]);
}

function insertedNames(what: Insertion, after: string): readonly string[] {
  if (what.kind === 'gathering') return upTo(what.size).map((number) => `${printSignature(what.signature)}${number}`);
  const { signature } = what;
  return what.numbers.map((number) =>
    signature === undefined ? `${after}+${number}` : `${printSignature(signature)}${number}`,
  );
}

/** The first change that names a gathering or a leaf that is not there, as a sentence. */
function firstUnsoundChange(collation: Collation): string | undefined {
  for (const part of collation.parts) {
    const signatures = signaturesOf(part, collation.alphabet);
    const removed = new Set<string>();
    for (const change of part.changes) {
      const reference = referenceOf(change);
      if (reference === undefined) {
        if (signatures.length > 1) return 'An insertion into a range of gatherings has to say after which leaf.';
        continue;
      }
      const place =
        reference.signature === undefined
          ? 0
          : signatures.findIndex((one) => sameSignature(one, reference.signature ?? one));
      if (place < 0 || (reference.signature === undefined && signatures.length > 1)) {
        return `A change names ${printReference(reference)}, which is not in ${printPart({ ...part, changes: [] })}.`;
      }
      const { made } = part;
      const there = made.kind === 'leaves' ? made.numbers : upTo(made.sizes[place % made.sizes.length] ?? 0);
      const absent = reference.numbers.find((number) => !there.includes(number));
      if (absent !== undefined)
        return `A change names leaf ${absent}, but ${printPart({ ...part, changes: [] })} has no such leaf.`;
      if (change.kind === 'inserted' || change.kind === 'blank') continue;
      for (const number of reference.numbers) {
        if (removed.has(`${place}.${number}`))
          return `Leaf ${printReference({ ...reference, numbers: [number] })} is taken out twice.`;
        removed.add(`${place}.${number}`);
      }
    }
  }
  return undefined;
}

function upTo(size: number): readonly number[] {
  return Array.from({ length: size }, (_, place) => place + 1);
}
