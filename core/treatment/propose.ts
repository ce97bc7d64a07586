/**
 * A treatment proposed from what the survey found: the least that will do, in an order in which nothing comes before what it depends on,
 * each step with the finding or the step that calls for it. Rules are in `rules.ts`, operations in `library.ts`.
 */
import type { Book, Finding, Hazard, Use } from '../book/book.ts';
import { severityWords } from '../book/book.ts';
import type { MaterialNeed } from '../stock/material.ts';
import type { KeptMeasures } from '../trade/own-case.ts';
import { asLearned, type Effort, formatKey } from './effort.ts';
import { broughtLibrary, type Library } from './library.ts';
import { type Measures, measuresOf } from './measures.ts';
import { type FindingCall, stepOf } from './operation.ts';
import { type Plan, settle, want, without } from './plan.ts';
import { countOf, familyOf, rulesFor } from './rules.ts';
import { totals } from './totals.ts';
import type { Caution, Proposal, Step } from './treatment.ts';

/**
 * `use` stands in for the book's own, `effort` says how long this bench takes, `kept` what is measured otherwise than the book's size gives,
 * `library` which operations it works with.
 */
export type ProposeOptions = Readonly<{ use?: Use; effort?: Effort | null; kept?: KeptMeasures; library?: Library }>;

/** Proposes a treatment. The same input gives the same proposal. */
export function propose(
  book: Book,
  findings: readonly Finding[],
  hazards: readonly Hazard[],
  options: ProposeOptions = {},
): Proposal {
  const plan = planFor(book, findings, options);
  wantByRules(plan, findings, options.use ?? book.use);
  settle(plan);
  return proposalOf(plan, book, findings, hazards, options);
}

/** A plan in which nothing is wanted yet. */
export function planFor(book: Book, findings: readonly Finding[], { library }: ProposeOptions): Plan {
  const spineGone = findings.some((finding) => finding.part === 'spine' && finding.damage === 'missing');
  return {
    wanted: new Map(),
    remarks: new Set(),
    library: library ?? broughtLibrary,
    family: familyOf(book.binding),
    spineGone,
  };
}

/** What a plan comes to once it is held within what this book may bear. */
export function proposalOf(
  plan: Plan,
  book: Book,
  findings: readonly Finding[],
  hazards: readonly Hazard[],
  options: ProposeOptions,
): Proposal {
  guardTheBook(plan, book, hazards, findings, options.use ?? book.use);
  if (!underPigment(hazards) && [...plan.wanted.keys()].some((id) => plan.library.byId(id)?.invasive)) {
    want(plan, 'final clean', 'paste and dust of the bench', 1);
  }
  const ids = [...plan.wanted.keys()].sort((one, other) => plan.library.rank(one) - plan.library.rank(other));
  return inOrder(ids, plan, book, hazards, options);
}

/** The steps of a plan in the order of these ids, summed. */
export function inOrder(
  ids: readonly string[],
  plan: Plan,
  book: Book,
  hazards: readonly Hazard[],
  { effort, kept }: ProposeOptions,
): Proposal {
  const measures = measuresOf(book, kept);
  const format = effort ? formatKey(book.format) : '';
  const steps = stepsOf(ids, plan, measures, hazards).map((step) => (effort ? asLearned(step, format, effort) : step));
  const remarks = [...plan.remarks, ...measures.assumed];
  if (book.binding === null && steps.length > 0) {
    remarks.push('The binding is not described; a cloth case is taken.');
  }
  return { ...totals(steps), remarks };
}

/** Work on the back of a block: with one of these in the plan, the back is open anyway. */
const openBack = [
  'reline',
  'recase',
  'resew',
  'reinforce sewing',
  'reback in cloth',
  'reback over cloth',
  'reback in paper',
  'reback in leather',
];

/** Wants what the findings call for. */
export function wantByRules(plan: Plan, findings: readonly Finding[], use: Use): void {
  const ifOpen: (readonly [string, number, string, string])[] = [];
  for (const found of findings) {
    const finding = forUse(found, use);
    for (const rule of rulesFor(finding, plan.family)) {
      const count = countOf(rule, finding);
      if (rule.upTo !== undefined && count > rule.upTo) continue;
      if (rule.above !== undefined && count <= rule.above) continue;
      const why = inWords(found);
      if (rule.onlyWithOpenBack) {
        for (const id of rule.operations) ifOpen.push([id, count, why, rule.remark ?? '']);
        continue;
      }
      for (const id of rule.operations) want(plan, id, why, count);
      if (rule.remark) plan.remarks.add(rule.remark);
    }
    for (const operation of plan.library.calledByFindings) {
      if (operation.calledBy?.some((call) => meets(call, finding))) {
        want(plan, operation.id, inWords(found), finding.count ?? 1);
      }
    }
  }
  const open = openBack.some((id) => plan.wanted.has(id));
  for (const [id, count, why, remark] of ifOpen) {
    if (open) want(plan, id, why, count);
    else if (remark) plan.remarks.add(remark);
  }
}

function meets({ part, damage, from, to }: FindingCall, finding: Finding): boolean {
  return part === finding.part && damage === finding.damage && from <= finding.severity && finding.severity <= to;
}

/** A book opened every day needs a joint of cloth where tissue would do for others; a tear is a tear whatever the use. */
function forUse(finding: Finding, use: Use): Finding {
  if (use === 'daily reading' && finding.part === 'joints' && finding.severity === 1 && finding.damage === 'split') {
    return { ...finding, severity: 2 };
  }
  return finding;
}

const stopSentence =
  'Stop and ask an accredited conservator before anything that cannot be undone: the book is rare or of outstanding value.';

/** Bounds the plan by what the book is worth, what it may carry, and what it is for. */
export function guardTheBook(
  plan: Plan,
  book: Book,
  hazards: readonly Hazard[],
  findings: readonly Finding[],
  use: Use,
): void {
  const { wanted, remarks, family } = plan;
  const invasive = (id: string) => plan.library.byId(id)?.invasive === true;
  const boxed = (held: readonly string[], sentence: string, why: string) => {
    if (held.length === 0) return;
    remarks.add(`${sentence} Not done: ${held.join('; ')}.`);
    want(plan, 'phase box', why, 1);
  };

  if (book.scarcity === 'rare' || book.significance === 3) remarks.add(stopSentence);
  if (book.scarcity === 'rare') {
    boxed(
      without(plan, invasive),
      'Held back until a conservator has been asked.',
      'keeps a rare book whole until a conservator has been asked',
    );
  }
  if (findings.some((finding) => finding.damage === 'brittle' && paperParts.has(finding.part))) {
    boxed(
      without(plan, (id) => unfitForBrittle.has(id)),
      'Brittle paper will not bear it.',
      'brittle paper is kept, not handled',
    );
  }
  if (
    wanted.has('reback in leather') &&
    findings.some(({ damage, severity }) => damage === 'red rot' && severity === 3)
  ) {
    boxed(
      without(plan, (id) => invasive(id) && id !== 'consolidate red rot'),
      'Leather this far gone cannot be lifted.',
      'red-rotted leather will not stand a reback',
    );
  }
  if (use === 'display' && wanted.has('resew')) {
    boxed(without(plan, invasive), 'For display it need not open.', 'a book for display is kept, not resewn');
  }
  for (const hazard of hazards) {
    if (hazard.state === 'raised') {
      remarks.add(`Possible ${hazard.kind}: nothing is begun before somebody has looked and said what was found.`);
    } else if (hazard.state === 'confirmed' && hazard.kind === 'arsenical green') {
      without(plan, () => true);
      want(plan, 'bag and label', 'confirmed arsenical green', 1);
      remarks.add('Nothing else is done here: emerald green comes off with handling. Ask an accredited conservator.');
    }
  }
  if (underPigment(hazards) && without(plan, (id) => id === 'surface clean').length > 0) {
    remarks.add(
      'Boards and edges are not cleaned dry: sponge, crumbs and brush would loosen what may be poisonous pigment. Ask an accredited conservator.',
    );
    // What the survey asked for was cleaning alone: the book is put where it harms nobody.
    if (wanted.size === 0) want(plan, 'bag and label', 'its covering may hold poisonous pigment', 1);
  }
  if (wanted.size > 0 && family === 'cloth' && mayBe19thCentury(book)) {
    remarks.add(
      '19th-century cloth of any colour may hold lead: no eating at the bench, hands off the face, hands washed.',
    );
  }
}

function mayBe19thCentury({ yearFrom, yearTo }: Book): boolean {
  const from = yearFrom ?? yearTo;
  const to = yearTo ?? yearFrom;
  return from === null || to === null || (from <= 1900 && to >= 1800);
}

const paperParts: ReadonlySet<string> = new Set(['leaves', 'text block', 'plates']);
/** Check that the block is not brittle before a leaf is tipped in (Collections Care Section, General Manual, 2015); the rest follows. */
const unfitForBrittle = new Set(['tip in', 'flatten leaves', 'press', 'take down', 'resew', 'clean leaves']);

/** Raised or confirmed: only what somebody has cleared is handled like any other covering. */
function underPigment(hazards: readonly Hazard[]): boolean {
  return hazards.some(
    ({ state, kind }) => state !== 'cleared' && (kind === 'arsenical green' || kind === 'lead or chromium pigment'),
  );
}

const pigmentCaution: Caution = {
  danger: 'pigment',
  sentence: 'The covering may hold poisonous pigment: gloves, wiped bench, no dry brushing or sanding, hands washed.',
};
const rotCaution: Caution = {
  danger: 'dust',
  sentence: 'No water or paste on red-rotted leather that has not been consolidated: it blackens.',
};
const glovesNeed: MaterialNeed = { kind: 'nitrile gloves', unit: 'piece', quantity: 2, cut: null, working: 'one pair' };
const nothingExtra = { cautions: [], needs: [] } as const;

function stepsOf(ids: readonly string[], plan: Plan, measures: Measures, hazards: readonly Hazard[]): readonly Step[] {
  const pigment = underPigment(hazards);
  const rot =
    plan.family === 'leather' && hazards.some((hazard) => hazard.state !== 'cleared' && hazard.kind === 'red rot');
  const extra = pigment
    ? { cautions: [pigmentCaution], needs: [glovesNeed] }
    : rot
      ? { cautions: [rotCaution], needs: [] }
      : nothingExtra;
  const steps: Step[] = [];
  for (const id of ids) {
    const operation = plan.library.byId(id);
    const wanted = plan.wanted.get(id);
    if (operation === undefined || wanted === undefined) continue;
    // Outer folds of about a quarter of the sections need a guard. Common practice, no source.
    const count = id === 'guard sections' ? Math.max(wanted.count, Math.ceil(measures.sections / 4)) : wanted.count;
    const why = wanted.whys.length === 1 ? (wanted.whys[0] ?? '') : wanted.whys.join('; ');
    steps.push(stepOf(operation, measures, count, why, operation.onCovering ? extra : nothingExtra));
  }
  return steps;
}

function inWords(finding: Finding): string {
  const count = finding.count === null ? '' : `, ${finding.count}`;
  return `${finding.part} ${finding.damage} (${severityWords[finding.severity]}${count})`;
}
