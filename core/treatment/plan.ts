/**
 * The set of operations a book is to have, before they are put in order: each with what called for it. Adding one brings its companions and
 * what must have been done before; taking one out takes along what was there only for its sake.
 */
import type { Library } from './library.ts';
import type { Operation } from './operation.ts';
import type { Family } from './rules.ts';

/** `causes` are ids of operations, or '' for a finding or a rule of the house. */
type Wanted = { count: number; readonly whys: string[]; readonly causes: string[] };
export type Plan = Readonly<{
  wanted: Map<string, Wanted>;
  remarks: Set<string>;
  library: Library;
  family: Family;
  /** With the spine gone there is none to lift, none to lay down, and nothing between the hand and the back. */
  spineGone: boolean;
}>;

/** Adds an operation for a finding, or once more. */
export function want(plan: Plan, id: string, why: string, count: number): void {
  add(plan, id, why, count, '');
}

function add({ wanted }: Plan, id: string, why: string, count: number, cause: string): void {
  const before = wanted.get(id);
  if (before === undefined) {
    wanted.set(id, { count, whys: [why], causes: [cause] });
    return;
  }
  before.count += count;
  if (!before.whys.includes(why)) before.whys.push(why);
  if (!before.causes.includes(cause)) before.causes.push(cause);
}

type Companion = Readonly<{ id: string; families?: readonly Family[]; why: string }>;

/** What an operation brings with it. Recasing as Indiana University Libraries describe it: new endsheets, line, case in. */
const companions: Readonly<Record<string, readonly Companion[]>> = {
  recase: [{ id: 'new endpapers', why: 'the case is hung on new endpapers, the old ones kept behind them' }],
  resew: [
    { id: 'guard sections', why: 'outer folds are guarded before they are sewn' },
    { id: 'round and back', families: ['cloth', 'paper', 'leather'], why: 'a newly sewn back is shaped again' },
    { id: 'reline', families: ['cloth', 'paper', 'leather'], why: 'new sewing is lined' },
    { id: 'recase', families: ['cloth', 'paper'], why: 'the block goes back into its case' },
    { id: 'board reattachment', families: ['leather'], why: 'the boards come off to sew' },
    { id: 'reback in leather', families: ['leather'], why: 'the spine comes off to sew' },
    { id: 'repair wrapper', families: ['wrapper'], why: 'the wrapper comes off to sew' },
  ],
  'make case': [{ id: 'recase', why: 'the block is hung in the new case' }],
  'reback in cloth': [
    { id: 'lift spine cloth', why: 'the old spine is saved before a new one goes on' },
    { id: 'tone', why: 'new spine cloth shows' },
  ],
  'reback over cloth': [
    { id: 'lift spine cloth', why: 'the old spine is saved before a new one goes on' },
    { id: 'tone', why: 'new spine cloth shows' },
  ],
  'reback in paper': [
    { id: 'lift spine cloth', why: 'the old spine is saved before a new one goes on' },
    { id: 'tone', why: 'new spine paper shows' },
  ],
  'reback in leather': [
    { id: 'lift spine leather', why: 'the old spine is saved before a new one goes on' },
    { id: 'reline', why: 'new leather goes on a clean and lined back' },
    { id: 'hollow', why: 'the leather opens on a hollow' },
    { id: 'tone', why: 'new leather shows' },
  ],
  rejoint: [{ id: 'tone', why: 'new joint cloth shows' }],
  'corner repair': [{ id: 'tone', why: 'new corners show' }],
  'lift spine cloth': [{ id: 'lay down spine', why: 'the saved spine goes back on' }],
  'lift spine leather': [{ id: 'lay down spine', why: 'the saved spine goes back on' }],
};

/** A larger repair does the work of these smaller ones. */
const covers: Readonly<Record<string, readonly string[]>> = {
  recase: ['tighten hinges', 'mend hinge'],
  resew: ['reinforce sewing', 'reattach section'],
  'reback in cloth': ['rejoint', 'tissue joint'],
  'reback over cloth': ['reback in cloth', 'rejoint', 'tissue joint'],
  'reback in paper': ['tissue joint'],
  'reback in leather': ['tissue joint'],
  rejoint: ['tissue joint'],
  'board reattachment': ['mend hinge'],
  'make case': [
    'reback in cloth',
    'reback over cloth',
    'reback in paper',
    'rejoint',
    'tissue joint',
    'corner repair',
    'repair boards',
    'set down covering',
  ],
  'new label': ['set down label'],
};

/** Closes the plan: companions, what must have been done before, and smaller repairs left out where a larger one covers them. */
export function settle(plan: Plan): void {
  const { wanted, family, spineGone, library } = plan;
  dropCovered(plan);
  // As many may go as come in one turn: the plan is settled when the same operations are in it as before.
  for (let before = ''; before !== idsIn(plan); ) {
    before = idsIn(plan);
    for (const id of [...wanted.keys()]) {
      const operation = library.byId(id);
      if (operation === undefined) continue;
      for (const companion of companions[id] ?? []) {
        if (companion.families && !companion.families.includes(family)) continue;
        if (spineGone && spineSavers.has(companion.id)) continue;
        addFor(plan, companion.id, id, companion.why);
      }
      for (const choices of operation.requires) {
        if (isOpen(choices, plan)) continue;
        const present = choices.find((choice) => wanted.has(choice));
        addFor(plan, present ?? opener(choices, wanted, family), id, `comes before: ${operation.name}`);
      }
    }
    dropCovered(plan);
  }
  dropOrphans(plan);
}

function idsIn({ wanted }: Plan): string {
  return [...wanted.keys()].toSorted().join('|');
}

function addFor(plan: Plan, id: string, cause: string, why: string): void {
  const before = plan.wanted.get(id);
  if (before === undefined) add(plan, id, why, 1, cause);
  else if (!before.causes.includes(cause)) before.causes.push(cause);
}

const spineSavers = new Set(['lift spine cloth', 'lift spine leather', 'lay down spine']);
const openers = new Set(['lift spine cloth', 'lift spine leather', 'take out of case']);

/** Loose sections have no cover to open, and a book without its spine is open at the back. */
function isOpen(choices: readonly string[], { family, spineGone }: Plan): boolean {
  return (family === 'unbound' || spineGone) && choices.length > 1 && choices.every((choice) => openers.has(choice));
}

/** The way to the back that fits the binding: out of the cover where it comes off anyway. */
function opener(choices: readonly string[], wanted: Plan['wanted'], family: Family): string {
  const first = choices[0] ?? '';
  if (choices.length === 1 || !openers.has(first)) return first;
  if (family === 'leather' || family === 'vellum') return 'lift spine leather';
  if (family === 'wrapper' || wanted.has('recase') || wanted.has('resew')) return 'take out of case';
  return 'lift spine cloth';
}

function dropCovered({ wanted }: Plan): void {
  for (const large of [...wanted.keys()]) {
    if (wanted.has(large)) for (const small of covers[large] ?? []) wanted.delete(small);
  }
}

/** Takes out the operations that `unfit` picks and all that then has no cause or lacks its forerunner; returns the names, in bench order. */
export function without(plan: Plan, unfit: (id: string) => boolean): readonly string[] {
  const before = [...plan.wanted.keys()];
  for (const id of before) if (unfit(id)) plan.wanted.delete(id);
  if (plan.wanted.size === before.length) return [];
  dropOrphans(plan);
  return before
    .filter((id) => !plan.wanted.has(id))
    .sort((one, other) => plan.library.rank(one) - plan.library.rank(other))
    .map((id) => plan.library.byId(id)?.name ?? id);
}

/** The first group of forerunners of which this operation has none in the plan, by their ids; null where nothing is lacking. */
export function lackingBefore(plan: Plan, operation: Operation): readonly string[] | null {
  const lacking = operation.requires.find(
    (choices) => !isOpen(choices, plan) && !choices.some((choice) => plan.wanted.has(choice)),
  );
  return lacking ?? null;
}

function dropOrphans(plan: Plan): void {
  const { wanted } = plan;
  for (let size = -1; size !== wanted.size; ) {
    size = wanted.size;
    for (const [id, { causes }] of [...wanted]) {
      const called = causes.some((cause) => cause === '' || wanted.has(cause));
      const operation = plan.library.byId(id);
      if (!called || (operation !== undefined && lackingBefore(plan, operation) !== null)) wanted.delete(id);
    }
  }
}
