/** Made-up case lists: what a week of cases, linings and endpapers needs, out of a few kinds of sheet and some offcuts. */
import type { CutProblem } from '../../core/cutting/plan.ts';
import type { Stock, Wanted } from '../../core/cutting/stock.ts';
import { type Chance, chanceFrom } from '../../core/schedule/random.ts';

/** Sheet sizes of the trade (Bailey 1916 and common practice), by falling cost. */
const sheets = [
  [1000, 700, 640],
  [760, 510, 390],
  [1020, 770, 720],
  [640, 450, 300],
  [500, 350, 190],
] as const;

/** A list of that many pieces over so many kinds of stock, two of five of them offcuts. The same for the same seed. */
export function madeList(seed: number, pieces: number, kinds: number): CutProblem {
  const chance = chanceFrom(seed);
  const stock = Array.from({ length: kinds }, (_, k): Stock => {
    const [heightMm, widthMm, costMinor] = sheets[k % sheets.length]!;
    const offcut = k % 5 === 2 || k % 5 === 4;
    return {
      id: `s${k}`,
      name: offcut ? `offcut ${k}` : `sheet ${k}`,
      heightMm: offcut ? between(chance, 200, 500) : heightMm,
      widthMm: offcut ? between(chance, 120, 400) : widthMm,
      grain: chance() < 0.8 ? 'height' : 'width',
      count: offcut ? 2 : 60,
      costMinor: offcut ? 0 : costMinor,
      offcut,
      trimMm: 0,
    };
  });
  const wanted = Array.from({ length: pieces }, (_, k) => pieceOf(chance, k));
  return {
    wanted,
    stock: stock.toSorted((a, b) => Number(b.offcut) - Number(a.offcut)),
    settings: { kerfMm: 0, usefulMm: 60, mostTurns: null },
  };
}

function pieceOf(chance: Chance, k: number): Wanted {
  const bookHeight = between(chance, 150, 290);
  const bookWidth = between(chance, 95, 210);
  const back = between(chance, 15, 60);
  const shape = Math.floor(chance() * 5);
  const [heightMm, widthMm] =
    shape === 0
      ? [bookHeight + 38, back + 70]
      : shape === 1
        ? [bookHeight + 6, bookWidth]
        : shape === 2
          ? [bookHeight, 3 * back]
          : shape === 3
            ? [bookHeight, 2 * bookWidth]
            : [bookHeight + 6, back];
  return {
    id: `p${k}`,
    name: `piece ${k + 1}`,
    heightMm,
    widthMm,
    grain: chance() < 0.9 ? 'along height' : 'any',
    count: 1,
  };
}

/** To half a millimetre. */
function between(chance: Chance, low: number, high: number): number {
  return Math.round((low + chance() * (high - low)) * 2) / 2;
}

/** Cost of shelf by height, first fit, for comparison; null where something is left over. */
export function shelfByHeight({ wanted, stock, settings }: CutProblem): number | null {
  const waiting = stock.flatMap((one) => Array.from({ length: one.count }, () => one));
  type Open = { stock: Stock; below: number; shelves: { high: number; free: number }[] };
  const open: Open[] = [];
  const items = wanted.flatMap((one) => Array.from({ length: one.count }, () => one));
  items.sort((a, b) => b.heightMm - a.heightMm || b.widthMm - a.widthMm);
  const begin = (one: Stock): Open => ({ stock: one, below: one.heightMm - 2 * one.trimMm, shelves: [] });
  for (const item of items) {
    function put(on: Open): boolean {
      const turned = on.stock.grain === 'width' && item.grain === 'along height';
      const [high, wide] = turned ? [item.widthMm, item.heightMm] : [item.heightMm, item.widthMm];
      const shelf = on.shelves.find((one) => high <= one.high && wide <= one.free);
      if (shelf) {
        shelf.free -= wide + settings.kerfMm;
        return true;
      }
      const across = on.stock.widthMm - 2 * on.stock.trimMm;
      if (high > on.below || wide > across) return false;
      on.shelves.push({ high, free: across - wide - settings.kerfMm });
      on.below -= high + settings.kerfMm;
      return true;
    }
    if (open.some(put)) continue;
    const at = waiting.findIndex((one) => put(begin(one)));
    if (at < 0) return null;
    const [one] = waiting.splice(at, 1);
    const begun = begin(one!);
    put(begun);
    open.push(begun);
  }
  return open.reduce((sum, { stock: one }) => sum + one.costMinor, 0);
}
