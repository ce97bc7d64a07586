/**
 * What a treatment asks for, in the units the cupboard counts in. Cut pieces become sheets or metres by how many of the cut come out of a
 * sheet or across a roll with the grain as it must run; where that cannot be known, by area with a waste factor that is named as such.
 */
import type { CutPiece, Material, MaterialNeed, NeedUnit } from './material.ts';

/** A material as the choice among its kind sees it; on hand in its own unit. */
export type Stocked = Readonly<{ material: Material; onHand: number }>;

/** What one need takes from one material. Quantity in the material's unit; `working` says how it was reckoned. */
export type Draw = Readonly<{ materialId: string; quantity: number; working: string }>;

export type Drawn = Readonly<{
  draw: Draw | null /** Why nothing was drawn, in words; empty where something was. */;
  remark: string;
}>;

/** Left over when pieces are cut without a plan: a quarter on top of their area. Common practice, no source. */
export const usualWasteFactor = 1.25;

/** Grams in a millilitre of white PVA dispersion: 1.08 to 1.1 on makers' sheets. From memory. */
const gramsPerMl: Readonly<Partial<Record<Material['kind'], number>>> = { 'PVA adhesive': 1.09 };

/**
 * The draw of a need from the cupboard. Of the materials of the kind that can give it, book cloth is chosen by the colour nearest in words,
 * then, as everything else, the one with most on hand; equals by name. Nothing of the kind, or no way to convert, is said in the remark.
 */
export function drawOf(
  need: MaterialNeed,
  cupboard: readonly Stocked[],
  options: Readonly<{ colour?: string; wasteFactor?: number }> = {},
): Drawn {
  const ofKind = cupboard.filter(({ material }) => material.kind === need.kind);
  if (ofKind.length === 0) return { draw: null, remark: `No ${need.kind} is in the cupboard.` };
  const wasteFactor = options.wasteFactor ?? usualWasteFactor;
  const able = ofKind.flatMap((stocked) => {
    const taken = takenFrom(need, stocked.material, wasteFactor);
    return taken === null ? [] : [{ ...stocked, ...taken }];
  });
  if (able.length === 0) {
    const because = need.cut
      ? `no sheet or roll of it holds a piece of ${cutWords(need.cut)}`
      : `${need.unit} cannot be reckoned in the units it is kept in`;
    return { draw: null, remark: `No ${need.kind} can be counted for this: ${because}.` };
  }
  const colour = need.kind === 'book cloth' ? (options.colour ?? '') : '';
  const [best] = able.toSorted(
    (one, other) =>
      nearness(colour, other.material.colour) - nearness(colour, one.material.colour) ||
      Number(one.byArea) - Number(other.byArea) ||
      other.onHand - one.onHand ||
      (one.material.name < other.material.name ? -1 : 1),
  );
  const { material, quantity, working } = best!;
  return { draw: { materialId: material.id, quantity, working }, remark: '' };
}

/**
 * What there is of each kind in the unit treatments ask for it in; sheets and rolls by area, less what cutting without a plan leaves over.
 * A kind of which something is kept in units that do not convert is left out, and so is not limited.
 */
export function onHandByKind(
  cupboard: readonly Stocked[],
  wasteFactor = usualWasteFactor,
): readonly Readonly<{ kind: Material['kind']; unit: NeedUnit; quantity: number }>[] {
  return [...Map.groupBy(cupboard, ({ material }) => material.kind)].flatMap(([kind, stocked]) =>
    needUnits.flatMap((unit) => {
      const amounts = stocked.map(({ material, onHand }) =>
        inNeedUnit(unit, material, Math.max(0, onHand), wasteFactor),
      );
      if (amounts.includes(null)) return [];
      return [{ kind, unit, quantity: amounts.reduce<number>((sum, amount) => sum + (amount ?? 0), 0) }];
    }),
  );
}

/** A material made here out of another: so much of it from each unit of what it is made of, and what is there and still keeps. */
export type Made = Readonly<{ materialId: string; ofId: string; perUnit: number; left: number }>;

/** What was used when it was used as made: paste rather than the dry starch it was cooked from, which left the cupboard then. */
export function asMade(draw: Draw, made: readonly Made[]): Draw {
  const one = made.find(
    ({ ofId, perUnit, left }) => ofId === draw.materialId && perUnit > 0 && left >= draw.quantity * perUnit,
  );
  if (one === undefined) return draw;
  const quantity = draw.quantity * one.perUnit;
  return {
    materialId: one.materialId,
    quantity,
    working: `${draw.working}; taken as made, ${round(one.perUnit)} to one`,
  };
}

const needUnits: readonly NeedUnit[] = ['m2', 'm', 'g', 'ml', 'piece'];

function inNeedUnit(unit: NeedUnit, material: Material, onHand: number, wasteFactor: number): number | null {
  const one = { kind: material.kind, unit, quantity: 1, cut: null, working: '' };
  const taken = takenFrom(one, material, wasteFactor);
  return taken === null ? null : onHand / taken.quantity;
}

type Taken = Readonly<{ quantity: number; working: string; byArea: boolean }>;

/** How much of this material the need takes, or null where it cannot give it. */
function takenFrom(need: MaterialNeed, material: Material, wasteFactor: number): Taken | null {
  const exact = (quantity: number, working: string): Taken => ({ quantity, working, byArea: false });
  if (need.unit === 'm2') return need.cut ? cutFrom(need.cut, material) : byArea(need.quantity, material, wasteFactor);
  if (need.unit === material.unit) return exact(need.quantity, need.working);
  const density = gramsPerMl[material.kind];
  if (density !== undefined && need.unit === 'g' && material.unit === 'ml') {
    return exact(need.quantity / density, `${need.working}; ${density} g in a millilitre`);
  }
  if (density !== undefined && need.unit === 'ml' && material.unit === 'g') {
    return exact(need.quantity * density, `${need.working}; ${density} g in a millilitre`);
  }
  return null;
}

function cutFrom(cut: CutPiece, material: Material): Taken | null {
  const { sheetHeightMm, sheetWidthMm } = material;
  if (sheetWidthMm === null) return null;
  if (material.unit === 'm') {
    const across = acrossRoll(cut, sheetWidthMm);
    if (across === null) return null;
    const quantity = (cut.count * across.lengthMm) / across.pieces / 1000;
    return {
      quantity,
      working: `${cutWords(cut)}: ${across.pieces} across the ${sheetWidthMm} mm roll, ${across.lengthMm} mm of it each row`,
      byArea: false,
    };
  }
  if (sheetHeightMm === null || (material.unit !== 'sheet' && material.unit !== 'piece')) return null;
  const perSheet = piecesOfSheet(cut, material);
  if (perSheet === 0) return null;
  return {
    quantity: cut.count / perSheet,
    working: `${cutWords(cut)}: ${perSheet} out of a ${material.unit} of ${sheetHeightMm} × ${sheetWidthMm} mm`,
    byArea: false,
  };
}

/** Whole pieces out of a sheet cut in rows, the grain as it must run; 0 where none fits. */
export function piecesOfSheet(
  cut: Pick<CutPiece, 'heightMm' | 'widthMm' | 'grain'>,
  sheet: Pick<Material, 'sheetHeightMm' | 'sheetWidthMm' | 'grain'>,
): number {
  const long = Math.max(sheet.sheetHeightMm ?? 0, sheet.sheetWidthMm ?? 0);
  const short = Math.min(sheet.sheetHeightMm ?? 0, sheet.sheetWidthMm ?? 0);
  const rows = (along: number, over: number) => whole(along / cut.heightMm) * whole(over / cut.widthMm);
  if (cut.grain === 'any' || sheet.grain === null) return Math.max(rows(long, short), rows(short, long));
  return sheet.grain === 'long' ? rows(long, short) : rows(short, long);
}

/** Pieces side by side across a roll and the length a row takes. Grain, or the warp of a cloth, runs along the roll. */
function acrossRoll(cut: CutPiece, rollMm: number): Readonly<{ pieces: number; lengthMm: number }> | null {
  const upright = { pieces: whole(rollMm / cut.widthMm), lengthMm: cut.heightMm };
  const turned = { pieces: whole(rollMm / cut.heightMm), lengthMm: cut.widthMm };
  const ways = (cut.grain === 'any' ? [upright, turned] : [upright]).filter((way) => way.pieces > 0);
  return ways.toSorted((one, other) => one.lengthMm / one.pieces - other.lengthMm / other.pieces)[0] ?? null;
}

function byArea(squareMetres: number, material: Material, wasteFactor: number): Taken | null {
  const { sheetHeightMm, sheetWidthMm, unit } = material;
  const said = `${round(squareMetres)} m² of pieces whose cuts are not known, by area × ${wasteFactor} for waste`;
  if (unit === 'm' && sheetWidthMm !== null) {
    return { quantity: (squareMetres * wasteFactor) / (sheetWidthMm / 1000), working: said, byArea: true };
  }
  if ((unit === 'sheet' || unit === 'piece') && sheetHeightMm !== null && sheetWidthMm !== null) {
    const area = (sheetHeightMm * sheetWidthMm) / 1e6;
    return { quantity: (squareMetres * wasteFactor) / area, working: said, byArea: true };
  }
  return null;
}

/** Divisions of measures that are whole but for the last bit of a double count as whole. */
function whole(ratio: number): number {
  return Math.floor(ratio + 1e-9);
}

function cutWords({ count, heightMm, widthMm, grain }: CutPiece): string {
  return `${count} × ${round(heightMm)} × ${round(widthMm)} mm${grain === 'any' ? '' : ', grain along the height'}`;
}

function round(amount: number): number {
  return Math.round(amount * 1000) / 1000;
}

/** Words for cloth colours by the hue they belong to. Common practice, no source. */
const hues: readonly (readonly string[])[] = [
  ['red', 'crimson', 'maroon', 'scarlet', 'claret', 'burgundy', 'rust', 'pink'],
  ['green', 'olive', 'sage', 'teal'],
  ['blue', 'navy', 'indigo', 'slate'],
  ['brown', 'tan', 'buff', 'fawn', 'terracotta', 'chocolate', 'drab', 'ochre'],
  ['black', 'grey', 'gray', 'charcoal'],
  ['purple', 'violet', 'plum', 'mauve', 'lilac'],
  ['yellow', 'gold', 'mustard', 'orange'],
  ['white', 'cream', 'natural', 'ivory'],
];

/** 2 for the same hue and 1 for each word in common; 0 for nothing alike. */
function nearness(wanted: string, offered: string): number {
  const words = (text: string) => new Set(text.toLowerCase().match(/[a-z]+/g) ?? []);
  const [one, other] = [words(wanted), words(offered)];
  const sameHue = hues.some((hue) => hue.some((word) => one.has(word)) && hue.some((word) => other.has(word)));
  return (sameHue ? 2 : 0) + [...one].filter((word) => other.has(word)).length;
}
