import { ok, type Result, refuse } from '../result.ts';
import { quoted } from '../units/numbers.ts';

/** Plates and parts: what a copy lacks besides its gatherings. */

export type PlateCheck = Readonly<{
  missing: readonly string[];
  doubled: readonly string[];
  unlisted: readonly string[];
}>;

/**
 * Compares the plates a list calls for with those a copy has, each written as `frontispiece, 1-12, 14, map`. Numbers may be Arabic or Roman
 * as printed; words are compared without regard to capitals. Refuses ranges that go backwards or past 999.
 */
export function checkPlates(called: string, found: string): Result<PlateCheck> {
  const wanted = readPlates(called);
  if (!wanted.ok) return wanted;
  const there = readPlates(found);
  if (!there.ok) return there;
  const count = (list: readonly string[], plate: string) => list.filter((one) => one === plate).length;
  const each = [...new Set(wanted.value)];
  return ok({
    missing: each.filter((plate) => count(there.value, plate) < count(wanted.value, plate)),
    doubled: each.filter((plate) => count(there.value, plate) > count(wanted.value, plate)),
    unlisted: [...new Set(there.value)].filter((plate) => !wanted.value.includes(plate)),
  });
}

function readPlates(text: string): Result<readonly string[]> {
  const plates: string[] = [];
  for (const entry of text.toLowerCase().split(/[,;]|\band\b/)) {
    const name = entry
      .replace(/\b(plates?|pls?|nos?)\b\.?/g, ' ')
      .replace(/\s+/g, ' ')
      .trim();
    if (name === '') continue;
    const range = /^(\d{1,3}) ?[-–] ?(\d{1,3})$/.exec(name);
    if (!range) {
      plates.push(/^front(is)?\.?$/.test(name) ? 'frontispiece' : name);
      continue;
    }
    const from = Number(range[1]);
    const to = Number(range[2]);
    if (to < from) return refuse(`${quoted(entry)} goes backwards.`, 'plates');
    for (let plate = from; plate <= to; plate++) plates.push(String(plate));
  }
  return ok(plates);
}

/**
 * Numbers a book was issued in, from its pages: so many pages to a number, the last as many as are left. Thirty-two pages and two plates to a
 * monthly number were usual for novels; common practice, no source.
 */
export function partsIssued(
  pages: number,
  pagesPerNumber = 32,
  platesPerNumber = 2,
): Result<Readonly<{ numbers: number; lastPages: number; plates: number }>> {
  if (!(Number.isInteger(pages) && pages > 0)) return refuse('A book needs a whole number of pages.', 'pages');
  if (!(Number.isInteger(pagesPerNumber) && pagesPerNumber >= 4 && pagesPerNumber % 2 === 0)) {
    return refuse('A number has an even count of pages, four at least.', 'number');
  }
  if (!(Number.isInteger(platesPerNumber) && platesPerNumber >= 0))
    return refuse('A number has no plates or some.', 'plates');
  const numbers = Math.ceil(pages / pagesPerNumber);
  return ok({ numbers, lastPages: pages - (numbers - 1) * pagesPerNumber, plates: numbers * platesPerNumber });
}
