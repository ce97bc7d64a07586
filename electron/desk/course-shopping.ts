/**
 * What one course uses up, by material and day, and what to order for it. The days are the course's own; what to order, how much and by when
 * is the Stockroom's one reckoning, which counts what the bench and other courses take before.
 */
import type { KitLine } from '../../core/contract/course.ts';
import { drawOf } from '../../core/stock/demand.ts';
import { dayNumber } from '../../core/stock/projection.ts';
import type { Workshop } from '../store/workshop.ts';
import type { CourseFacts } from './course-facts.ts';
import { needsOfCourse } from './course-kit.ts';
import { type Figures, readCupboard } from './stockroom-figures.ts';

type Kit = Readonly<{ lines: readonly KitLine[]; remarks: readonly string[] }>;

/** The course's list by material and day, what is to be ordered first. */
export function kitOf(store: Workshop, facts: CourseFacts, nowMs: number): Kit {
  const { today, figures } = readCupboard(store, nowMs);
  const shelf = figures.map(({ material, onHandMillionths }) => ({ material, onHand: onHandMillionths / 1e6 }));
  const first = dayNumber(facts.course.startsOn);
  const remarks = new Set<string>();
  const byMaterial = new Map<string, number[]>();
  for (const { need, colour, date } of needsOfCourse(store.db, facts)) {
    const { draw, remark } = drawOf(need, shelf, { colour });
    if (remark !== '') remarks.add(remark);
    if (draw === null) continue;
    const days = byMaterial.get(draw.materialId) ?? Array.from({ length: facts.course.days }, () => 0);
    const day = Math.min(facts.course.days - 1, Math.max(0, dayNumber(date ?? facts.course.startsOn) - first));
    days[day] = (days[day] ?? 0) + draw.quantity;
    byMaterial.set(draw.materialId, days);
  }
  const lines = figures.flatMap((one): KitLine[] => {
    const byDay = byMaterial.get(one.material.id);
    return byDay ? [lineOf(one, byDay, facts, today)] : [];
  });
  const rank = (line: KitLine) => (line.packs > 0 || line.missing > 0 ? 0 : 1);
  return {
    lines: lines.toSorted((one, other) => rank(one) - rank(other) || (one.name < other.name ? -1 : 1)),
    remarks: [...remarks],
  };
}

function lineOf(one: Figures, byDay: readonly number[], facts: CourseFacts, today: string): KitLine {
  const { material, advice, onHandMillionths } = one;
  const isOver = facts.endsOn < today;
  const order = isOver ? null : advice;
  return {
    materialId: material.id,
    name: material.name,
    unit: material.unit,
    byDay,
    total: byDay.reduce((sum, quantity) => sum + quantity, 0),
    onHand: onHandMillionths / 1e6,
    missing: isOver ? 0 : missingOn(one, facts),
    packs: order?.packs ?? 0,
    costMinor: order?.costMinor ?? 0,
    orderBy: order?.orderBy ?? null,
    late: order?.late ?? false,
  };
}

/** By how much the Stockroom's balance falls below nothing on the days of the course; past its horizon, once everything is taken. */
function missingOn({ projection }: Figures, { course, endsOn }: CourseFacts): number {
  const onItsDays = projection.points.filter(({ date }) => date >= course.startsOn && date <= endsOn);
  const last = projection.points.at(-1)?.date ?? '';
  const lowest = Math.min(0, ...onItsDays.map(({ low }) => low), endsOn > last ? projection.afterAll : 0);
  return Math.max(0, -lowest) / 1e6;
}
