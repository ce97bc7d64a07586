import {
  type Alphabet,
  type Change,
  type Collation,
  type Insertion,
  type LeafReference,
  type Part,
  placeInSeries,
  type Signature,
} from './collation-notation.ts';
import {
  type Cursor,
  expected,
  type Fault,
  figureOf,
  isFault,
  isQuote,
  leafNumbers,
  most,
  peek,
  skipBetween,
  skipSpaces,
  takeDash,
  takeFigure,
  takeNumberList,
  takeOperator,
  takeQuoted,
  takeRaised,
  takeSign,
  takeSignature,
} from './collation-scanner.ts';
import { readFormat } from './format-names.ts';
import type { Fold } from './formats.ts';

/** A formula read from left to right with one cursor; the first thing that is not as expected ends it, with its place. */

export function parseFormula(text: string, alphabet: Alphabet): Collation | Fault {
  if (text.length > most.characters)
    return { fault: `a formula under ${most.characters} characters`, at: most.characters };
  const cursor: Cursor = { text, alphabet, at: 0 };
  const fold = takeFold(cursor);
  if (isFault(fold)) return fold;
  const parts: Part[] = [];
  let signing: string | undefined;
  for (;;) {
    skipBetween(cursor);
    if (cursor.at >= text.length) break;
    if (text.startsWith('[$', cursor.at)) {
      const end = text.indexOf(']', cursor.at);
      if (end < 0) return expected(cursor, 'a closing bracket after the statement of signing', text.length);
      signing = text.slice(cursor.at + 1, end).trim();
      cursor.at = end + 1;
      skipBetween(cursor);
      if (cursor.at < text.length && !/^[.;]$/.test(text.slice(cursor.at).trim()))
        return expected(cursor, 'the end after the statement of signing');
      break;
    }
    const part = takePart(cursor);
    if (isFault(part)) return part;
    parts.push(part);
    if (parts.length > most.parts) return expected(cursor, `at most ${most.parts} parts`);
  }
  if (parts.length === 0) return expected(cursor, 'a signature, such as A or π');
  return { fold, parts, signing, alphabet };
}

function takeFold(cursor: Cursor): Fold | undefined | Fault {
  const colon = cursor.text.indexOf(':');
  if (colon < 0) return undefined;
  const format = readFormat(cursor.text.slice(0, colon));
  if (!format.ok) return expected(cursor, 'a format such as 8° or F° before the colon', 0);
  cursor.at = colon + 1;
  return format.value.fold;
}

function takePart(cursor: Cursor): Part | Fault {
  const made = isQuote(peek(cursor)) ? takeQuotedPart(cursor) : takePlainPart(cursor);
  if (isFault(made)) return made;
  const changes: Change[] = [];
  while (changesFollow(cursor)) {
    skipSpaces(cursor);
    const more = takeChanges(cursor);
    if (isFault(more)) return more;
    changes.push(...more);
  }
  const printedAs = takePrintedAs(cursor);
  if (isFault(printedAs)) return printedAs;
  return { ...made, changes, printedAs };
}

type BarePart = Omit<Part, 'changes' | 'printedAs'>;

function takeQuotedPart(cursor: Cursor): BarePart | Fault {
  const opened = cursor.at;
  const inner = takeQuoted(cursor);
  if (isFault(inner)) return inner;
  const raised = /^(.*?[^\d\s⁰¹²³⁴-⁹/^])\^?([⁰¹²³⁴-⁹]+|\d+)$/u.exec(inner);
  const list = /^(.*?[^\d\s.,])(\d+(?:[.,]\d+)+)$/u.exec(inner);
  const base = (list ?? raised)?.[1];
  if (base === undefined || base.length > 12)
    return expected(cursor, 'a signature and its leaves in the quotation marks', opened);
  const signature: Signature = { prefix: '', times: 1, base, inferred: false, style: 'quoted' };
  if (list) {
    const numbers = leafNumbers(list[2] ?? '');
    return numbers === undefined
      ? expected(cursor, 'leaves by number, each after the one before', opened)
      : { from: signature, to: signature, made: { kind: 'leaves', ...numbers } };
  }
  const size = figureOf(raised?.[2] ?? '');
  if (!(size >= 1 && size <= most.leaves))
    return expected(cursor, `a number of leaves from 1 to ${most.leaves}`, opened);
  // A figure that follows without being raised could only name one leaf; as in Folger's statements it is the size of the gathering.
  return { from: signature, to: signature, made: { kind: 'gatherings', sizes: [size] } };
}

function takePlainPart(cursor: Cursor): BarePart | Fault {
  const bracket = peek(cursor) === '[';
  const started = cursor.at;
  if (bracket) cursor.at++;
  const first = takeSignature(cursor);
  if (isFault(first)) return first;
  let from: Signature = { ...first, inferred: bracket };
  let closed = !bracket;
  if (bracket && peek(cursor) === ']') {
    cursor.at++;
    closed = true;
  }
  let to = from;
  const rangeAt = cursor.at;
  if (takeDash(cursor)) {
    const again = closed && peek(cursor) === '[';
    if (again) cursor.at++;
    const last = takeSignature(cursor);
    if (isFault(last)) return last;
    if (again && !takeSign(cursor, ']')) return expected(cursor, 'a closing bracket');
    to = { ...last, inferred: again || (bracket && !closed) };
    const wrong = unsoundRange(cursor, from, to);
    if (wrong !== undefined) return expected(cursor, wrong, rangeAt);
  }
  if (!closed && !takeSign(cursor, ']')) return expected(cursor, 'a closing bracket');
  // A range inferred as a whole is inferred at both ends.
  if (from.inferred !== to.inferred) {
    from = { ...from, inferred: true };
    to = { ...to, inferred: true };
  }
  const made = takeMade(cursor, from);
  if (isFault(made)) return made;
  if (made.kind === 'leaves' && to !== from)
    return expected(cursor, 'a number of leaves for a range of gatherings', started);
  return { from, to, made };
}

/** What is wrong with a range, as what was expected instead. */
function unsoundRange(cursor: Cursor, from: Signature, to: Signature): string | undefined {
  const letters = /^[a-z]$/i;
  const alike = letters.test(from.base)
    ? letters.test(to.base) && (from.base === from.base.toLowerCase()) === (to.base === to.base.toLowerCase())
    : from.base === to.base;
  if (!alike || from.prefix !== to.prefix || from.style !== to.style)
    return 'a range within one series, such as A–K or a–k';
  const first = placeInSeries(from, cursor.alphabet);
  const last = placeInSeries(to, cursor.alphabet);
  if (first === undefined || last === undefined) return 'no W at the ends of a range of 23 letters';
  if (last <= first) return 'a range that goes forwards';
  return last - first >= most.gatherings ? `fewer than ${most.gatherings} gatherings in a range` : undefined;
}

function takeMade(cursor: Cursor, signature: Signature): Part['made'] | Fault {
  const unsigned = signature.base === 'π' || signature.base === 'χ';
  const onLine = /^\d+(?:[.,]\d+)+(?![\p{L}\d*†‡§¶])/u.exec(cursor.text.slice(cursor.at, cursor.at + 200));
  if (unsigned && onLine) {
    const numbers = leafNumbers(onLine[0]);
    if (numbers === undefined) return expected(cursor, 'leaves by number, each after the one before');
    cursor.at += onLine[0].length;
    return { kind: 'leaves', ...numbers };
  }
  const inEights = /^\s+in\s+(\d{1,2})['’]?s(?![\p{L}\d])/u.exec(cursor.text.slice(cursor.at, cursor.at + 40));
  if (inEights) {
    const size = Number(inEights[1]);
    if (!(size >= 1 && size <= most.leaves)) return expected(cursor, `a number of leaves from 1 to ${most.leaves}`);
    cursor.at += inEights[0].length;
    return { kind: 'gatherings', sizes: [size] };
  }
  const sizes: number[] = [];
  do {
    const size = takeFigure(cursor);
    if (size === undefined)
      return expected(
        cursor,
        `the number of leaves after ${cursor.text.slice(Math.max(0, cursor.at - 12), cursor.at).trim()}`,
      );
    if (!(size.value >= 1 && size.value <= most.leaves))
      return expected(cursor, `a number of leaves from 1 to ${most.leaves}`, size.at);
    sizes.push(size.value);
    if (sizes.length > 12) return expected(cursor, 'at most twelve numbers in turn');
    if (!size.raised && /[\p{L}]/u.test(peek(cursor) ?? ''))
      return expected(cursor, 'a space before the next signature');
  } while (takeSign(cursor, '/'));
  return { kind: 'gatherings', sizes };
}

function changesFollow(cursor: Cursor): boolean {
  const open = /^\s*\(/.exec(cursor.text.slice(cursor.at, cursor.at + 20));
  if (!open) return false;
  const from = cursor.at + open[0].length;
  const close = cursor.text.indexOf(')', from);
  return /[+±−–-]|blank/i.test(cursor.text.slice(from, close < 0 ? cursor.text.length : close)) || open[0] === '(';
}

function takeChanges(cursor: Cursor): readonly Change[] | Fault {
  cursor.at++;
  const changes: Change[] = [];
  for (;;) {
    skipBetween(cursor);
    if (takeSign(cursor, ')')) break;
    if (cursor.at >= cursor.text.length) return expected(cursor, 'a closing parenthesis');
    const change = takeChange(cursor);
    if (isFault(change)) return change;
    changes.push(...change);
    if (changes.length > most.leaves) return expected(cursor, 'fewer changes to one gathering');
  }
  return changes.length === 0 ? expected(cursor, 'a change such as −A3, ±A3 or A1+1', cursor.at - 1) : changes;
}

function takeChange(cursor: Cursor): readonly Change[] | Fault {
  if (takeSign(cursor, '±')) {
    const leaves = takeReference(cursor);
    return isFault(leaves) ? leaves : [{ kind: 'cancelled', leaves }];
  }
  if (takeDash(cursor)) {
    const leaves = takeReference(cursor);
    if (isFault(leaves)) return leaves;
    if (!takeOperator(cursor, '+'))
      return takeBlank(cursor)
        ? [
            { kind: 'removed', leaves },
            { kind: 'blank', leaves },
          ]
        : [{ kind: 'removed', leaves }];
    const by = takeInsertion(cursor);
    return isFault(by) ? by : [{ kind: 'replaced', leaves, by }];
  }
  if (takeSign(cursor, '+')) {
    const what = takeInsertion(cursor);
    return isFault(what) ? what : [{ kind: 'inserted', after: undefined, what }];
  }
  const at = takeReference(cursor);
  if (isFault(at)) return at;
  if (takeOperator(cursor, '±')) {
    const by = takeInsertion(cursor);
    return isFault(by) ? by : [{ kind: 'replaced', leaves: at, by }];
  }
  if (takeBlank(cursor)) return [{ kind: 'blank', leaves: at }];
  if (!takeOperator(cursor, '+')) return expected(cursor, '+ or ± after the leaf');
  const what = takeInsertion(cursor);
  return isFault(what) ? what : [{ kind: 'inserted', after: at, what }];
}

/** `A8 blank`, `−A8, blank?` */
function takeBlank(cursor: Cursor): boolean {
  const word = /^[\s,]*blank(s|\?)?(?![\p{L}])/iu.exec(cursor.text.slice(cursor.at, cursor.at + 12));
  if (word) cursor.at += word[0].length;
  return word !== null;
}

function takeInsertion(cursor: Cursor): Insertion | Fault {
  skipSpaces(cursor);
  const started = cursor.at;
  if (isQuote(peek(cursor))) {
    const leaves = takeReference(cursor);
    return isFault(leaves) ? leaves : { kind: 'leaves', ...leaves };
  }
  const bare = takeNumberList(cursor);
  if (isFault(bare)) return bare;
  if (bare !== undefined) {
    const counted = bare.numbers.every((number, place) => number === place + 1);
    return counted
      ? { kind: 'leaves', signature: undefined, ...bare }
      : expected(cursor, 'unsigned leaves numbered from 1, such as +1 or +1.2', started);
  }
  const signature = takeSignature(cursor);
  if (isFault(signature)) return signature;
  const raisedAt = cursor.at;
  const size = takeRaised(cursor);
  if (size !== undefined) {
    return size >= 1 && size <= most.leaves
      ? { kind: 'gathering', signature, size }
      : expected(cursor, `a number of leaves from 1 to ${most.leaves}`, raisedAt);
  }
  const leaves = takeNumberList(cursor);
  if (isFault(leaves)) return leaves;
  return leaves === undefined ? expected(cursor, 'the leaves put in') : { kind: 'leaves', signature, ...leaves };
}

function takeReference(cursor: Cursor): LeafReference | Fault {
  skipSpaces(cursor);
  if (isQuote(peek(cursor))) {
    const opened = cursor.at;
    const inner = takeQuoted(cursor);
    if (isFault(inner)) return inner;
    const parts = /^(.*?[^\d\s.,])(\d+(?:[.,]\d+)*)$/u.exec(inner);
    const numbers = leafNumbers(parts?.[2] ?? '');
    const base = parts?.[1];
    if (base === undefined || base.length > 12 || numbers === undefined)
      return expected(cursor, 'a leaf such as “gg3”', opened);
    return { signature: { prefix: '', times: 1, base, inferred: false, style: 'quoted' }, ...numbers };
  }
  const bare = takeNumberList(cursor);
  if (isFault(bare)) return bare;
  if (bare !== undefined) return { signature: undefined, ...bare };
  const bracket = takeSign(cursor, '[');
  const signature = takeSignature(cursor);
  if (isFault(signature)) return signature;
  if (bracket && !takeSign(cursor, ']')) return expected(cursor, 'a closing bracket');
  const numbers = takeNumberList(cursor);
  if (isFault(numbers)) return numbers;
  return numbers === undefined ? expected(cursor, 'the number of a leaf') : { signature, ...numbers };
}

function takePrintedAs(cursor: Cursor): string | undefined | Fault {
  if (!cursor.text.startsWith('[=', cursor.at)) return undefined;
  const end = cursor.text.indexOf(']', cursor.at);
  if (end < 0) return expected(cursor, 'a closing bracket', cursor.text.length);
  const words = cursor.text.slice(cursor.at + 2, end).trim();
  if (words === '' || words.includes('[')) return expected(cursor, 'the leaf it was printed as', cursor.at + 2);
  cursor.at = end + 1;
  return words;
}
