/**
 * An allocation put right with as few copies changing hands as can be: somebody drops out or joins, a copy is spoilt, a pair is ruled out.
 * First the fewest changes by which everything asked is met; among those, the order of a new allocation: wishes, the worst-off, the total.
 * A copy that somebody has begun stays theirs.
 */
import type { SolveModel } from '../optimise/mip.ts';
import { type Allocated, type AllocationEffort, described, stagesOf, valueBy } from './allocation.ts';
import { type AllocationProblem, draftAllocation, needsOf, type Pair, rulesOf } from './allocation-model.ts';
import { type HandedOn, movesBetween, type OwnedBy } from './compare.ts';
import { whyNot } from './eligible.ts';
import { findShortage, type Shortage } from './shortage.ts';

export type Mended =
  | Readonly<{
      kind: 'mended';
      /** Copies that change hands, each with the reason of its new owner. */
      changes: readonly (HandedOn & Readonly<{ reason: string }>)[];
      /** No way needs fewer changes, and none with so few is better. */
      proven: boolean;
      allocation: Extract<Allocated, { kind: 'allocated' }>;
    }>
  | Readonly<{ kind: 'impossible'; shortage: Shortage }>
  | Readonly<{ kind: 'undecided'; sentence: string }>;

/**
 * `before` is whose each copy was, people and copies that are gone included; `begun` those of them that stay, unless a hazard or an allergy
 * forbids it. The problem is as things stand now. A copy counts as changed when its owner differs, but for one whose owner may not
 * have it any more and that nobody takes up.
 */
export async function mendAllocation(
  problem: AllocationProblem,
  before: readonly OwnedBy[],
  begun: readonly OwnedBy[],
  solve: SolveModel,
  effort: AllocationEffort,
): Promise<Mended> {
  const held = keepingBegun(problem, begun);
  const until = effort.clock() + effort.seconds * 1000;
  const left = () => Math.max(0.05, (until - effort.clock()) / 1000);
  const { draft, pairs, ofPerson } = draftAllocation(held, needsOf(held));
  const stages = stagesOf(held, { draft, pairs, ofPerson });
  const owners = new Map(before.map(({ personId, copyId }) => [copyId, personId]));
  const changes = new Map(pairs.map((pair) => [pair.column, changeCost(pair, owners, pairs)]));

  effort.say?.('The fewest changes by which everything is met');
  const first = await solve(draft.model('least', changes), { seconds: left() * 0.6, absoluteGap: 0.999 });
  if (first.status === 'infeasible') {
    effort.say?.('It cannot be; looking for what is in the way');
    return { kind: 'impossible', shortage: await findShortage(held, solve, Math.max(5, effort.seconds)) };
  }
  if (first.values === null) {
    const sentence = 'No way was found in the time given, and none was ruled out. Give it longer.';
    return { kind: 'undecided', sentence };
  }
  let best = stages.reduce((values, stage) => stage.extend(values), first.values);
  let proven = first.status === 'optimal';
  draft.row(-before.length, Math.round(valueBy(best, changes)), [...changes]);
  for (const [index, stage] of stages.entries()) {
    if (effort.shouldStop?.()) {
      proven = false;
      break;
    }
    effort.say?.(stage.words);
    const start = stage.extend(best);
    const seconds = left() / (stages.length - index);
    const answer = await solve(draft.model('most', stage.costs), { seconds, absoluteGap: 0.999, start });
    best = answer.values ?? start;
    proven &&= answer.status === 'optimal';
    draft.row(Math.round(valueBy(best, stage.costs)), Number.POSITIVE_INFINITY, [...stage.costs]);
  }
  const settled = best;
  const chosen = pairs.filter(({ column }) => (settled[column] ?? 0) > 0.5);
  const allocation = described(held, chosen, proven ? 0 : null);
  if (allocation.kind !== 'allocated') return { kind: 'undecided', sentence: 'Nothing was settled.' };
  const reasons = new Map(allocation.pairs.map(({ copyId, reason }) => [copyId, reason]));
  return {
    kind: 'mended',
    proven,
    allocation,
    changes: movesBetween(problem, before, allocation.pairs).map((move) => ({
      ...move,
      reason: move.to === null ? 'Free again.' : (reasons.get(move.copyId) ?? ''),
    })),
  };
}

/** Begun copies as copies to keep; nobody goes on with what a hazard or an allergy forbids. */
function keepingBegun(problem: AllocationProblem, begun: readonly OwnedBy[]): AllocationProblem {
  const { isKept, isForbidden } = rulesOf(problem);
  const people = new Map(problem.learners.map((person) => [person.id, person]));
  const copies = new Map(problem.copies.map((copy) => [copy.id, copy]));
  const kept = begun.filter(({ personId, copyId }) => {
    const [person, copy] = [people.get(personId), copies.get(copyId)];
    if (!person || !copy || isKept(personId, copyId) || isForbidden(personId, copyId)) return false;
    return whyNot(person, copy) === null;
  });
  return { ...problem, rules: [...problem.rules, ...kept.map((pair) => ({ ...pair, rule: 'keep' }) as const)] };
}

/**
 * What giving this copy to this person adds to the number of changes, against its going back to the shelf: where its owner of before may still
 * have it, going back is a change itself and staying is none; where nobody had it, or its owner is gone, handing it out is one.
 */
function changeCost(pair: Pair, owners: ReadonlyMap<string, string>, pairs: readonly Pair[]): number {
  const owner = owners.get(pair.copy.id);
  if (owner === pair.person.id) return -1;
  const canStay = owner !== undefined && pairs.some(({ person, copy }) => copy === pair.copy && person.id === owner);
  return canStay ? 0 : 1;
}
