/** Whether a course works: a sentence and a mark for each thing a person wants to know before saying so. */
import type { Course, CoursePerson, Verdict } from '../../core/contract/course.ts';
import { keptFrom, type Learner, whyNot } from '../../core/course/eligible.ts';
import { share } from '../../core/course/loads.ts';
import { inWords, quotedNames } from '../../core/course/names.ts';
import { underworked } from '../../core/course/room.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { type CourseFacts, learnersOf } from './course-facts.ts';

/** Everything that stands between this course and its first morning, in the order in which it is put right. */
export function verdictsOf(facts: CourseFacts, view: Omit<Course, 'verdicts'>): readonly Verdict[] {
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
  const learners = new Map(learnersOf(facts).map((learner) => [learner.id, learner]));
  const wrong = facts.copies.flatMap(({ row, copy }) => {
    const learner = learners.get(row.personId ?? '');
    const because = learner && whyNot(learner, copy);
    return because ? [`“${copy.title}”: ${because}`] : [];
  });
  if (wrong.length > 0) say('Safety', false, `Take back before anything else: ${wrong.join(' ')}`);
  const required = view.syllabus.filter((item) => item.required).length;
  if (required === 0) say('Operations', false, 'The syllabus asks for nothing yet.');
  else if (confirmed.length > 0) verdicts.push(operationsVerdict(facts, view, required));
  const over = view.people.filter((one) => one.standing === 'confirmed' && one.minutes > one.ownMinutes);
  if (over.length > 0)
    say('Hours', false, `${names(over)} ${over.length === 1 ? 'has' : 'have'} more work than hours.`);
  const little = workVerdict(facts, [...learners.values()]);
  if (little !== null) verdicts.push(little);
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
  const lateKit = view.kit.filter((line) => line.late || (line.missing > 0 && line.packs === 0));
  const missing = view.kit.filter((line) => line.missing > 0 || line.packs > 0);
  if (view.kit.length > 0) {
    say(
      'Kit',
      missing.length === 0,
      missing.length === 0
        ? 'All material is on hand or on its way, with what the bench and other plans use before.'
        : `${missing.length} ${missing.length === 1 ? 'material is' : 'materials are'} to be ordered, with what the bench and other plans use before${lateKit.length > 0 ? `; ${lateKit.length} ${lateKit.length === 1 ? 'comes' : 'come'} too late by the usual way` : ''}.`,
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

/** Whether everybody meets what is asked of everybody; who only watches, and for what. */
function operationsVerdict(facts: CourseFacts, { people }: Omit<Course, 'verdicts'>, required: number): Verdict {
  const coming = people.filter((one) => one.standing === 'confirmed');
  const wanting = coming.filter((one) => one.lacks.length > 0);
  const watching = coming.filter((one) => one.excused.length > 0);
  const full = coming.filter((one) => one.lacks.length === 0 && one.excused.length === 0).length;
  if (full === coming.length) {
    return { what: 'Operations', fits: true, sentence: `Everybody meets all ${required} required operations.` };
  }
  const lacking =
    wanting.length === 0
      ? []
      : wanting.length <= 2
        ? wanting.map((one) => `${one.name} does not meet ${quotedNames(one.lacks, facts.ownNames)} yet`)
        : [`${inWords(wanting.map(({ name }) => name))} do not meet every one yet`];
  const watchers = watching.map(
    (one) => `${one.name} watches ${quotedNames(one.excused, facts.ownNames)} (${causesOf(facts, one).join(', ')})`,
  );
  const sentence = `${full} of ${coming.length} ${full === 1 ? 'meets' : 'meet'} all ${required} required operations; ${[...lacking, ...watchers].join('; ')}.`;
  return { what: 'Operations', fits: false, sentence };
}

/** What keeps a person from the operations they only watch, each once. */
function causesOf({ library }: CourseFacts, { allergies, excused }: CoursePerson): readonly string[] {
  return [...new Set(excused.flatMap((id) => keptFrom(allergies, id, library) ?? []))];
}

/** Who has too little to do once copies are in hands, how much more each could be given, and what to change; null where all have enough. */
function workVerdict(facts: CourseFacts, learners: readonly Learner[]): Verdict | null {
  const coming = new Set(learners.map(({ id }) => id));
  const inHands = facts.copies.filter(({ row }) => coming.has(row.personId ?? ''));
  if (inHands.length === 0) return null;
  const free = facts.copies
    .filter(({ row, copy }) => !coming.has(row.personId ?? '') && !row.locked && copy.blocked === null)
    .map(({ copy }) => copy);
  const { copiesEach, spares } = facts.course;
  const [least, most] = copiesEach;
  const copiesOf = ({ id }: Learner) => inHands.flatMap(({ row, copy }) => (row.personId === id ? [copy] : []));
  const idle = underworked(learners, copiesOf, free);
  if (idle.length === 0) return null;
  const beyond = Math.max(0, free.length - spares);
  const byRoom = Map.groupBy(idle, ({ fitting }) => Math.min(fitting, beyond));
  const each = [...byRoom]
    .toSorted(([one], [other]) => other - one)
    .map(([room, people]) => {
      const all = people.map(({ learner, minutes }) => `${learner.name} ${minutesWords(minutes)}`).join(', ');
      return `${room > 0 ? `room for ${room} more` : 'room for none of the free copies'}: ${all}`;
    });
  const who = `${idle.length} of ${learners.length} ${idle.length === 1 ? 'has' : 'have'} too little to do for ${minutesWords(learners[0]?.minutes ?? 0)}; ${each.join('; ')}.`;
  const kept = spares > 0 ? ` beyond the ${spares} kept back` : '';
  const unused = `${beyond} ${beyond === 1 ? 'copy is' : 'copies are'} free${kept}`;
  return { what: 'Work', fits: false, sentence: `${who} ${change()}` };

  function change(): string {
    if (beyond === 0) return `No copy is free${kept}: put more on the course, or shorten it.`;
    if (!idle.some(({ fitting }) => fitting > 0)) {
      return `${unused}, and none of them suits these people: put others on the course, or shorten it.`;
    }
    if (idle.every(({ has, fitting }) => fitting === 0 || has >= most)) {
      return `${unused}, and nobody is to have more than ${most}: allow ${most + 1} each and allocate again, or give them out at Copies.`;
    }
    const counts = learners.map((learner) => copiesOf(learner).length);
    const asks = (each: number) => counts.reduce((sum, has) => sum + Math.max(0, each - has), 0);
    const next = Math.max(least, Math.min(...counts)) + 1;
    const again = next <= most && asks(next) <= beyond ? `ask for at least ${next} each and allocate again, or ` : '';
    return `${unused}, and each may have up to ${most}: ${again}give them out at Copies.`;
  }
}
