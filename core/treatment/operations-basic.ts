/** Words that the groups of the library share: common amounts of adhesive, cautions, and what an operation is when nothing else is said. */

import type { CutPiece, MaterialKind } from '../stock/material.ts';
import { recipes, startingCoverage } from '../trade/adhesive.ts';
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

/** Lost in brush and pot, as `adhesiveForArea` takes it. Common practice, no source. */
const lost = 0.25;

/** Dry starch in a gram of cooked paste. */
const dryShare = recipes['wheat paste'].gramsPer100mL / (100 + recipes['wheat paste'].gramsPer100mL);

/** Dry wheat starch for pasting an area. */
export function starch(height: Formula, width: Formula, times: Formula = one): NeedRule {
  return {
    kind: 'wheat starch',
    unit: 'g',
    times: (startingCoverage.paste * dryShare) / (1 - lost) / 1e6,
    of: [height, width, times],
    fixed: 0,
    words: `area pasted × ${startingCoverage.paste} g/m² of paste, a quarter lost, an eighth of it starch`,
  };
}

export function pva(height: Formula, width: Formula, times: Formula = one): NeedRule {
  return {
    kind: 'PVA adhesive',
    unit: 'g',
    times: startingCoverage.pva / (1 - lost) / 1e6,
    of: [height, width, times],
    fixed: 0,
    words: `area glued × ${startingCoverage.pva} g/m², a quarter lost`,
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
