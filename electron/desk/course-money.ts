/** The course's money beyond its break-even: deposits, the day of decision with what is to be decided, and how far each figure may go. */
import type { CourseMoney } from '../../core/contract/course-plan.ts';
import { breakEven, decide, marginOfSafety, resultOf, sensitivity } from '../../core/course/money.ts';
import { type Result, refuse } from '../../core/result.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { depositsOf, termsOf } from '../store/course-plan.ts';
import { courseTerms, deposit } from '../store/schema-course-plan.ts';
import type { Workshop } from '../store/workshop.ts';
import type { CourseFacts } from './course-facts.ts';

/** Steps of the table, as fractions of the present figure. */
const changes = [-0.2, -0.1, 0, 0.1, 0.2];
const around = 4;

export function moneyView(store: Workshop, facts: CourseFacts, nowMs: number): CourseMoney {
  const { course, confirmed } = facts;
  const kept = termsOf(store.db, course.id);
  const terms = {
    depositMinor: kept?.depositMinor ?? 0,
    decideOn: kept?.decideOn ?? null,
    lostMinor: kept?.lostMinor ?? 0,
  };
  const paid = new Map(depositsOf(store.db, course.id).map((row) => [row.personId, row]));
  const deposits = facts.people
    .filter(({ id, standing }) => standing === 'confirmed' || standing === 'offered' || paid.has(id))
    .map(({ id, name, standing }) => ({
      personId: id,
      name,
      standing,
      paidMinor: paid.get(id)?.paidMinor ?? 0,
      paidOn: paid.get(id)?.paidOn ?? null,
    }));
  const count = confirmed.length;
  const decision = decide(course, terms.lostMinor, count);
  const even = breakEven(course);
  const heads = Array.from({ length: 2 * around + 1 }, (_, index) => count - around + index).filter(
    (head) => head >= 1,
  );
  const today = dayNumber(dateIn(facts.timeZone, nowMs));
  return {
    terms,
    deposits,
    depositsMinor: deposits
      .filter(({ standing }) => standing === 'confirmed')
      .reduce((sum, { paidMinor }) => sum + paidMinor, 0),
    owing: deposits
      .filter(({ standing, paidMinor }) => standing === 'confirmed' && paidMinor < terms.depositMinor)
      .map(({ name }) => name),
    decision,
    daysLeft: terms.decideOn === null ? null : dayNumber(terms.decideOn) - today,
    words: decisionWords(decision, count, even.ok ? even.value : null),
    margin: even.ok ? marginOfSafety(count, even.value) : null,
    sensitivity: sensitivity(course, count, changes),
    grid: {
      people: heads,
      fees: changes.map((change) => ({
        change,
        results: heads.map((head) =>
          resultOf({ ...course, feeMinor: Math.round(course.feeMinor * (1 + change)) }, head),
        ),
      })),
    },
  };
}

/** What there is to decide, without the sums, which stand beside it. */
function decisionWords({ verdict, goFrom }: CourseMoney['decision'], people: number, even: number | null): string {
  const count = (number: number) => `${number} ${number === 1 ? 'person' : 'people'}`;
  if (verdict === 'pays') return `Go: with ${count(people)} it pays.`;
  if (verdict === 'less is lost')
    return `Go all the same: with ${count(people)} it does not pay${even === null ? '' : `, which takes ${even}`}, but calling it off would lose no less, since that money is gone either way.`;
  if (goFrom === null) return 'Call it off, or ask a higher fee: no number of people makes it worth while.';
  return `Call it off, unless ${count(Math.max(0, goFrom - people))} more can be found: from ${count(goFrom)} less is lost by going than by calling off${even === null || even === goFrom ? '' : `, and from ${even} it pays`}.`;
}

function dateIn(timeZone: string, nowMs: number): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(
    nowMs,
  );
}

type Terms = Readonly<{ depositMinor: number; decideOn: string | null; lostMinor: number }>;

export function setTerms(store: Workshop, { course }: CourseFacts, terms: Terms): Result<unknown> {
  if (terms.depositMinor > course.feeMinor) return refuse('The deposit is more than the fee.', 'depositMinor');
  if (terms.lostMinor > course.fixedCostMinor)
    return refuse('No more can be lost by then than the fixed costs come to.', 'lostMinor');
  if (terms.decideOn !== null && terms.decideOn > course.startsOn)
    return refuse(`It must be decided by ${dateOf(dayNumber(course.startsOn))}, when the course begins.`, 'decideOn');
  const before = termsOf(store.db, course.id);
  return store.write(`Set the terms of ${course.title}`, (change) => {
    if (before) change.update(courseTerms, before.id, terms);
    else change.insert(courseTerms, { ...terms, courseId: course.id });
  });
}

type Paid = Readonly<{ personId: string; paidMinor: number; paidOn: string }>;

export function setDeposit(
  store: Workshop,
  facts: CourseFacts,
  { personId, paidMinor, paidOn }: Paid,
): Result<unknown> {
  const person = facts.people.find(({ id }) => id === personId);
  if (!person) return refuse('This person is not on the list any more.', 'personId');
  const before = depositsOf(store.db, facts.course.id).find((row) => row.personId === personId);
  const label = paidMinor === 0 ? `Take off the deposit of ${person.name}` : `Book the deposit of ${person.name}`;
  return store.write(label, (change) => {
    if (paidMinor === 0) {
      if (before) change.remove(deposit, before.id);
    } else if (before) change.update(deposit, before.id, { paidMinor, paidOn });
    else change.insert(deposit, { personId, paidMinor, paidOn });
  });
}
