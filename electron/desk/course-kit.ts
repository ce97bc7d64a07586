/** What courses use up: as needs by day for the Stockroom, and as the course's own list of what to bring in. */
import type { KitLine } from '../../core/contract/course.ts';
import { kitNeeds } from '../../core/course/kit.ts';
import { drawOf } from '../../core/stock/demand.ts';
import { type DatedNeed, dateOf, dayNumber } from '../../core/stock/projection.ts';
import { coursePlan, courseTasks, listCourses } from '../store/course.ts';
import { listStocked } from '../store/stockroom.ts';
import type { Reader, Workshop } from '../store/workshop.ts';
import { type CourseFacts, readCourse, worksOf } from './course-facts.ts';

/** Needs of every course that is not over, each on the day it is planned for, or else on the course's first day. */
export function courseNeeds(store: Workshop, today: Readonly<{ date: string }>): readonly DatedNeed[] {
  return listCourses(store.db).flatMap(({ id, startsOn, days }) => {
    if (dayNumber(startsOn) + days <= dayNumber(today.date)) return [];
    const facts = readCourse(store, id, 0);
    return facts.ok ? needsOfCourse(store.db, facts.value) : [];
  });
}

function needsOfCourse(db: Reader, facts: CourseFacts): readonly DatedNeed[] {
  const plan = coursePlan(db, facts.course.id, 'course');
  const days = new Map<string, string>();
  for (const task of plan ? courseTasks(db, plan.id) : []) {
    const key = `${task.bookId} ${task.operationId}`;
    if (task.kind === 'hands' && !days.has(key)) days.set(key, dayOf(facts, task.startAt));
  }
  const colours = new Map(facts.copies.map(({ row, colour }) => [row.bookId, colour]));
  return kitNeeds(
    facts.course.id,
    worksOf(facts).map(({ copyId, title, steps }) => ({
      copyId,
      title,
      steps,
      colour: colours.get(copyId) ?? '',
      dates: steps.map((step) => days.get(`${copyId} ${step.operationId}`) ?? facts.course.startsOn),
    })),
  );
}

/** The course's list by material and day, the dearest shortage first. */
export function kitOf(
  db: Reader,
  facts: CourseFacts,
  nowMs: number,
): Readonly<{ lines: readonly KitLine[]; remarks: readonly string[] }> {
  const cupboard = listStocked(db).map(({ material, onHandMillionths }) => ({
    material,
    onHand: onHandMillionths / 1e6,
  }));
  const today = dayNumber(dayOf(facts, nowMs));
  const first = dayNumber(facts.course.startsOn);
  const remarks = new Set<string>();
  const byMaterial = new Map<string, number[]>();
  for (const need of needsOfCourse(db, facts)) {
    const { draw, remark } = drawOf(need.need, cupboard, { colour: need.colour });
    if (remark !== '') remarks.add(remark);
    if (draw === null) continue;
    const days = byMaterial.get(draw.materialId) ?? Array.from({ length: facts.course.days }, () => 0);
    const day = Math.min(facts.course.days - 1, Math.max(0, dayNumber(need.date ?? facts.course.startsOn) - first));
    days[day] = (days[day] ?? 0) + draw.quantity;
    byMaterial.set(draw.materialId, days);
  }
  const lines = cupboard.flatMap(({ material, onHand }): KitLine[] => {
    const byDay = byMaterial.get(material.id);
    if (!byDay) return [];
    const total = byDay.reduce((sum, quantity) => sum + quantity, 0);
    const missing = Math.max(0, total - onHand);
    const packs = missing > 0 ? Math.ceil(missing / material.packQuantity - 1e-9) : 0;
    const wanted = first + shortDay(byDay, onHand) - material.leadDays;
    return [
      {
        materialId: material.id,
        name: material.name,
        unit: material.unit,
        byDay,
        total,
        onHand,
        missing,
        packs,
        costMinor: packs * material.packPriceMinor,
        orderBy: missing > 0 ? dateOf(wanted) : null,
        late: missing > 0 && wanted < today,
      },
    ];
  });
  return {
    lines: lines.toSorted(
      (one, other) => Number(other.missing > 0) - Number(one.missing > 0) || (one.name < other.name ? -1 : 1),
    ),
    remarks: [...remarks],
  };
}

/** The day of the course, from 0, on which what is on hand is used up. */
function shortDay(byDay: readonly number[], onHand: number): number {
  let left = onHand;
  for (const [day, quantity] of byDay.entries()) {
    left -= quantity;
    if (left < 0) return day;
  }
  return 0;
}

/** The calendar date an instant falls on where the workshop is. */
function dayOf({ timeZone }: Pick<CourseFacts, 'timeZone'>, at: number): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(at);
}
