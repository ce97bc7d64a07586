/** The whole cupboard worked out: what every material has, owes and expects, how long that lasts, and what to order. */
import { Temporal } from 'temporal-polyfill';
import { type Cover, coverOf } from '../../core/stock/cover.ts';
import { drawOf } from '../../core/stock/demand.ts';
import { toMillionths } from '../../core/stock/ledger.ts';
import type { Material } from '../../core/stock/material.ts';
import {
  adviseOrder,
  type OrderAdvice,
  type OrderHabits,
  safetyStock,
  type UsageFigures,
  usageFigures,
  usualOrderHabits,
} from '../../core/stock/orders.ts';
import { type DatedNeed, type Projection, type Promised, project } from '../../core/stock/projection.ts';
import { readHabits } from '../store/habits.ts';
import { type ArrivalRow, listStocked, openArrivals, usedByWeek } from '../store/stockroom.ts';
import { listRecipes, readTerms } from '../store/stockroom-terms.ts';
import type { Workshop } from '../store/workshop.ts';
import { courseNeeds } from './course-kit.ts';
import { leadDaysOf } from './stockroom-changes.ts';
import { finishedPromises } from './stockroom-finished.ts';
import { type Asking, benchNeeds, type Today } from './stockroom-needs.ts';

/** Far enough to see a course coming while there is time to order for it. */
export const horizonDays = 90;

/** The rooms that ask the cupboard for material. */
const asking: readonly Asking[] = [benchNeeds, courseNeeds];

export type Figures = Readonly<{
  material: Material;
  /** As long as a parcel of its supplier takes, or longer. */
  leadDays: number;
  onHandMillionths: number;
  promises: readonly Promised[];
  arrivals: readonly ArrivalRow[];
  usage: UsageFigures;
  /** In the material's unit. */
  safety: number;
  projection: Projection;
  advice: OrderAdvice | null;
  cover: Cover;
}>;

export type Cupboard = Readonly<{ today: string; figures: readonly Figures[]; remarks: readonly string[] }>;

export function readToday(store: Workshop, now: number): Today {
  const { timeZone } = readHabits(store.db).habits;
  const dateOf = (instant: number) =>
    Temporal.Instant.fromEpochMilliseconds(instant).toZonedDateTimeISO(timeZone).toPlainDate().toString();
  return { now, date: dateOf(now), dateOf };
}

export function readCupboard(store: Workshop, now: number): Cupboard {
  const today = readToday(store, now);
  const stocked = listStocked(store.db);
  const shelf = stocked.map(({ material, onHandMillionths }) => ({ material, onHand: onHandMillionths / 1e6 }));
  const promises = new Map<string, Promised[]>(stocked.map(({ material }) => [material.id, []]));
  const remarks = new Set<string>();
  for (const { materialId, ...promise } of finishedPromises(store, today)) promises.get(materialId)?.push(promise);
  for (const asked of onceEach(asking.flatMap((ask) => ask(store, today)))) {
    const { need, colour, ...rest } = asked;
    const { draw, remark } = drawOf(need, shelf, { colour });
    if (draw === null) remarks.add(remark);
    else {
      promises.get(draw.materialId)?.push({
        ...rest,
        quantityMillionths: toMillionths(draw.quantity),
        working: draw.working,
      });
    }
  }
  const arrivals = Map.groupBy(openArrivals(store.db), (row) => row.materialId);
  const weeks = usedByWeek(store.db, now);
  const terms = readTerms(store.db);
  const madeHere = new Set(listRecipes(store.db).map((row) => row.materialId));
  const figures = stocked.map(({ material, onHandMillionths }) => {
    const usage = usageFigures({ weeks: weeks.get(material.id) ?? [] });
    const of = terms.get(material.supplier);
    return figuresOf({
      material,
      onHandMillionths,
      promises: promises.get(material.id)!,
      arrivals: arrivals.get(material.id) ?? [],
      usage,
      today: today.date,
      leadDays: leadDaysOf(material, of),
      isMadeHere: madeHere.has(material.id),
      habits: of === undefined ? usualOrderHabits : { ...usualOrderHabits, orderCostMinor: of.postageMinor },
    });
  });
  return { today: today.date, figures, remarks: [...remarks] };
}

/** A step of a book that is done on a course is not also done at the bench some day: the course's row stands for both. */
function onceEach(needs: readonly DatedNeed[]): readonly DatedNeed[] {
  const taught = new Set(needs.filter(({ purpose }) => purpose === 'course').map(stepKey));
  return needs.filter((need) => need.purpose !== 'treatments' || !taught.has(stepKey(need)));
}

function stepKey({ bookId, why }: DatedNeed): string {
  return `${bookId} ${why}`;
}

type Given = Pick<Figures, 'material' | 'onHandMillionths' | 'promises' | 'arrivals' | 'usage' | 'leadDays'> &
  Readonly<{ today: string; habits: OrderHabits; isMadeHere: boolean }>;

function figuresOf(given: Given): Figures {
  const { material, onHandMillionths, promises, arrivals, usage, today, leadDays, habits, isMadeHere } = given;
  const safety = usage.enough ? safetyStock(usage.deviationPerDay, leadDays, habits.serviceLevel) : 0;
  const projection = project({
    today,
    horizonDays,
    onHandMillionths,
    promises,
    arrivals,
    floorMillionths: toMillionths(safety),
    leadDays,
  });
  const promised = sumOf(promises.filter((one) => one.date !== null)) / 1e6;
  // What is made here is never ordered; what it is made of is.
  const advice = isMadeHere
    ? null
    : adviseOrder({
        today,
        material: { ...material, leadDays },
        projection,
        safety,
        usage,
        promised,
        habits,
      });
  const cover = coverOf({
    today,
    unit: material.unit,
    leadDays,
    projection,
    advice,
    promised: promises.length > 0,
    onHandMillionths,
    usage,
    nextDueOn: arrivals[0]?.dueOn ?? null,
  });
  return { material, leadDays, onHandMillionths, promises, arrivals, usage, safety, projection, advice, cover };
}

export function sumOf(rows: readonly Readonly<{ quantityMillionths: number }>[]): number {
  return rows.reduce((sum, row) => sum + row.quantityMillionths, 0);
}
