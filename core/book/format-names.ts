import { ok, type Result, refuse } from '../result.ts';
import { quoted } from '../units/numbers.ts';
import type { Fold, Format, SheetName } from './formats.ts';

/**
 * Reads a format as book lists write it: `8vo`, `Cr. 8vo`, `demy octavo`, `8°`, `in-12`, `sm. 4to`, `gr. in-8 raisin`. Words of size that
 * name no sheet (small, large, thick) are passed over; `oblong` is kept. Refuses what names no fold, and words it does not know, so that
 * nothing is half read.
 */
export function readFormat(text: string): Result<Format> {
  const shown = quoted(text);
  if (text.length > 80) return refuse(`${shown} is too long to be a format.`, 'format');
  let rest = ` ${text.toLowerCase().normalize('NFC').replace(/[’‘`]/g, "'").replace(/\s+/g, ' ').trim()} `;
  if (rest.trim() === '') return refuse('No format was written.', 'format');

  let fold: Fold | undefined;
  for (const [name, words] of foldWords) {
    const without = rest.replace(words, ' ');
    if (without === rest) continue;
    fold = name;
    rest = without;
    break;
  }
  if (fold === undefined) return refuse(`${shown} names no fold such as folio, 4to, 8vo or 12mo.`, 'format');

  const oblong = /\b(oblong|obl|landscape)\b/.test(rest);
  let sheet: SheetName | undefined;
  for (const [name, words] of sheetWords) {
    const without = rest.replace(words, ' ');
    if (without === rest) continue;
    sheet = name;
    rest = without;
    break;
  }
  const unknown = rest
    .replace(passedOver, ' ')
    .replace(/[\s.,;()[\]-]+/g, ' ')
    .trim();
  if (unknown !== '') return refuse(`${shown}: ${quoted(unknown)} is no sheet or fold known here.`, 'format');
  return ok({ fold, oblong, ...(sheet === undefined ? {} : { sheet }) });
}

/** `crown 8vo`, `oblong 4to`, `folio`: what `readFormat` reads back. */
export function formatName({ fold, sheet, oblong }: Format): string {
  return [oblong ? 'oblong' : '', sheet ?? '', fold].filter((word) => word !== '').join(' ');
}

/** `in-8°`, `8vo`, `8°`, `8o`, `in 8`: a number is a fold only with one of these about it. */
function numbered(leaves: number, latin: string): RegExp {
  const written = `(?:in ?-? ?)?${leaves} ?-?(?:mo|vo|to|°|º|ᵒ|⁰|o)(?![a-z0-9])|in ?-? ?${leaves}(?![0-9])`;
  return new RegExp(`(?<![a-z0-9])(?:${written}|${latin})(?![a-z0-9])\\.?`);
}

const foldWords: readonly (readonly [Fold, RegExp])[] = [
  ['64mo', numbered(64, 'sexagesimo-?quarto|sixty-?fourmo')],
  ['48mo', numbered(48, 'quadragesimo-?octavo|forty-?eightmo')],
  ['36mo', numbered(36, 'tr[ei][cg]esimo-?sexto|thirty-?sixmo')],
  ['32mo', numbered(32, 'tr[ei][cg]esimo-?secundo|thirty-?twomo')],
  ['24mo', numbered(24, 'vi[cg]esimo-?quarto|twenty-?fourmo')],
  ['18mo', numbered(18, 'octodecimo|eighteenmo|decimo-?octavo')],
  ['16mo', numbered(16, 'sexto-?decimo|sixteenmo|sedecimo')],
  ['12mo', numbered(12, 'duodecimo|duodez|twelvemo')],
  ['8vo', numbered(8, 'octavo|oktav|oct')],
  ['6to', numbered(6, '6mo|sexto|sixmo')],
  ['4to', numbered(4, 'quarto|quart|qto')],
  ['folio', numbered(2, '(?:in ?-? ?)?fol(?:io)?|fo|f[°º]')],
  ['broadside', numbered(1, 'broadside|broadsheet|(?:in ?-? ?)?plano')],
];

function word(pattern: string): RegExp {
  return new RegExp(`(?<![\\p{L}0-9])(?:${pattern})(?![\\p{L}0-9])\\.?`, 'u');
}

const double = '(?:double|dble?|d)\\.? ?';
const foolscap = "(?:foolscap|f[.']?s?cap|f[.']?s?cp|fcp|fscap|f'p|fp)";
const sheetWords: readonly (readonly [SheetName, RegExp])[] = [
  ['double foolscap', word(`${double}${foolscap}`)],
  ['double crown', word(`${double}(?:crown|cr|crn)`)],
  ['double pott', word(`${double}pott?`)],
  ['double post', word(`${double}post`)],
  ['double demy', word(`${double}(?:demy|dem|dy)`)],
  ['double royal', word(`${double}(?:royal|roy)`)],
  ['double couronne', word(`${double}couronne`)],
  ['quad crown', word('quad\\.? ?(?:crown|cr)')],
  ['quad demy', word('quad\\.? ?(?:demy|dem|dy)')],
  ['super royal', word('(?:super|sup)\\.?[ -]?(?:royal|roy)')],
  ['grand jésus', word('(?:grand|gr|gd)\\.? j[ée]sus')],
  ['petit jésus', word('(?:petit|pt)\\.? j[ée]sus')],
  ['grand aigle', word('(?:grand|gr|gd)\\.? aigle')],
  ['foolscap', word(foolscap)],
  ['crown', word('crown|cr|crn')],
  ['pott', word('pott?')],
  ['post', word('post')],
  ['demy', word('demy|dem|dy')],
  ['medium', word('medium|med')],
  ['royal', word('royal|roy|ryl')],
  ['imperial', word('imperial|imp')],
  ['tellière', word('telli[èe]re')],
  ['couronne', word('couronne')],
  ['écu', word('[ée]cu')],
  ['coquille', word('coquille')],
  ['carré', word('carr[ée]')],
  ['cavalier', word('cavalier')],
  ['raisin', word('raisin')],
  ['jésus', word('j[ée]sus')],
  ['soleil', word('soleil')],
  ['colombier', word('colombier')],
  ['kanzlei', word('kanzlei')],
];

const passedOver =
  /(?<![\p{L}0-9])(?:small|sm|large|lge?|lrg|thick|thk|thin|tall|slim|square|sq|narrow|oblong|obl|landscape|petit|pet|pt|grand|gr|gd|size|format|in|the)(?![\p{L}0-9])\.?/gu;
