/**
 * A treatment a person puts together: operations in an order of their own, refused where one comes before what it depends on or where the
 * book may not bear it. And the other ways of treating a book beside the one proposed, from leaving it alone to a new case.
 */
import type { Book, Finding, Hazard } from '../book/book.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { Library } from './library.ts';
import { lackingBefore, type Plan, settle, want } from './plan.ts';
import { guardTheBook, inOrder, type ProposeOptions, planFor, proposalOf, propose, wantByRules } from './propose.ts';
import type { Proposal } from './treatment.ts';

/**
 * The treatment of these operations in this order, each once; how many tears or corners comes from the survey. Refuses an operation that is
 * not known, that stands before what must come first or without it, and one this book must not have done to it, and says which.
 */
export function compose(
  book: Book,
  findings: readonly Finding[],
  hazards: readonly Hazard[],
  ids: readonly string[],
  options: ProposeOptions = {},
): Result<Proposal> {
  const plan = planFor(book, findings, options);
  const asked = planFor(book, findings, options);
  wantByRules(asked, findings, options.use ?? book.use);
  settle(asked);
  // What every treatment ends with is proposed too, though no finding asks for it.
  const proposedWhy = new Map(
    propose(book, findings, hazards, options).steps.map(({ operationId, why }) => [operationId, why]),
  );
  for (const id of ids) {
    const operation = plan.library.byId(id);
    if (operation === undefined) return refuse(`There is no operation “${id}” here.`, 'operations');
    if (plan.wanted.has(id)) return refuse(`“${operation.name}” stands in the treatment twice.`, 'operations');
    const before = asked.wanted.get(id);
    const why = before?.whys.join('; ') ?? proposedWhy.get(id) ?? 'your own choice';
    want(plan, id, why, before?.count ?? 1);
  }
  const trouble = outOfOrder(ids, plan);
  if (trouble !== null) return refuse(trouble, 'operations');
  const said = new Set(plan.remarks);
  guardTheBook(plan, book, hazards, findings, options.use ?? book.use);
  const taken = ids.filter((id) => !plan.wanted.has(id));
  if (taken.length > 0) {
    const why = [...plan.remarks].filter((remark) => !said.has(remark)).at(-1) ?? '';
    return refuse(`Not to be done on this book: ${namesOf(taken, plan.library)}. ${why}`.trim(), 'operations');
  }
  // What the guard would add to take the place of what it took is not added to a person's own list.
  for (const id of [...plan.wanted.keys()]) if (!ids.includes(id)) plan.wanted.delete(id);
  return ok(inOrder(ids, plan, book, hazards, options));
}

/** The first operation that lacks what must be done before it, or stands before it, as a sentence; null where all are in order. */
function outOfOrder(ids: readonly string[], plan: Plan): string | null {
  const { library } = plan;
  const place = new Map(ids.map((id, at) => [id, at]));
  for (const [at, id] of ids.entries()) {
    const operation = library.byId(id);
    if (operation === undefined) continue;
    const lacking = lackingBefore(plan, operation);
    if (lacking !== null) {
      return `“${operation.name}” cannot be done without ${namesOf(lacking, library, ' or ')} before it.`;
    }
    const late = operation.after.find((other) => (place.get(other) ?? -1) > at);
    if (late !== undefined) return `${namesOf([late], library)} must come before “${operation.name}”.`;
    for (const choices of operation.requires) {
      const there = choices.filter((choice) => place.has(choice));
      if (there.length > 0 && there.every((choice) => (place.get(choice) ?? -1) > at)) {
        return `${namesOf(there, library, ' or ')} must come before “${operation.name}”.`;
      }
    }
  }
  return null;
}

function namesOf(ids: readonly string[], library: Library, between = ', '): string {
  return ids.map((id) => `“${library.byId(id)?.name ?? id}”`).join(between);
}

export type Alternative = Readonly<{
  key: 'leave' | 'make safe' | 'proposed' | 'further' | 'new case';
  name: string;
  /** When it is the one to choose. */
  words: string;
  proposal: Proposal;
  /** Findings that some step of it answers, of how many. */
  answers: Readonly<{ answered: number; of: number }>;
  /** Original material it gives up; it goes into the book's envelope. */
  givesUp: readonly string[];
}>;

/**
 * The ways of treating this book, least intervention first; those that come to the same are given once. Which repair is the next larger one
 * and what each gives up: common practice, no source.
 */
export function alternatives(
  book: Book,
  findings: readonly Finding[],
  hazards: readonly Hazard[],
  options: ProposeOptions = {},
): readonly Alternative[] {
  const use = options.use ?? book.use;
  const proposed = propose(book, findings, hazards, options);
  const settled = (change: (plan: Plan) => void): Proposal => {
    const plan = planFor(book, findings, options);
    change(plan);
    settle(plan);
    return proposalOf(plan, book, findings, hazards, options);
  };
  const drafts: Pick<Alternative, 'key' | 'name' | 'words' | 'proposal'>[] = [
    {
      key: 'leave',
      name: 'Leave it alone',
      words: 'Nothing is touched; damage that goes on by itself goes on.',
      proposal: inOrder([], planFor(book, findings, options), book, hazards, options),
    },
  ];
  if (findings.length > 0) {
    drafts.push({
      key: 'make safe',
      name: 'Make safe and box',
      words: 'What would spread is stopped, dust comes off, loose parts stay together in a box.',
      proposal: settled((plan) => {
        wantByRules(plan, findings, use);
        for (const id of [...plan.wanted.keys()]) if (!safeFirst.has(id)) plan.wanted.delete(id);
        want(plan, 'phase box', 'keeps what is loose with the book', 1);
      }),
    });
  }
  drafts.push({
    key: 'proposed',
    name: 'The least repair',
    words: 'The smallest repair that answers each finding.',
    proposal: proposed,
  });
  const further = settled((plan) => {
    wantByRules(plan, findings, use);
    for (const [small, large] of nextLarger) {
      const wanted = plan.wanted.get(small);
      if (wanted === undefined || !large.families.includes(plan.family)) continue;
      plan.wanted.delete(small);
      want(plan, large.id, wanted.whys.join('; '), wanted.count);
    }
  });
  drafts.push({
    key: 'further',
    name: 'The next larger repair',
    words: 'Holds longer under daily use; more of the old structure is opened.',
    proposal: further,
  });
  if (cased.has(planFor(book, findings, options).family) && findings.some(({ part }) => covers.has(part))) {
    drafts.push({
      key: 'new case',
      name: 'A new case',
      words: 'When the old one cannot carry the book any more; it is kept beside it.',
      proposal: settled((plan) => {
        wantByRules(plan, findings, use);
        want(plan, 'make case', 'a new case in place of the old one', 1);
      }),
    });
  }
  const seen = new Set<string>();
  const distinct: Alternative[] = [];
  for (const draft of drafts) {
    const { steps } = draft.proposal;
    const same = steps.map(({ operationId }) => operationId).join('|');
    if (seen.has(same)) continue;
    seen.add(same);
    // A new case leaves the damage of the old one behind, though no step of it names that damage.
    const newCase = steps.some(({ operationId }) => operationId === 'make case');
    const answered = findings.filter(
      ({ part, damage }) =>
        (newCase && covers.has(part)) || steps.some(({ why }) => why.includes(`${part} ${damage} (`)),
    );
    distinct.push({
      ...draft,
      answers: { answered: answered.length, of: findings.length },
      givesUp: steps.flatMap(({ operationId }) => lost[operationId] ?? []),
    });
  }
  return distinct;
}

const safeFirst: ReadonlySet<string> = new Set([
  'isolate for mould',
  'isolate for insects',
  'clean off mould',
  'surface clean',
  'consolidate red rot',
  'bag and label',
]);

const cased: ReadonlySet<string> = new Set(['cloth', 'paper']);
const covers: ReadonlySet<string> = new Set(['boards', 'joints', 'hinges', 'spine', 'covering', 'corners']);

/** Larger ones first, so that nothing is made larger twice. */
const nextLarger: ReadonlyMap<string, Readonly<{ id: string; families: readonly Plan['family'][] }>> = new Map([
  ['tighten hinges', { id: 'recase', families: ['cloth', 'paper'] }],
  ['mend hinge', { id: 'recase', families: ['cloth', 'paper'] }],
  ['reback in cloth', { id: 'reback over cloth', families: ['cloth'] }],
  ['rejoint', { id: 'reback in cloth', families: ['cloth'] }],
  ['tissue joint', { id: 'rejoint', families: ['cloth'] }],
  ['reinforce sewing', { id: 'resew', families: ['cloth', 'paper', 'leather'] }],
  ['reattach section', { id: 'reinforce sewing', families: ['cloth', 'paper', 'leather'] }],
]);

/** What goes from the book into its envelope. */
const lost: Readonly<Record<string, readonly string[]>> = {
  'make case': ['the case comes off for good'],
  'new endpapers': ['the old endpapers no longer hold the case'],
  'reback over cloth': ['a strip of cloth on each board'],
  'remove old linings': ['old linings and their adhesive'],
  'remove old repair': ['the old repair'],
  resew: ['the first sewing'],
  'round and back': ['the first shape of the back'],
  'new label': ['the old label'],
};
