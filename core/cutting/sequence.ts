/** From a filled sheet to cuts a person can follow: trimmed first, then strip after strip, each cut with its edge against the fence. */
import type { Part, Sheet } from './layout.ts';
import type { Cut, CutSheet, Placed, Rect, Stock, Wanted } from './stock.ts';

const mm = (micrometres: number) => micrometres / 1000;

/** What a sheet comes to, with the areas of its pieces and remnants in square micrometres. */
export type Sequenced = Readonly<{ sheet: CutSheet; piecesArea: number; remnantsArea: number }>;

export function sequence(
  { root, source }: Sheet,
  stock: Stock,
  wantedOf: (item: number) => Wanted,
  usefulUm: number,
): Sequenced {
  const trim = Math.round(stock.trimMm * 1000);
  const cuts: Cut[] = [];
  const pieces: Placed[] = [];
  const remnants: Rect[] = [];
  let piecesArea = 0;
  let remnantsArea = 0;
  let turns = 0;

  const rectOf = ({ x, y, height, width }: Part): Rect => ({
    xMm: mm(x + trim),
    yMm: mm(y + trim),
    heightMm: mm(height),
    widthMm: mm(width),
  });

  /** The cuts of one part in its own direction, strip after strip, and then the strips themselves. */
  function walk(part: Part): void {
    const strips: Part[] = [];
    const direction = part.cut;
    let at: Part | null = part;
    while (at !== null && at.cut !== null && at.cut === direction) {
      const { before, after }: Part = at;
      cuts.push({
        number: cuts.length + 1,
        part: rectOf(at),
        direction: at.cut,
        fence: at.cut === 'across' ? 'head' : 'left',
        atMm: mm(at.cut === 'across' ? before!.height : before!.width),
        before: rectOf(before!),
        after: after === null ? null : rectOf(after),
        trim: false,
      });
      strips.push(before!);
      at = after;
    }
    if (at !== null) strips.push(at);
    if (direction === null) leaf(part);
    else for (const strip of strips) walk(strip);
  }

  function leaf(part: Part): void {
    turns = Math.max(turns, part.stages - 1);
    const area = part.height * part.width;
    if (part.item >= 0) {
      const wanted = wantedOf(part.item);
      pieces.push({ wantedId: wanted.id, name: wanted.name, rect: rectOf(part), turned: part.turned });
      piecesArea += area;
    } else if (isUseful(part, usefulUm)) {
      remnants.push(rectOf(part));
      remnantsArea += area;
    }
  }

  if (trim > 0) cuts.push(...trimCuts(stock));
  walk(root);
  const { id, name, heightMm, widthMm, grain, offcut } = stock;
  remnants.sort((a, b) => b.heightMm * b.widthMm - a.heightMm * a.widthMm);
  const sheet = { stockId: id, name, offcut, heightMm, widthMm, grain, cuts, pieces, remnants, turns };
  return { sheet, piecesArea: piecesArea, remnantsArea: source.area === 0 ? 0 : remnantsArea };
}

/** Large enough to go back into the drawer: neither side shorter than what is useful, and one at least twice that. */
export function isUseful({ height, width }: Readonly<{ height: number; width: number }>, usefulUm: number): boolean {
  return Math.min(height, width) >= usefulUm && Math.max(height, width) >= 2 * usefulUm;
}

/** Head, tail, left and right in turn; the part that stays lies against the fence. */
function trimCuts({ heightMm, widthMm, trimMm }: Stock): readonly Cut[] {
  const cuts: Cut[] = [];
  let part: Rect = { xMm: 0, yMm: 0, heightMm, widthMm };
  for (const fence of ['tail', 'head', 'right', 'left'] as const) {
    const { xMm, yMm } = part;
    const upright = fence === 'head' || fence === 'tail';
    const atMm = (upright ? part.heightMm : part.widthMm) - trimMm;
    const rest: Rect = {
      xMm: fence === 'right' ? xMm + trimMm : xMm,
      yMm: fence === 'tail' ? yMm + trimMm : yMm,
      heightMm: upright ? atMm : part.heightMm,
      widthMm: upright ? part.widthMm : atMm,
    };
    const first = fence === 'head' || fence === 'left';
    cuts.push({
      number: cuts.length + 1,
      part,
      direction: upright ? 'across' : 'down',
      fence,
      atMm,
      before: first ? rest : null,
      after: first ? null : rest,
      trim: true,
    });
    part = rest;
  }
  return cuts;
}
