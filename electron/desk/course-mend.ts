/** A person drops out or a copy is spoilt: the fewest copies changing hands, shown before anything is changed. */
import type { CourseTrouble, Mending } from '../../core/contract/course-plan.ts';
import type { AllocationProblem } from '../../core/course/allocation-model.ts';
import type { OwnedBy } from '../../core/course/compare.ts';
import { whyNot } from '../../core/course/eligible.ts';
import type { Mended } from '../../core/course/mend.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { minuteOf } from '../../core/schedule/calendar.ts';
import type { MenderInput } from '../engines/mender-worker.ts';
import { inThread } from '../engines/thread.ts';
import { metOf } from '../store/course-people.ts';
import { keptWeek, ruinedCopies } from '../store/course-plan.ts';
import { courseCopy, person } from '../store/schema.ts';
import { courseRuined } from '../store/schema-course-plan.ts';
import type { Workshop } from '../store/workshop.ts';
import { allocationProblem, type CourseFacts, learnersOf } from './course-facts.ts';
import { pairsNow } from './course-sharing.ts';

type Work = Readonly<{ seconds: number; stop: AbortSignal; say: (piece: Mending) => void }>;

export async function proposeMend(
  store: Workshop,
  facts: CourseFacts,
  trouble: CourseTrouble,
  work: Work,
): Promise<Result<Mending>> {
  const after = troubled(store, facts, trouble);
  if (!after.ok) return after;
  const begun = begunPairs(store, facts, trouble);
  const input: MenderInput = { problem: after.value, before: pairsNow(facts), begun, seconds: work.seconds };
  const found = await inThread<MenderInput, string, Mended>('mender-worker', input, {
    signal: work.stop,
    onStop: 'ask',
    onProgress: (words) => work.say({ kind: 'progress', words }),
  });
  if (found.kind === 'undecided') return refuse(found.sentence);
  if (found.kind === 'impossible') {
    const { conflict, irreducible, waysOut } = found.shortage;
    const sentences = conflict.map(({ sentence }) => sentence);
    return ok({ kind: 'impossible', conflict: sentences, smallest: irreducible, waysOut });
  }
  const names = new Map(facts.confirmed.map(({ id, name }) => [id, name]));
  const titles = new Map(facts.copies.map(({ copy }) => [copy.id, copy.title]));
  return ok({
    kind: 'proposed',
    proven: found.proven,
    begun: begun.length,
    changes: found.changes.map(({ copyId, from, to, reason }) => ({
      bookId: copyId,
      title: titles.get(copyId) ?? '',
      from: names.get(from ?? '') ?? null,
      to: names.get(to ?? '') ?? null,
      toId: to,
      reason,
    })),
  });
}

/** What the course asks once the person is gone and the copy is spoilt. Refuses where there is nothing to put right. */
function troubled(
  store: Workshop,
  facts: CourseFacts,
  { withoutId, ruinedId }: CourseTrouble,
): Result<AllocationProblem> {
  if (withoutId !== null && !facts.confirmed.some(({ id }) => id === withoutId))
    return refuse('This person is not among those confirmed any more.', 'withoutId');
  if (ruinedId !== null && !facts.copies.some(({ copy }) => copy.id === ruinedId))
    return refuse('This copy is not on the course any more.', 'ruinedId');
  if (!facts.copies.some(({ row }) => row.personId !== null))
    return refuse('No copy is in anybody’s hands yet. Allocate them first.');
  const problem = allocationProblem(facts);
  // What somebody has met already need not be met again.
  const met = Map.groupBy(metOf(store.db, facts.course.id), ({ personId }) => personId);
  const learners = problem.learners
    .filter(({ id }) => id !== withoutId)
    .map((learner) => {
      const known = (met.get(learner.id) ?? []).map(({ operationId }) => operationId);
      return { ...learner, excused: [...learner.excused, ...known] };
    });
  if (learners.length === 0) return refuse('Nobody would be left to share the copies out to.');
  return ok({
    ...problem,
    learners,
    copies: problem.copies.map((copy) => (copy.id === ruinedId ? { ...copy, blocked: 'It is spoilt.' } : copy)),
    rules: problem.rules.filter((rule) => rule.personId !== withoutId && rule.copyId !== ruinedId),
  });
}

/** Copies at which work has begun by the week as it is laid out. */
function begunPairs(store: Workshop, facts: CourseFacts, trouble: CourseTrouble): readonly OwnedBy[] {
  const begun = new Set(
    keptWeek(store.db, facts.course.id)
      .filter(({ kind, startAt }) => kind === 'hands' && minuteOf(facts.origin, startAt) < facts.frame.now)
      .map(({ bookId, personId }) => `${personId} ${bookId}`),
  );
  return pairsNow(facts).filter(
    ({ personId, copyId }) =>
      begun.has(`${personId} ${copyId}`) && personId !== trouble.withoutId && copyId !== trouble.ruinedId,
  );
}

type Accepted = CourseTrouble &
  Readonly<{ what: string; changes: readonly Readonly<{ bookId: string; toId: string | null }>[] }>;

/** Makes the changes, and takes the person or the copy out, in one journal entry. Refuses what is no longer allowed. */
export function acceptMend(store: Workshop, facts: CourseFacts, accepted: Accepted, nowMs: number): Result<string> {
  const { withoutId, ruinedId, what, changes } = accepted;
  const after = troubled(store, facts, accepted);
  if (!after.ok) return after;
  const learners = new Map(learnersOf(facts).map((learner) => [learner.id, learner]));
  const given = new Map(changes.map(({ bookId, toId }) => [bookId, toId]));
  for (const { bookId, toId } of changes) {
    const held = facts.copies.find(({ copy }) => copy.id === bookId);
    if (!held) return refuse('One of these copies is not on the course any more. Ask again.');
    if (toId === null) continue;
    const learner = learners.get(toId);
    if (!learner || toId === withoutId)
      return refuse('Somebody who was to get a copy is not coming any more. Ask again.');
    const because =
      bookId === ruinedId
        ? 'It is spoilt.'
        : (whyNot(learner, held.copy) ??
          (facts.never.some((pair) => pair.personId === toId && pair.copyId === bookId) ? 'You ruled it out.' : null));
    if (because !== null) return refuse(`“${held.copy.title}” cannot be ${learner.name}’s. ${because}`);
  }
  const leaver = facts.confirmed.find(({ id }) => id === withoutId);
  const spoilt = facts.copies.find(({ copy }) => copy.id === ruinedId)?.copy.title;
  const label = [
    ...(leaver ? [`${leaver.name} drops out`] : []),
    ...(spoilt === undefined ? [] : [`“${spoilt}” is spoilt`]),
    `${changes.length} ${changes.length === 1 ? 'copy changes' : 'copies change'} hands`,
  ].join('; ');
  return store.write(label, (change) => {
    if (withoutId !== null) change.update(person, withoutId, { standing: 'withdrawn' });
    if (ruinedId !== null && !ruinedCopies(store.db, facts.course.id).has(ruinedId))
      change.insert(courseRuined, { courseId: facts.course.id, bookId: ruinedId, at: nowMs, what });
    for (const { row } of facts.copies) {
      const isGone = row.bookId === ruinedId || (row.personId !== null && row.personId === withoutId);
      const to = given.get(row.bookId);
      if (to === undefined && !isGone) continue;
      const reason = to ? 'Changed hands when the course was put right.' : '';
      change.update(courseCopy, row.id, { personId: to ?? null, locked: false, reason });
    }
    return facts.course.id;
  });
}
