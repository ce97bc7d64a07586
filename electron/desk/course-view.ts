/** A course as the page shows it: what was typed, what follows from it, and whether it all fits. */

import { hazardKinds } from '../../core/book/book.ts';
import type { Quality } from '../../core/contract/bench.ts';
import type { Course, CourseLine, CoursePerson, Verdict } from '../../core/contract/course.ts';
import type { AllocationValue } from '../../core/course/allocation.ts';
import { capacity } from '../../core/course/capacity.ts';
import { excusedFrom, sameWords, whyNot } from '../../core/course/eligible.ts';
import { courseLoads, share } from '../../core/course/loads.ts';
import { breakEven, coveringFee, resultOf } from '../../core/course/money.ts';
import { learnerMinutes } from '../../core/course/pace.ts';
import { instantOf } from '../../core/schedule/calendar.ts';
import { materialKinds } from '../../core/stock/material.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { operationById } from '../../core/treatment/library.ts';
import { listTools } from '../store/bench.ts';
import { countConfirmed, countCopies, coursePlan, courseTasks, listCourses, type PersonRow } from '../store/course.ts';
import type { Workshop } from '../store/workshop.ts';
import { type CourseFacts, learnersOf, minutesEach, requiredOf, worksOf } from './course-facts.ts';
import { kitOf } from './course-kit.ts';

export function courseLines(store: Workshop): readonly CourseLine[] {
  const confirmed = countConfirmed(store.db);
  const copies = countCopies(store.db);
  return listCourses(store.db).map(({ id, title, startsOn, days }) => ({
    id,
    title,
    startsOn,
    endsOn: dateOf(dayNumber(startsOn) + days - 1),
    confirmed: confirmed.get(id) ?? 0,
    copies: copies.get(id) ?? 0,
  }));
}

export function courseView(store: Workshop, facts: CourseFacts, nowMs: number): Course {
  const { course, confirmed, demonstrations } = facts;
  const { id, ...frame } = course;
  const tools = listTools(store.db);
  const works = worksOf(facts);
  const loads = courseLoads(facts.frame, works, demonstrations, tools);
  const people = facts.people.map((person) => personView(facts, person));
  const kit = kitOf(store.db, facts, nowMs);
  const even = breakEven(course);
  const held = coursePlan(store.db, id, 'allocation');
  const timetable = timetableOf(store, facts);
  const view: Omit<Course, 'verdicts'> = {
    id,
    frame,
    endsOn: facts.endsOn,
    timeZone: facts.timeZone,
    currency: facts.currency,
    people,
    syllabus: facts.syllabus.map((item) => ({
      operationId: item.operationId,
      name: operationById(item.operationId)?.name ?? item.operationId,
      level: operationById(item.operationId)?.level ?? 'newcomer',
      required: item.required,
      demonstrationMinutes: item.demonstrationMinutes,
      copies: facts.copies.filter(({ copy }) => copy.blocked === null && copy.teaches.includes(item.operationId))
        .length,
    })),
    copies: facts.copies.map(({ row, copy, shelfMark }) => ({
      bookId: copy.id,
      title: copy.title,
      shelfMark,
      level: copy.level,
      minutes: copy.minutes,
      teaches: copy.teaches,
      blocked: copy.blocked,
      personId: row.personId,
      locked: row.locked,
      reason: row.reason,
    })),
    allocation: held && { madeAt: held.madeAt, ...(held.quality as unknown as AllocationQuality) },
    timetable,
    hours: facts.windows.map(({ from, to }) => ({
      from: instantOf(facts.origin, from),
      to: instantOf(facts.origin, to),
    })),
    tools,
    loads,
    limits: capacity({
      people: confirmed.length,
      benches: course.benches,
      usableCopies: facts.copies.filter(({ copy }) => copy.blocked === null).length,
      spares: course.spares,
      leastCopiesEach: course.copiesEach[0],
      loads,
    }),
    kit: kit.lines,
    kitRemarks: kit.remarks,
    money: {
      breakEven: even.ok ? even.value : null,
      breakEvenWords: even.ok ? '' : even.refusal.sentence,
      confirmed: confirmed.length,
      resultMinor: resultOf(course, confirmed.length),
      coveringFeeMinor: coveringFee(course, confirmed.length),
    },
  };
  return { ...view, verdicts: verdictsOf(facts, view) };
}

/** What a plan row of an allocation keeps. */
export type AllocationQuality = Readonly<{ proven: boolean; gap: number | null; value: AllocationValue }>;

function personView(facts: CourseFacts, person: PersonRow): CoursePerson {
  const own = facts.copies.filter(({ row }) => row.personId === person.id).map(({ copy }) => copy);
  const meets = [...new Set(own.flatMap((copy) => copy.teaches))];
  const required = requiredOf(facts);
  const excused = excusedFrom(person.allergies, required);
  const { courseId: _, ...typed } = person;
  return {
    ...typed,
    unknownAllergies: person.allergies.filter(
      (allergy) => ![...materialKinds, ...hazardKinds].some((word) => sameWords(allergy, word)),
    ),
    minutes: own.reduce((sum, copy) => sum + learnerMinutes(copy.minutes, person.level), 0),
    ownMinutes: minutesEach(facts),
    meets,
    excused,
    lacks: required.filter((id) => !meets.includes(id) && !excused.includes(id)),
  };
}

function timetableOf(store: Workshop, facts: CourseFacts): Course['timetable'] {
  const plan = coursePlan(store.db, facts.course.id, 'course');
  if (!plan) return null;
  const tasks = courseTasks(store.db, plan.id).map((task) => ({
    ...task,
    cautions:
      task.kind === 'hands' || task.kind === 'demonstration'
        ? (operationById(task.operationId)?.cautions ?? []).map(({ sentence }) => sentence)
        : [],
  }));
  const planned = new Set(tasks.flatMap((task) => (task.bookId ? [`${task.bookId} ${task.personId}`] : [])));
  const wanted = worksOf(facts).map((work) => `${work.copyId} ${work.personId}`);
  const stale = planned.size !== wanted.length || wanted.some((pair) => !planned.has(pair));
  return { madeAt: plan.madeAt, quality: plan.quality as unknown as Quality, stale, tasks };
}

/** Everything that stands between this course and its first morning, in the order in which it is put right. */
function verdictsOf(facts: CourseFacts, view: Omit<Course, 'verdicts'>): readonly Verdict[] {
  const { confirmed } = facts;
  const verdicts: Verdict[] = [];
  const say = (what: string, fits: boolean, sentence: string) => verdicts.push({ what, fits, sentence });
  const names = (some: readonly Readonly<{ name: string }>[]) => some.map(({ name }) => name).join(', ');

  const free = view.frame.benches - confirmed.length;
  say(
    'Places',
    confirmed.length > 0 && free >= 0,
    confirmed.length === 0
      ? 'Nobody is confirmed yet.'
      : free >= 0
        ? `${confirmed.length} confirmed at ${view.frame.benches} benches.`
        : `${confirmed.length} are confirmed and there are ${view.frame.benches} benches.`,
  );
  const unknown = view.people.filter((one) => one.standing === 'confirmed' && one.unknownAllergies.length > 0);
  if (unknown.length > 0) {
    say(
      'Allergies',
      false,
      `${unknown.map((one) => `${one.name}: ${one.unknownAllergies.join(', ')}`).join('; ')}. No material goes by these words, so nothing is kept from them for it: see to it yourself.`,
    );
  }
  const excused = view.people.filter((one) => one.standing === 'confirmed' && one.excused.length > 0);
  if (excused.length > 0) {
    say(
      'Allergies',
      true,
      `${excused.map((one) => `${one.name} watches and does not do ${one.excused.join(', ')}`).join('; ')}: it cannot be done without what they must not meet.`,
    );
  }
  const learners = new Map(learnersOf(facts).map((learner) => [learner.id, learner]));
  const wrong = facts.copies.flatMap(({ row, copy }) => {
    const learner = learners.get(row.personId ?? '');
    const because = learner && whyNot(learner, copy);
    return because ? [`“${copy.title}”: ${because}`] : [];
  });
  if (wrong.length > 0) say('Safety', false, `Take back before anything else: ${wrong.join(' ')}`);
  const wanting = view.people.filter((one) => one.standing === 'confirmed' && one.lacks.length > 0);
  const required = view.syllabus.filter((item) => item.required).length;
  if (required > 0 && confirmed.length > 0) {
    say(
      'Operations',
      wanting.length === 0,
      wanting.length === 0
        ? `Everybody meets all ${required} required operations.`
        : `${names(wanting)} ${wanting.length === 1 ? 'does' : 'do'} not meet every required operation yet.`,
    );
  } else if (required === 0) say('Operations', false, 'The syllabus asks for nothing yet.');
  const over = view.people.filter((one) => one.standing === 'confirmed' && one.minutes > one.ownMinutes);
  if (over.length > 0)
    say('Hours', false, `${names(over)} ${over.length === 1 ? 'has' : 'have'} more work than hours.`);
  const heaviest = view.loads[0];
  if (heaviest && share(heaviest) > 1) {
    say(
      'Shared things',
      false,
      `The ${heaviest.what} would be needed ${Math.round(share(heaviest) * 100)} % of the time there is.`,
    );
  }
  if (view.timetable === null) say('Timetable', false, 'The week is not laid out yet.');
  else if (view.timetable.stale)
    say('Timetable', false, 'The week was laid out for another allocation; lay it out again.');
  else {
    const late = view.timetable.quality.late;
    say(
      'Timetable',
      late === 0,
      late === 0
        ? 'All work is done and dry by the last hour of the course.'
        : `${late} ${late === 1 ? 'step is' : 'steps are'} not done by the last hour; most in demand ${heaviest ? `is the ${heaviest.what}` : 'are the hours'}.`,
    );
  }
  const lateKit = view.kit.filter((line) => line.late);
  const missing = view.kit.filter((line) => line.missing > 0);
  if (view.kit.length > 0) {
    say(
      'Kit',
      missing.length === 0,
      missing.length === 0
        ? 'All material is on hand.'
        : `${missing.length} ${missing.length === 1 ? 'material is' : 'materials are'} to be ordered${lateKit.length > 0 ? `, ${lateKit.length} too late by the usual way` : ''}.`,
    );
  }
  const { breakEven: even, resultMinor } = view.money;
  say(
    'Money',
    resultMinor >= 0,
    even === null
      ? view.money.breakEvenWords
      : `It pays from ${even} ${even === 1 ? 'person' : 'people'}; ${confirmed.length} are confirmed.`,
  );
  return verdicts;
}
