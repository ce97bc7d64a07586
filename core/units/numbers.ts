import { ok, type Result, refuse } from '../result.ts';

/**
 * Numbers as people write them in a book list: `22.5`, `22,5`, `9 1/8`, `9⅛`, `1/16`, `1,234.5`.
 *
 * A single comma before exactly three figures (`1,250`) could be a thousand or a decimal; it is refused rather than guessed, unless the
 * number begins with a nought (`0,125`).
 */
export function readNumber(text: string): Result<number> {
  const shown = quoted(text);
  const plain = plainFractions(text).trim();
  if (plain === '') return refuse('Nothing was written where a number was expected.');
  if (plain.length > 40) return refuse(`${shown} is too long to be a number.`);

  const sign = /^[-−]/.test(plain) ? -1 : 1;
  const unsigned = plain.replace(/^[-−+]\s*/, '');
  const mixed = /^(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*\/\s*(\d+)$/.exec(unsigned);
  if (mixed) {
    const below = Number(mixed[3]);
    if (below === 0) return refuse(`${shown} divides by nought.`);
    return finite(sign * (Number(mixed[1] ?? 0) + Number(mixed[2]) / below), shown);
  }
  const decimal = decimalPoint(unsigned);
  if (decimal === 'either') {
    return refuse(`${shown} could be a thousand or a decimal. Write it without the comma, or with a point.`);
  }
  return decimal === undefined ? refuse(`${shown} is not a number.`) : finite(sign * Number(decimal), shown);
}

/** A person's text for use inside a sentence: shortened, in quotation marks. */
export function quoted(text: string): string {
  const tidy = text.replace(/\s+/g, ' ').trim();
  return `“${tidy.length > 48 ? `${tidy.slice(0, 47)}…` : tidy}”`;
}

/** Replaces vulgar-fraction characters by figures: `9⅛` becomes `9 1/8`. */
export function plainFractions(text: string): string {
  return text
    .replace(/(\d?)\s*([¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])/g, (_, whole: string, sign: string) => `${whole} ${vulgar[sign]}`)
    .replaceAll('⁄', '/');
}

const vulgar: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅐': '1/7',
  '⅑': '1/9',
  '⅒': '1/10',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** The same figures with a decimal point and no separators; `either` when a thousand and a decimal look alike. */
function decimalPoint(figures: string): string | 'either' | undefined {
  const tight = figures.replace(/(?<=\d)[\s\u00a0\u202f'’](?=\d{3}(?!\d))/g, '');
  if (/^(\d+(\.\d+)?|\.\d+)$/.test(tight)) return tight;
  if (/^\d{1,3}(,\d{3})+\.\d+$/.test(tight) || /^\d{1,3}(,\d{3}){2,}$/.test(tight)) return tight.replaceAll(',', '');
  if (/^\d{1,3}(\.\d{3})+,\d+$/.test(tight) || /^\d{1,3}(\.\d{3}){2,}$/.test(tight)) {
    return tight.replaceAll('.', '').replace(',', '.');
  }
  if (/^[1-9]\d{0,2},\d{3}$/.test(tight)) return 'either';
  if (/^(\d+)?,\d+$/.test(tight)) return tight.replace(',', '.');
  return undefined;
}

function finite(value: number, shown: string): Result<number> {
  return Number.isFinite(value) && Math.abs(value) < 1e15 ? ok(value) : refuse(`${shown} is too large a number.`);
}
