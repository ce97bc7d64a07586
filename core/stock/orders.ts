/**
 * What to order, by which day, how much. The day: the first on which the balance falls below the safety stock, less the lead time. The amount:
 * at least what brings the lowest balance back to the safety stock, at best the economic order quantity (F. W. Harris 1913, R. H. Wilson 1934:
 * √(2 × yearly use × cost of an order / cost of keeping one for a year)), in whole packs, never more than keeps. Safety stock covers what use
 * varies by over the lead time at a stated service level (z × σ of a day × √days; any text on inventory).
 */
import { amountWords, toMillionths } from './ledger.ts';
import type { Material } from './material.ts';
import { dateOf, dayNumber, type Projection } from './projection.ts';

/** Chances of not running out while an order is under way, and the normal deviate of each (NIST/SEMATECH e-Handbook, table 1.3.6.7.1). */
const deviates = { '90 %': 1.2816, '95 %': 1.6449, '97.5 %': 1.96, '99 %': 2.3263 } as const;
export type ServiceLevel = keyof typeof deviates;

export type OrderHabits = Readonly<{
  serviceLevel: ServiceLevel;
  /** Postage and the trouble of one order, in minor units of money. */
  orderCostMinor: number;
  /** Share of its price that keeping a thing for a year costs. */
  holdingShare: number;
}>;

/** 95 %, six of the currency's units an order, a fifth of the price a year. Common practice, no source. */
export const usualOrderHabits: OrderHabits = { serviceLevel: '95 %', orderCostMinor: 600, holdingShare: 0.2 };

/** √(2DS/H): yearly use, cost of an order, cost of keeping one unit a year, all above zero; in units of use. */
export function economicQuantity(yearlyUse: number, orderCost: number, keepingCost: number): number {
  return Math.sqrt((2 * yearlyUse * orderCost) / keepingCost);
}

/** Stock against chance: the deviate of the level times the deviation of a day's use over the lead time. */
export function safetyStock(deviationPerDay: number, leadDays: number, level: ServiceLevel): number {
  return deviates[level] * deviationPerDay * Math.sqrt(leadDays);
}

/** Use from the ledger: what went out or was wasted in each whole week, latest last, in the material's unit. */
export type Usage = Readonly<{ weeks: readonly number[] }>;

/** Fewer weeks of ledger than this say nothing about how use varies. Common practice, no source. */
const weeksNeeded = 6;

export type UsageFigures = Readonly<{ perDay: number; deviationPerDay: number; enough: boolean }>;

/** Mean and deviation of a day's use, from weeks taken as seven like days. */
export function usageFigures({ weeks }: Usage): UsageFigures {
  if (weeks.length < weeksNeeded) return { perDay: 0, deviationPerDay: 0, enough: false };
  const mean = weeks.reduce((sum, week) => sum + week, 0) / weeks.length;
  const variance = weeks.reduce((sum, week) => sum + (week - mean) ** 2, 0) / (weeks.length - 1);
  return { perDay: mean / 7, deviationPerDay: Math.sqrt(variance / 7), enough: true };
}

export type OrderAdvice = Readonly<{
  packs: number;
  quantity: number;
  /** Null: nothing dated needs it; before the agreed treatments are begun. */
  orderBy: string | null;
  /** The order day lies behind us: what is ordered now comes too late for the first need. */
  late: boolean;
  costMinor: number;
  /** The rule and the figures it was worked out from, a sentence each. */
  working: readonly string[];
}>;

export type AdviceInput = Readonly<{
  today: string;
  material: Pick<Material, 'unit' | 'packQuantity' | 'packPriceMinor' | 'leadDays' | 'shelfLifeDays'>;
  /** Run with the safety stock as its floor. Balances in millionths. */
  projection: Projection;
  /** In the material's unit. */
  safety: number;
  usage: UsageFigures;
  /** What is promised on days within the horizon, in the material's unit. */
  promised: number;
  habits: OrderHabits;
}>;

/** What to order now or later, or null where what is there and coming lasts. */
export function adviseOrder(input: AdviceInput): OrderAdvice | null {
  const { today, material, projection, safety, usage } = input;
  const lowest = projection.lowest / 1e6;
  const reorderPoint = usage.enough ? usage.perDay * material.leadDays + safety : 0;
  const position = projection.afterAll / 1e6;
  const short = lowest < safety - 1e-9;
  // Nothing is promised, yet the usual use would eat into the safety stock before an order came.
  const usual = !short && usage.enough && usage.perDay > 0 && position <= reorderPoint;
  if (!short && !usual) return null;

  const need = short ? safety - lowest : reorderPoint - position;
  // One course does not make a yearly use of its kind: without a ledger no more is reckoned with than is promised.
  const yearly = Math.max(usage.perDay * 365, input.promised);
  const packs = packsFor(input, need, yearly);
  const orderBy = usual ? today : orderDay(projection.helpableOn, material.leadDays);
  const inTime = orderDay(projection.belowFloorOn, material.leadDays);
  const words = (quantity: number, whole?: 'up') => amountWords(toMillionths(quantity), material.unit, whole);
  const working = [
    short
      ? `${lowest < 0 ? `In all ${words(-lowest, 'up')} would be missing` : `The balance falls to ${words(lowest)}`}; ${words(need, 'up')} more would bring it back to ${safety > 0 ? `the safety stock of ${words(safety)}` : 'nothing missing'}.`
      : `Left: ${words(position)}, of the ${words(reorderPoint)} at which it is time: ${words(usage.perDay * 7)} a week over ${days(material.leadDays)}, and the safety stock.`,
    ...economics(input, yearly),
    `${packs} ${packs === 1 ? 'pack' : 'packs'} of ${words(material.packQuantity)}.`,
  ];
  return {
    packs,
    quantity: packs * material.packQuantity,
    orderBy,
    late: orderBy === today && inTime !== null && inTime < today,
    costMinor: packs * material.packPriceMinor,
    working,
  };
}

/** A parcel of the day before the need is there in time; one of the same day is not. */
function orderDay(needed: string | null, leadDays: number): string | null {
  return needed === null ? null : dateOf(dayNumber(needed) - leadDays - 1);
}

/** Whole packs: enough for the need; more where the economic quantity says so, up to what is used while it keeps and within a year. */
function packsFor({ material, habits }: AdviceInput, need: number, yearly: number): number {
  const least = Math.max(1, Math.ceil(need / material.packQuantity - 1e-9));
  const unitPrice = material.packPriceMinor / material.packQuantity;
  if (yearly <= 0 || unitPrice <= 0) return least;
  const keeping = unitPrice * habits.holdingShare;
  const best = economicQuantity(yearly, habits.orderCostMinor, keeping) / material.packQuantity;
  const cost = (packs: number) => {
    const quantity = packs * material.packQuantity;
    return (habits.orderCostMinor * yearly) / quantity + (keeping * quantity) / 2;
  };
  const [under, over] = [Math.max(1, Math.floor(best)), Math.max(1, Math.ceil(best))];
  const economic = cost(under) <= cost(over) ? under : over;
  const used = (yearly * (material.shelfLifeDays ?? 365)) / 365;
  const keeps = Math.max(1, Math.floor(used / material.packQuantity));
  return Math.max(least, Math.min(economic, keeps));
}

function economics({ material, habits, usage }: AdviceInput, yearly: number): readonly string[] {
  const unitPrice = material.packPriceMinor / material.packQuantity;
  if (yearly <= 0 || unitPrice <= 0) return [];
  const best = economicQuantity(yearly, habits.orderCostMinor, unitPrice * habits.holdingShare);
  const words = (quantity: number) => amountWords(toMillionths(quantity), material.unit);
  const life =
    material.shelfLifeDays === null
      ? ' No more is bought for thrift than is used in a year.'
      : ` It keeps ${days(material.shelfLifeDays)}; no more is bought for thrift than is used in them.`;
  return [
    `At a use of ${words(yearly)} a year, ${usage.perDay * 365 >= yearly ? 'by the ledger' : 'by what is promised'}, the economic order is ${words(best)}: an order costs ${figure(habits.orderCostMinor / 100)}, keeping ${Math.round(habits.holdingShare * 100)} % of the price a year.${life}`,
  ];
}

function days(count: number): string {
  return count === 1 ? '1 day' : `${count} days`;
}

function figure(amount: number): string {
  return String(Math.round(amount * 100) / 100);
}
