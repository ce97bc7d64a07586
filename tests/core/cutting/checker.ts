/**
 * Follows a cutting plan cut by cut, as a person at the shear would, knowing nothing of how it was made: every cut goes from edge to edge
 * of a part that lies on the table, and what lies there at the end is the pieces, the remnants and waste. Returns what is wrong, in words.
 */

import type { Fill, PatternPiece } from '../../../core/cutting/relaxation.ts';
import type { Cut, CutPlan, CutSettings, CutSheet, Rect, Stock, Wanted } from '../../../core/cutting/stock.ts';

const near = (a: number, b: number) => Math.abs(a - b) < 1e-6;
const same = (a: Rect, b: Rect) =>
  near(a.xMm, b.xMm) && near(a.yMm, b.yMm) && near(a.heightMm, b.heightMm) && near(a.widthMm, b.widthMm);
const area = ({ heightMm, widthMm }: Rect) => heightMm * widthMm;

export function troublesOf(
  plan: CutPlan,
  wanted: readonly Wanted[],
  stock: readonly Stock[],
  settings: CutSettings,
): readonly string[] {
  const troubles: string[] = [];
  let [pieces, remnants, whole] = [0, 0, 0];
  for (const [index, sheet] of plan.sheets.entries()) {
    troubles.push(...followed(sheet, wanted, stock, settings).map((words) => `sheet ${index + 1}: ${words}`));
    pieces += sheet.pieces.reduce((sum, { rect }) => sum + area(rect), 0);
    remnants += sheet.remnants.reduce((sum, rect) => sum + area(rect), 0);
    whole += sheet.heightMm * sheet.widthMm;
  }
  for (const one of stock) {
    const used = plan.sheets.filter((sheet) => sheet.stockId === one.id).length;
    if (used > one.count) troubles.push(`${used} of ${one.name}, and there are ${one.count}`);
  }
  for (const piece of wanted) {
    const cut = plan.sheets.flatMap((sheet) => sheet.pieces).filter((placed) => placed.wantedId === piece.id).length;
    const uncut = plan.uncut.filter((one) => one.wantedId === piece.id).reduce((sum, one) => sum + one.count, 0);
    if (cut + uncut !== piece.count) troubles.push(`${piece.name}: ${cut} cut and ${uncut} not, of ${piece.count}`);
  }
  const { areas } = plan;
  if (Math.abs(areas.stock - whole) > 0.5) troubles.push('the stock’s area is not the sheets’');
  if (Math.abs(areas.pieces - pieces) > 0.5) troubles.push('the pieces’ area is not theirs');
  if (Math.abs(areas.remnants - remnants) > 0.5) troubles.push('the remnants’ area is not theirs');
  if (Math.abs(areas.stock - areas.pieces - areas.remnants - areas.waste) > 0.5) troubles.push('area is lost or won');
  const cost = plan.sheets.reduce((sum, sheet) => sum + stock.find((one) => one.id === sheet.stockId)!.costMinor, 0);
  if (cost !== plan.costMinor) troubles.push('the cost is not the sheets’');
  if (plan.boundMinor > plan.costMinor) troubles.push('the plan costs less than its bound');
  return troubles;
}

function followed(
  sheet: CutSheet,
  wanted: readonly Wanted[],
  stock: readonly Stock[],
  { kerfMm }: CutSettings,
): readonly string[] {
  const troubles: string[] = [];
  const kind = stock.find((one) => one.id === sheet.stockId);
  if (!kind || kind.heightMm !== sheet.heightMm || kind.widthMm !== sheet.widthMm) return ['is of no stock there is'];
  let table: Rect[] = [{ xMm: 0, yMm: 0, heightMm: sheet.heightMm, widthMm: sheet.widthMm }];
  for (const [index, cut] of sheet.cuts.entries()) {
    if (cut.number !== index + 1) troubles.push(`cut ${index + 1} is numbered ${cut.number}`);
    const at = table.findIndex((part) => same(part, cut.part));
    if (at < 0) {
      troubles.push(`cut ${cut.number} goes through a part that does not lie there`);
      continue;
    }
    const halves = halvesOf(cut, cut.trim ? 0 : kerfMm);
    for (const [said, found] of [
      [cut.before, halves[0]],
      [cut.after, halves[1]],
    ] as const) {
      if (said !== null && !same(said, found)) troubles.push(`cut ${cut.number} does not leave what it says`);
      if (said === null && !cut.trim && area(found) > 1e-6 && found.heightMm > 0 && found.widthMm > 0)
        troubles.push(`cut ${cut.number} leaves more than it says`);
    }
    table = [...table.slice(0, at), ...table.slice(at + 1), ...[cut.before, cut.after].filter((part) => part !== null)];
  }
  for (const { name, wantedId, rect, turned } of sheet.pieces) {
    const from = wanted.find((one) => one.id === wantedId)?.from;
    if (from !== undefined && !from.includes(sheet.stockId)) troubles.push(`${name} is cut from what is not for it`);
    const at = table.findIndex((part) => same(part, rect));
    if (at < 0) troubles.push(`${name} is not a part that was cut`);
    else table.splice(at, 1);
    const piece = wanted.find((one) => one.id === wantedId)!;
    const [height, width] = turned ? [piece.widthMm, piece.heightMm] : [piece.heightMm, piece.widthMm];
    if (!near(rect.heightMm, height) || !near(rect.widthMm, width)) troubles.push(`${name} is not of its size`);
    if (piece.grain === 'along height' && turned !== (sheet.grain === 'width'))
      troubles.push(`${name} is cut across the grain`);
  }
  for (const rect of sheet.remnants) {
    const at = table.findIndex((part) => same(part, rect));
    if (at < 0) troubles.push('a remnant is not a part that was cut');
    else table.splice(at, 1);
  }
  return troubles;
}

/** What the blade leaves, worked out from the fence and the measure alone. */
function halvesOf({ part, direction, fence, atMm }: Cut, kerfMm: number): readonly [Rect, Rect] {
  const { xMm, yMm, heightMm, widthMm } = part;
  const long = direction === 'across' ? heightMm : widthMm;
  const first = fence === 'head' || fence === 'left' ? atMm : long - atMm - kerfMm;
  const rest = long - first - kerfMm;
  return direction === 'across'
    ? [
        { xMm, yMm, heightMm: first, widthMm },
        { xMm, yMm: yMm + first + kerfMm, heightMm: rest, widthMm },
      ]
    : [
        { xMm, yMm, heightMm, widthMm: first },
        { xMm: xMm + first + kerfMm, yMm, heightMm, widthMm: rest },
      ];
}

/** What is wrong with a pattern of one sheet, by cutting it up as its tree says. */
export function patternTroubles(
  fill: Fill,
  height: number,
  width: number,
  pieces: readonly PatternPiece[],
  value: number,
): readonly string[] {
  const counts = pieces.map(() => 0);
  const troubles: string[] = [];
  function cut(part: Fill, high: number, broad: number): void {
    if (part.kind === 'waste') return;
    if (part.kind === 'piece') {
      const piece = pieces[part.piece]!;
      counts[part.piece]! += 1;
      if (piece.height > high || piece.width > broad) troubles.push(`piece ${part.piece} does not fit its part`);
      return;
    }
    const long = part.kind === 'across' ? high : broad;
    if (!(part.at > 0 && part.at < long)) troubles.push(`a cut at ${part.at} of ${long}`);
    if (part.kind === 'across') {
      cut(part.first, part.at, broad);
      cut(part.second, high - part.at, broad);
    } else {
      cut(part.first, high, part.at);
      cut(part.second, high, broad - part.at);
    }
  }
  cut(fill, height, width);
  for (const [k, piece] of pieces.entries()) if (counts[k]! > piece.most) troubles.push(`too many of piece ${k}`);
  const worth = counts.reduce((sum, count, k) => sum + count * pieces[k]!.value, 0);
  if (worth !== value) troubles.push(`worth ${worth}, not ${value}`);
  return troubles;
}
