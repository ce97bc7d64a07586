/**
 * Why a course cannot be. Needs are taken away one at a time for as long as what is left still cannot be met (the deletion filter of
 * Chinneck and Dravnieks 1991): what remains is a smallest set in the sense that any one of it given up would let the rest be. Beside it,
 * the cheapest way out: how little has to be given up for everything else to fit.
 */
import type { Level } from '../book/book.ts';
import type { SolveModel } from '../optimise/mip.ts';
import { type AllocationProblem, draftAllocation, type Need, needsOf, usable } from './allocation-model.ts';
import { whyNot } from './eligible.ts';
import { nameWith } from './names.ts';
import { oneOf } from './pace.ts';

export type Shortage = Readonly<{
  /** Needs that cannot all be met, and what each asks. */
  conflict: readonly Readonly<{ need: Need; sentence: string }>[];
  /** False where the time did not suffice to try each of them without the others. */
  irreducible: boolean;
  /** Operation and level with the copies they lack, the most first. */
  lacks: readonly Readonly<{ operationId: string; level: Level; copies: number }>[];
  /** In words, what to give up or to find. */
  waysOut: readonly string[];
}>;

/** The conflict of a problem that cannot be met. */
export async function findShortage(problem: AllocationProblem, solve: SolveModel, seconds: number): Promise<Shortage> {
  const all = needsOf(problem);
  const each = Math.max(0.3, (0.6 * seconds) / all.length);
  const bent = await bend(problem, solve, 0.4 * seconds);
  let kept = [...all];
  let irreducible = true;
  // Needs that had to be bent are tried last: they are the likeliest to be the trouble, and the rest then goes at once.
  const inOrder = all.toSorted((one, other) => Number(bent.missed.has(one)) - Number(bent.missed.has(other)));
  for (const batch of batches(inOrder)) {
    const without = kept.filter((need) => !batch.includes(need));
    const verdict = await impossible(problem, without, solve, each);
    if (verdict === 'yes') kept = without;
    else if (batch.length > 1) {
      for (const need of batch) {
        const rest = kept.filter((other) => other !== need);
        const one = await impossible(problem, rest, solve, each);
        if (one === 'yes') kept = rest;
        else if (one === 'unknown') irreducible = false;
      }
    } else if (verdict === 'unknown') irreducible = false;
  }
  const lacks = bent.lacks.filter(({ copies }) => copies > 0);
  return {
    conflict: kept.map((need) => ({ need, sentence: inWords(problem, need) })),
    irreducible,
    lacks,
    // Where the cheapest is not proven, only what gives up part of this very conflict is worth saying.
    waysOut: bent.waysOut
      .filter(({ need }) => bent.proven || kept.some((one) => JSON.stringify(one) === JSON.stringify(need)))
      .map(({ sentence }) => sentence),
  };
}

/** A few at once where they are probably harmless, one by one where they are not; trying a batch first saves most of the solving. */
function batches(needs: readonly Need[]): readonly (readonly Need[])[] {
  const size = Math.max(1, Math.ceil(needs.length / 6));
  const made: Need[][] = [];
  for (let from = 0; from < needs.length; from += size) made.push(needs.slice(from, from + size));
  return made;
}

async function impossible(
  problem: AllocationProblem,
  needs: readonly Need[],
  solve: SolveModel,
  seconds: number,
): Promise<'yes' | 'no' | 'unknown'> {
  const { draft } = draftAllocation(problem, needs);
  const { status, values } = await solve(draft.model('least', new Map()), { seconds });
  if (status === 'infeasible') return 'yes';
  return values === null ? 'unknown' : 'no';
}

/** What a missed need weighs: an operation unmet or a copy too few counts 1, an hour too many 0.5, an agreed pair undone 3. Our own rule. */
const weights: Readonly<Record<Need['kind'], number>> = {
  operation: 1,
  least: 1,
  most: 1,
  hours: 0.5,
  spares: 0.75,
  keep: 3,
};

async function bend(problem: AllocationProblem, solve: SolveModel, seconds: number) {
  const { draft, slack } = draftAllocation(problem, needsOf(problem), true);
  const costs = new Map(slack.map(({ need, column }) => [column, weights[need.kind]]));
  const model = draft.model('least', costs);
  const start = model.columns.map(() => 0);
  for (const { column, empty } of slack) start[column] = empty;
  const { values, status } = await solve(model, { seconds, absoluteGap: 0.2, start });
  const byNeed = new Map<string, { need: Need; amount: number }>();
  for (const { need, column } of slack) {
    const amount = values?.[column] ?? 0;
    if (amount < 1e-6) continue;
    const key = JSON.stringify(need);
    byNeed.set(key, { need, amount: (byNeed.get(key)?.amount ?? 0) + amount });
  }
  const found = [...byNeed.values()];
  const missed = new Set(needsOf(problem).filter((need) => byNeed.has(JSON.stringify(need))));
  return {
    missed,
    lacks: found
      .flatMap(({ need, amount }) =>
        need.kind === 'operation'
          ? [{ operationId: need.operationId, level: need.level, copies: Math.ceil(amount - 1e-6) }]
          : [],
      )
      .sort((one, other) => other.copies - one.copies),
    proven: status === 'optimal',
    waysOut: found.map(({ need, amount }) => ({ need, sentence: wayOut(problem, need, amount) })),
  };
}

function inWords(problem: AllocationProblem, need: Need): string {
  switch (need.kind) {
    case 'operation': {
      const people = problem.learners.filter(
        (person) => person.level === need.level && !person.excused.includes(need.operationId),
      );
      const teaching = problem.copies.filter((copy) => copy.teaches.includes(need.operationId));
      const shut = people.find(
        (person) => teaching.length > 0 && teaching.every((copy) => whyNot(person, copy) !== null),
      );
      const first = shut && teaching[0] && whyNot(shut, teaching[0]);
      if (shut && first) {
        const all =
          teaching.length === 1 ? 'the one copy that teaches' : `any of the ${teaching.length} copies that teach`;
        return `${shut.name} is to meet “${nameWith(problem.names ?? {}, need.operationId)}” and may not have ${all} it; of “${teaching[0]?.title}”: ${first}`;
      }
      const copies = teaching.filter((copy) => people.some((person) => whyNot(person, copy) === null));
      return `Every ${need.level} (${people.length}) is to meet “${nameWith(problem.names ?? {}, need.operationId)}”; ${copies.length} ${copies.length === 1 ? 'copy that one of them may have teaches' : 'copies that they may have teach'} it.`;
    }
    case 'least':
      return `Every ${need.level} is to have at least ${counted(problem.copiesEach[0], 'copy', 'copies')}.`;
    case 'most':
      return `No ${need.level} is to have more than ${counted(problem.copiesEach[1], 'copy', 'copies')}.`;
    case 'hours':
      return `The work of every ${need.level} is to fit into their hours of the course.`;
    case 'spares':
      return `${counted(problem.spares, 'copy is', 'copies are')} to be kept back as spares, of ${usable(problem)} that may be handed out.`;
    case 'keep':
      return `“${titleOf(problem, need.copyId)}” is to be ${nameOf(problem, need.personId)}’s, as you decided.`;
  }
}

function wayOut(problem: AllocationProblem, need: Need, amount: number): string {
  const whole = Math.ceil(amount - 1e-6);
  switch (need.kind) {
    case 'operation':
      return `Find ${counted(whole, 'more copy', 'more copies')} on which ${oneOf(need.level)} can learn “${nameWith(problem.names ?? {}, need.operationId)}”, or let ${counted(whole, 'person', 'people')} do without it.`;
    case 'least':
      return `Find ${counted(whole, 'more copy', 'more copies')} fit for ${oneOf(need.level)}, or let them have fewer each.`;
    case 'most':
      return `Let ${counted(whole, 'copy', 'copies')} more go to ${need.level}s than the most set for each.`;
    case 'hours':
      return `Give the ${need.level}s ${Math.ceil(amount)} more ${Math.ceil(amount) === 1 ? 'hour' : 'hours'} in all, or easier copies.`;
    case 'spares':
      return `Keep back ${counted(whole, 'spare', 'spares')} fewer.`;
    case 'keep':
      return `Let “${titleOf(problem, need.copyId)}” go to somebody other than ${nameOf(problem, need.personId)}.`;
  }
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function titleOf(problem: AllocationProblem, copyId: string): string {
  return problem.copies.find((copy) => copy.id === copyId)?.title ?? 'a copy';
}

function nameOf(problem: AllocationProblem, personId: string): string {
  return problem.learners.find((person) => person.id === personId)?.name ?? 'somebody';
}
