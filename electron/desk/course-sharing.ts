/** Pairs of people and copies as a person decides them, and allocations kept under a name. */
import type { CoursePairs, PairCell, SharingsCompared } from '../../core/contract/course-plan.ts';
import { allocationValue } from '../../core/course/allocation.ts';
import { chosenOf, compareSharings, type OwnedBy } from '../../core/course/compare.ts';
import { type Learner, type PracticeCopy, whyNot } from '../../core/course/eligible.ts';
import { nameWith, quotedNames } from '../../core/course/names.ts';
import { oneOf, rankOf } from '../../core/course/pace.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { pairsRuledOut, ruinedCopies, sharingsOf } from '../store/course-plan.ts';
import { courseCopy } from '../store/schema.ts';
import { coursePair, courseSharing } from '../store/schema-course-plan.ts';
import type { Workshop } from '../store/workshop.ts';
import { allocationProblem, type CourseCopy, type CourseFacts, learnersOf, requiredOf } from './course-facts.ts';

export function pairsView(store: Workshop, facts: CourseFacts): CoursePairs {
  const learners = learnersOf(facts);
  const never = new Set(facts.never.map(({ personId, copyId }) => `${personId} ${copyId}`));
  const ruined = ruinedCopies(store.db, facts.course.id);
  const names = new Map(learners.map(({ id, name }) => [id, name]));
  return {
    people: learners.map(({ id, name, level }) => ({ personId: id, name, level })),
    copies: facts.copies.map((held) => ({
      bookId: held.copy.id,
      title: held.copy.title,
      level: held.copy.level,
      ruined: ruined.get(held.copy.id) ?? null,
      cells: learners.map((learner) => cellOf(facts, learner, held, names, never)),
    })),
    sharings: sharingsOf(store.db, facts.course.id).map(({ id, name, madeAt, pairs, value }) => ({
      id,
      name,
      madeAt,
      pairs: pairs.length,
      value: value.value,
    })),
  };
}

/** Whether and why, or why not, this copy is this person's. */
function cellOf(
  facts: CourseFacts,
  learner: Learner,
  { row, copy }: CourseCopy,
  names: ReadonlyMap<string, string>,
  never: ReadonlySet<string>,
): PairCell {
  const personId = learner.id;
  const barred = whyNot(learner, copy);
  if (barred !== null) return { personId, standing: 'barred', why: barred };
  if (never.has(`${personId} ${copy.id}`)) return { personId, standing: 'never', why: 'You ruled it out.' };
  if (row.personId === personId)
    return { personId, standing: row.locked ? 'kept' : 'given', why: row.reason || 'Given by you.' };
  const own = facts.copies.filter((other) => other.row.personId === personId).map((other) => other.copy);
  const met = new Set(own.flatMap(({ teaches }) => teaches));
  const owner = names.get(row.personId ?? '');
  const whose = owner === undefined ? (row.locked ? 'Kept back by you' : 'Free') : `${owner} has it`;
  return { personId, standing: 'free', why: `${whose}; ${whatItBrings(facts, learner, copy, met)}.` };
}

/** What a copy would bring to somebody who has others. */
function whatItBrings(facts: CourseFacts, learner: Learner, copy: PracticeCopy, met: ReadonlySet<string>): string {
  const lacks = requiredOf(facts).filter((id) => copy.teaches.includes(id) && !met.has(id));
  const wished = [...new Set(learner.wishes)].filter((id) => copy.teaches.includes(id) && !met.has(id));
  const above = rankOf(copy.level) - rankOf(learner.level);
  const place = above === 0 ? 'at the level of' : above > 0 ? 'one level above' : 'below the level of';
  const brings = [
    ...(lacks.length > 0 ? [`would let ${learner.name} meet ${quotedNames(lacks, facts.ownNames)}`] : []),
    ...(wished.length > 0 ? [`meets the wish for ${quotedNames(wished, facts.ownNames)}`] : []),
  ];
  const nothing = brings.length === 0 ? [`nothing asked or wished that ${learner.name} does not meet already`] : [];
  return [...brings, ...nothing, `${place} ${oneOf(learner.level)}`].join('; ');
}

type Rule = Readonly<{ personId: string; bookId: string; rule: 'keep' | 'never' | 'free' }>;

/** Sets one pair. Keeping gives the copy as well, refused where it may not be; ruling out takes it away. */
export function rulePair(store: Workshop, facts: CourseFacts, { personId, bookId, rule }: Rule): Result<unknown> {
  const learner = learnersOf(facts).find(({ id }) => id === personId);
  if (!learner) return refuse('Only people who are confirmed are given copies.', 'personId');
  const held = facts.copies.find(({ row }) => row.bookId === bookId);
  if (!held) return refuse('This copy is not on the course any more.', 'bookId');
  const { row, copy } = held;
  const because = whyNot(learner, copy);
  if (rule === 'keep' && because !== null)
    return refuse(`“${copy.title}” cannot be ${learner.name}’s. ${because}`, 'personId');
  const ruled = pairsRuledOut(store.db, facts.course.id).find(
    (pair) => pair.personId === personId && pair.bookId === bookId,
  );
  const label = {
    keep: `Keep “${copy.title}” for ${learner.name}`,
    never: `Never give “${copy.title}” to ${learner.name}`,
    free: `Leave “${copy.title}” and ${learner.name} to the allocation`,
  }[rule];
  return store.write(label, (change) => {
    if (rule !== 'never' && ruled) change.remove(coursePair, ruled.id);
    if (rule === 'never' && !ruled) change.insert(coursePair, { courseId: facts.course.id, personId, bookId });
    const isTheirs = row.personId === personId;
    if (rule === 'keep') {
      const reason = isTheirs && row.reason !== '' ? row.reason : 'Given by you.';
      change.update(courseCopy, row.id, { personId, locked: true, reason });
    } else if (rule === 'never' && isTheirs) {
      change.update(courseCopy, row.id, { personId: null, locked: false, reason: '' });
    } else if (rule === 'free' && isTheirs && row.locked) change.update(courseCopy, row.id, { locked: false });
  });
}

/** Whose the copies are at present. */
export function pairsNow(facts: CourseFacts): readonly OwnedBy[] {
  const there = new Set(facts.confirmed.map(({ id }) => id));
  return facts.copies.flatMap(({ row }) =>
    row.personId !== null && there.has(row.personId) ? [{ personId: row.personId, copyId: row.bookId }] : [],
  );
}

export function keepSharing(store: Workshop, facts: CourseFacts, name: string, nowMs: number): Result<unknown> {
  const pairs = pairsNow(facts);
  if (pairs.length === 0) return refuse('No copy is in anybody’s hands yet. Allocate them first.');
  const before = sharingsOf(store.db, facts.course.id).find((one) => one.name === name);
  const problem = allocationProblem(facts);
  const row = {
    courseId: facts.course.id,
    name,
    madeAt: nowMs,
    pairs: pairs.map(({ personId, copyId }) => [personId, copyId] as const),
    value: { value: allocationValue(problem, chosenOf(problem, pairs)), proven: false, gap: null },
  };
  return store.write(`Keep the allocation as “${name}”`, (change) => {
    if (before) change.update(courseSharing, before.id, row);
    else change.insert(courseSharing, row);
  });
}

export function dropSharing(store: Workshop, facts: CourseFacts, id: string): Result<unknown> {
  const found = sharingsOf(store.db, facts.course.id).find((one) => one.id === id);
  if (!found) return refuse('This allocation is not kept any more.', 'id');
  return store.write(`Drop the allocation “${found.name}”`, (change) => change.remove(courseSharing, id));
}

/** Hands the copies out as they were kept; what is no longer allowed is refused, what is gone is left out. */
export function takeSharing(store: Workshop, facts: CourseFacts, id: string): Result<unknown> {
  const found = sharingsOf(store.db, facts.course.id).find((one) => one.id === id);
  if (!found) return refuse('This allocation is not kept any more.', 'id');
  const learners = new Map(learnersOf(facts).map((learner) => [learner.id, learner]));
  const owners = new Map(found.pairs.map(([personId, copyId]) => [copyId, personId]));
  for (const { row, copy } of facts.copies) {
    const learner = learners.get(owners.get(row.bookId) ?? '');
    if (!learner) continue;
    const because =
      whyNot(learner, copy) ??
      (facts.never.some((pair) => pair.personId === learner.id && pair.copyId === copy.id)
        ? 'You ruled it out.'
        : null);
    if (because !== null) return refuse(`“${copy.title}” cannot be ${learner.name}’s any more. ${because}`);
  }
  return store.write(`Hand the copies out as in “${found.name}”`, (change) => {
    for (const { row } of facts.copies) {
      const owner = owners.get(row.bookId);
      const personId = owner !== undefined && learners.has(owner) ? owner : null;
      if (personId === row.personId || (row.locked && row.personId !== null)) continue;
      change.update(courseCopy, row.id, {
        personId,
        locked: false,
        reason: personId === null ? '' : `As in “${found.name}”.`,
      });
    }
  });
}

const atPresent = 'now';

export function compareKept(
  store: Workshop,
  facts: CourseFacts,
  firstId: string,
  secondId: string,
): Result<SharingsCompared> {
  const problem = allocationProblem(facts);
  const kept = sharingsOf(store.db, facts.course.id);
  const read = (id: string) => {
    if (id === atPresent) return { name: 'as it is now', pairs: pairsNow(facts) };
    const found = kept.find((one) => one.id === id);
    return found && { name: found.name, pairs: found.pairs.map(([personId, copyId]) => ({ personId, copyId })) };
  };
  const [first, second] = [read(firstId), read(secondId)];
  if (!first || !second) return refuse('One of these allocations is not kept any more.');
  const found = compareSharings(problem, first.pairs, second.pairs);
  const titles = new Map(facts.copies.map(({ copy }) => [copy.id, copy.title]));
  const names = new Map(facts.confirmed.map(({ id, name }) => [id, name]));
  const named = (id: string) => nameWith(facts.ownNames, id);
  const titled = (ids: readonly string[]) => ids.map((id) => titles.get(id) ?? id);
  return ok({
    first: { name: first.name, value: found.first },
    second: { name: second.name, value: found.second },
    moves: found.moves.length,
    better: found.better,
    people: found.people.map((person) => ({
      name: names.get(person.personId) ?? '',
      givesUp: titled(person.givesUp),
      gets: titled(person.gets),
      noLonger: person.noLonger.map(named),
      newly: person.newly.map(named),
    })),
  });
}
