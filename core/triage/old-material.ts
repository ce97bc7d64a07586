/**
 * Cloth and paper that only a wreck can give: what a repair wants of it, what a wreck would yield, what lies in the drawer. Cloth counts by
 * grain pattern and colour as they are described, paper by quarter of a century, both in square centimetres. Whether a piece truly fits is
 * for the match to say; how much of a cover or a leaf can be used is common practice, no source.
 */
import type { Book, Finding } from '../book/book.ts';
import type { MaterialNeed } from '../stock/material.ts';
import type { Amount } from './fates.ts';

/** Named as a person would; the name is the id too. */
type Matter = string;

/** Of the two boards' sides, what is neither faded, worn nor lost in cutting. */
const usableCloth = 0.7;
/** Of two free leaves at either end. */
const usableLeaves = 0.8;
const freeLeaves = 4;

/** What is left of a repair's worth where new material, toned, stands in for the old. The workshop's own choice. */
export const worthWithNew = 0.85;

/** What restoring the book would use of old material, out of the needs of its treatment. */
export function wantsOf(book: Book, needs: readonly MaterialNeed[]): readonly Amount[] {
  const wanted: Amount[] = [];
  const add = (matter: Matter | null, kind: MaterialNeed['kind']) => {
    const need = needs.find((one) => one.kind === kind && one.unit === 'm2');
    if (matter !== null && need !== undefined) wanted.push(amount(matter, need.quantity * 10_000));
  };
  if (clothBound.has(book.binding ?? '')) add(clothOf(book.pattern, book.colour), 'book cloth');
  add(paperOf(book.yearFrom), 'endpaper');
  return wanted;
}

/** What breaking the book would give; nothing where the survey says that it is gone or past use, or nobody has measured. */
export function givesOf(book: Book, findings: readonly Finding[]): readonly Amount[] {
  const { heightMm, widthMm } = book;
  if (heightMm === null || widthMm === null) return [];
  const spoilt = (parts: readonly string[]) =>
    findings.some(({ part, damage, severity }) => parts.includes(part) && (damage === 'missing' || severity === 3));
  const side = (heightMm * widthMm) / 100;
  const given: Amount[] = [];
  const cloth = clothOf(book.pattern, book.colour);
  if (book.binding === 'cloth case' && cloth !== null && !spoilt(['covering', 'boards'])) {
    given.push(amount(cloth, 2 * side * usableCloth));
  }
  const paper = paperOf(book.yearFrom);
  if (paper !== null && !spoilt(['endpapers'])) given.push(amount(paper, freeLeaves * side * usableLeaves));
  return given;
}

/** What a piece of the drawer is in this reckoning; null where it is neither, or nobody has said enough of it. */
export function matterOf(
  piece: Readonly<{ kind: string; pattern: string | null; colour: string; yearFrom: number | null }>,
): Matter | null {
  if (piece.kind === 'book cloth') return clothOf(piece.pattern, piece.colour);
  return piece.kind === 'endpaper' ? paperOf(piece.yearFrom) : null;
}

const clothBound: ReadonlySet<string> = new Set(['cloth case', 'half cloth', 'quarter cloth']);

function clothOf(pattern: string | null, colour: string): Matter | null {
  const named = colour.trim().toLowerCase();
  if (pattern === null || named === '') return null;
  return `${named} ${pattern} cloth`;
}

function paperOf(year: number | null): Matter | null {
  if (year === null) return null;
  const from = Math.floor(year / 25) * 25;
  return `paper of ${from} to ${from + 24}`;
}

function amount(matter: Matter, quantity: number): Amount {
  return { materialId: matter, quantity: Math.round(quantity * 10) / 10 };
}
