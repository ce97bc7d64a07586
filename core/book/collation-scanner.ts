import type { Alphabet, LeafNumbers, Signature } from './collation-notation.ts';

/** The smallest pieces of a formula, taken from where the cursor stands: signatures, figures, signs. */

export type Fault = Readonly<{ fault: string; at: number }>;

export type Cursor = { readonly text: string; readonly alphabet: Alphabet; at: number };

/** More of anything than this is a slip of the pen. */
export const most = { characters: 4000, parts: 400, leaves: 72, times: 30, gatherings: 700 } as const;

/** Signs that printers put where letters had run out. */
const symbols = '*†‡§¶‖☞&%)!?¢';
export function takeSignature(cursor: Cursor): Signature | Fault {
  const started = cursor.at;
  const inParentheses = takeSign(cursor, '(');
  let prefix = '';
  const series = takeRaised(cursor);
  if (series !== undefined) {
    if (!(series >= 2 && series <= most.times))
      return expected(cursor, 'a raised 2 or more for a repeated series', started);
    prefix = String(series);
  }
  let mark = takeMark(cursor);
  if (mark !== undefined && /^\d{0,2}(?!chi|pi)[A-Za-z]/.test(cursor.text.slice(cursor.at, cursor.at + 5))) {
    prefix += mark;
    mark = undefined;
  }
  let times = 1;
  if (mark === undefined) {
    const figures = /^\d{1,3}/.exec(cursor.text.slice(cursor.at, cursor.at + 3))?.[0];
    if (figures !== undefined) {
      times = Number(figures);
      if (!(times >= 2 && times <= most.times))
        return expected(cursor, `2 to ${most.times} before a doubled or trebled letter`);
      cursor.at += figures.length;
    }
    mark = takeMark(cursor);
  }
  let base = mark;
  if (base === undefined) {
    base = peek(cursor);
    if (base === undefined || !/^[A-Za-z]$/.test(base)) return expected(cursor, 'a signature, such as A, 2B, π or ¶');
    cursor.at++;
    let spelled = 1;
    while (peek(cursor)?.toLowerCase() === base.toLowerCase() && /[A-Za-z]/.test(peek(cursor) ?? '')) {
      cursor.at++;
      spelled++;
    }
    if (spelled > 1 && times > 1) return expected(cursor, 'either 2A or Aa, not both', started);
    if (spelled > most.times) return expected(cursor, `a letter at most ${most.times} times`, started);
    times = Math.max(times, spelled);
  }
  if (inParentheses && !takeSign(cursor, ')')) return expected(cursor, 'a closing parenthesis');
  return { prefix, times, base, inferred: false, style: inParentheses ? 'in parentheses' : 'plain' };
}

/** π, χ (also spelled pi, chi) or a printer's sign. */
function takeMark(cursor: Cursor): string | undefined {
  const { text, at } = cursor;
  for (const [word, mark] of [
    ['chi', 'χ'],
    ['pi', 'π'],
  ] as const) {
    if (text.startsWith(word, at)) {
      cursor.at += word.length;
      return mark;
    }
  }
  const sign = peek(cursor);
  if (sign === undefined) return undefined;
  if (sign === 'π' || sign === 'χ' || (symbols.includes(sign) && sign !== ')')) {
    cursor.at += sign.length;
    return sign;
  }
  return undefined;
}

/** `3`, `3.6`, `3,6`, `3-6`; undefined when the figure belongs to a signature such as 2A. */
export function takeNumberList(cursor: Cursor): LeafNumbers | undefined | Fault {
  const ahead = cursor.text.slice(cursor.at, cursor.at + 300);
  const list = /^\d+(?:[.,]\d+(?![\p{L}\d*†‡§¶]))*/u.exec(ahead)?.[0];
  if (list === undefined || /^\d+[\p{L}*†‡§¶]/u.test(ahead)) return undefined;
  const started = cursor.at;
  cursor.at += list.length;
  const through = /^[-–](\d{1,2})(?![\p{L}\d])/u.exec(cursor.text.slice(cursor.at, cursor.at + 4));
  if (through && /^\d{1,2}$/.test(list)) {
    const from = Number(list);
    const to = Number(through[1]);
    cursor.at += through[0].length;
    if (from < 1 || to <= from) return expected(cursor, 'leaves by number, each after the one before', started);
    return { numbers: Array.from({ length: to - from + 1 }, (_, place) => from + place), joined: ',' };
  }
  return leafNumbers(list) ?? expected(cursor, 'leaves by number, each after the one before', started);
}

export function leafNumbers(list: string): LeafNumbers | undefined {
  const numbers = list.split(/[.,]/).map(Number);
  const rising = numbers.every((number, place) => number > (numbers[place - 1] ?? 0) && number <= most.leaves);
  if (list === '' || !rising) return undefined;
  return { numbers, joined: numbers.length > 1 && !list.includes(',') ? '.' : ',' };
}

export function takeQuoted(cursor: Cursor): string | Fault {
  const opened = cursor.at;
  cursor.at++;
  const rest = cursor.text.slice(cursor.at, cursor.at + 40);
  const length = rest.search(/["“”]/);
  if (length < 1)
    return expected(
      cursor,
      'a closing quotation mark',
      length === 0 ? opened : Math.min(cursor.text.length, cursor.at + rest.length),
    );
  cursor.at += length + 1;
  return rest.slice(0, length);
}

/** Figures on the line or raised; undefined when there are none. */
export function takeFigure(cursor: Cursor): Readonly<{ value: number; raised: boolean; at: number }> | undefined {
  const at = cursor.at;
  const raised = takeRaised(cursor);
  if (raised !== undefined) return { value: raised, raised: true, at };
  const figures = /^\d+/.exec(cursor.text.slice(cursor.at, cursor.at + 6))?.[0];
  if (figures === undefined) return undefined;
  cursor.at += figures.length;
  return { value: Number(figures), raised: false, at };
}

/** Superscript figures, or figures after a caret. */
export function takeRaised(cursor: Cursor): number | undefined {
  const found = /^(?:\^\d{1,5}|[⁰¹²³⁴-⁹]{1,5})/.exec(cursor.text.slice(cursor.at, cursor.at + 6))?.[0];
  if (found === undefined) return undefined;
  cursor.at += found.length;
  return figureOf(found.replace('^', ''));
}

export function figureOf(text: string): number {
  return Number([...text].map((sign) => ('⁰¹²³⁴⁵⁶⁷⁸⁹'.includes(sign) ? '⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(sign) : sign)).join(''));
}

export function takeDash(cursor: Cursor): boolean {
  const dash = /^\s?[-–—−]\s?/.exec(cursor.text.slice(cursor.at, cursor.at + 3));
  if (dash) cursor.at += dash[0].length;
  return dash !== null;
}

export function takeOperator(cursor: Cursor, sign: string): boolean {
  const before = cursor.at;
  skipSpaces(cursor);
  if (takeSign(cursor, sign)) return true;
  cursor.at = before;
  return false;
}

export function takeSign(cursor: Cursor, sign: string): boolean {
  if (!cursor.text.startsWith(sign, cursor.at)) return false;
  cursor.at += sign.length;
  return true;
}

export function peek(cursor: Cursor): string | undefined {
  return cursor.text[cursor.at];
}

export function isQuote(sign: string | undefined): boolean {
  return sign === '"' || sign === '“' || sign === '”';
}

export function skipSpaces(cursor: Cursor): void {
  while (/\s/.test(peek(cursor) ?? '')) cursor.at++;
}

export function skipBetween(cursor: Cursor): void {
  while (/[\s,;]/.test(peek(cursor) ?? '')) cursor.at++;
}

export function isFault(value: unknown): value is Fault {
  return typeof value === 'object' && value !== null && 'fault' in value;
}

export function expected(cursor: Cursor, what: string, at = cursor.at): Fault {
  return { fault: what, at };
}
