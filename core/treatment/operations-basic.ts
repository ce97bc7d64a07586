/** Words that the groups of the library share: common amounts of adhesive, cautions, and what an operation is when nothing else is said. */
import type { CutPiece, MaterialKind } from '../stock/material.ts';
import type { Formula, NeedRule, Operation } from './operation.ts';
import type { Caution } from './treatment.ts';

export const noSource = 'common practice, no source';

/** Levels of bench time, 15 minutes and 2 hours, as the University of Arkansas Libraries apply the scheme of the ARL. */
export const arkansas = 'time band: University of Arkansas Libraries, after the ARL levels';
export const indiana = 'Indiana University Libraries, Book Repair Manual';

/** What most operations are: at the bench, no tool that is scarce, no waiting, and to be taken back without trace. */
export const plain = {
  version: 1,
  grows: null,
  atMost: 5000,
  wait: null,
  tools: [],
  attention: 'none',
  needs: [],
  cautions: [],
  source: noSource,
  requires: [],
  after: [],
  keeps: null,
  onCovering: false,
  invasive: false,
} as const satisfies Partial<Operation>;

const one: Formula = { mm: 1 };

export function piece(
  kind: MaterialKind,
  what: string,
  height: Formula,
  width: Formula,
  words: string,
  options: Readonly<{ count?: Formula; grain?: CutPiece['grain'] }> = {},
): NeedRule {
  return { kind, what, height, width, words, count: options.count ?? one, grain: options.grain ?? 'along height' };
}

/**
 * Dry wheat starch for pasting an area: about 100 g of paste a square metre, at 57 g of starch to 400 mL of water (Library of Congress
 * 2015, in the AIC Book and Paper Group's recipes). No published coverage is known: common practice, no source. Half a gram is left in the pot.
 */
export function starch(height: Formula, width: Formula, times: Formula = one): NeedRule {
  return {
    kind: 'wheat starch',
    unit: 'g',
    times: 12.5e-6,
    of: [height, width, times],
    fixed: 0.5,
    words: '12.5 g of dry starch a square metre pasted, and 0.5 g left in the pot',
  };
}

/** PVA for an area: 120 g a square metre. Common practice, no source. */
export function pva(height: Formula, width: Formula, times: Formula = one): NeedRule {
  return {
    kind: 'PVA adhesive',
    unit: 'g',
    times: 120e-6,
    of: [height, width, times],
    fixed: 1,
    words: '120 g a square metre glued, and 1 g left in the brush',
  };
}

export function amount(
  kind: MaterialKind,
  unit: 'm' | 'g' | 'ml' | 'piece',
  times: number,
  of: readonly Formula[],
  words: string,
): NeedRule {
  return { kind, unit, times, of, fixed: 0, words };
}

export const gloves: NeedRule = amount('nitrile gloves', 'piece', 2, [], 'one pair');

export const bladeCaution: Caution = {
  danger: 'blade',
  sentence: 'Cut away from the hand that holds; change the blade before it drags.',
};
export const dustCaution: Caution = {
  danger: 'dust',
  sentence: 'Keep dust low and out of the lungs: work under the hood or by an open window, with a soft brush.',
};
export const solventCaution: Caution = {
  danger: 'solvent',
  sentence:
    'Alcohol vapour burns and harms: only under the hood, gloves on, no flame or hot tool near. Local rules on solvents apply.',
};
export const mouldCaution: Caution = {
  danger: 'mould',
  sentence:
    'Mould harms lungs and skin: fitted mask, gloves, hood; nobody with asthma or a weak defence does this. Heavy growth goes to a conservator.',
};
export const shearCaution: Caution = {
  danger: 'board shear',
  sentence: 'Guard and clamp stay on; one trained person at the blade, nobody beside it.',
};
export const weightCaution: Caution = {
  danger: 'weight',
  sentence: 'Screw the press down by hand, never with a bar; keep fingers from between the boards.',
};
export const heatCaution: Caution = {
  danger: 'heat',
  sentence: 'The hot tool stays in its stand; air moves away from the face.',
};
