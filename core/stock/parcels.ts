/**
 * Which orders of one supplier go in one parcel. Each thing has the day it must be ordered by; ordering it with an earlier parcel saves postage
 * and costs keeping it longer. The cheapest division of the days into parcels by dynamic programming (H. M. Wagner and T. M. Whitin, "Dynamic
 * Version of the Economic Lot Size Model", Management Science 5, 1958: an order is placed only where the ones before it end). Also what a
 * minimum order still lacks, and what may fill it.
 */
import { dayNumber } from './projection.ts';

export type Terms = Readonly<{
  postageMinor: number;
  /** No postage from this much on; null where it is always asked. */
  freeFromMinor: number | null;
  minimumMinor: number;
}>;

/** `orderBy` null: no day presses, so it rides with whatever goes. `keepsDays`: ordering it earlier than this spoils it. */
export type Wanted = Readonly<{ id: string; orderBy: string | null; costMinor: number; keepsDays: number | null }>;

export type Parcel = Readonly<{
  /** The day to order by; null where nothing in it has one. */
  orderBy: string | null;
  ids: readonly string[];
  goodsMinor: number;
  postageMinor: number;
  /** What is lacking to the minimum order; 0 where it is reached. */
  lackingMinor: number;
  /** Brought forward from a later day of its own, with the days; keeping them so long is cheaper than another postage. */
  broughtForward: readonly Readonly<{ id: string; days: number }>[];
  /** Minor units saved against ordering each on its own day. */
  savedMinor: number;
}>;

/** Postage of a parcel of so much. */
export function postageOf(goodsMinor: number, { postageMinor, freeFromMinor }: Terms): number {
  return freeFromMinor !== null && goodsMinor >= freeFromMinor ? 0 : postageMinor;
}

/**
 * The cheapest parcels, in the order of their days. `holdingShare` is what keeping a thing for a year costs of its price. A parcel below the
 * minimum order is only made where no division avoids it, and says what it lacks. Things without a day go with the first parcel.
 */
export function packParcels(wanted: readonly Wanted[], terms: Terms, holdingShare: number): readonly Parcel[] {
  const undated = wanted.filter((one) => one.orderBy === null);
  const dated = wanted
    .filter((one) => one.orderBy !== null)
    .toSorted((one, other) =>
      one.orderBy! < other.orderBy! || (one.orderBy === other.orderBy && one.id < other.id) ? -1 : 1,
    );
  if (dated.length === 0) return undated.length === 0 ? [] : [parcelOf(undated, null, terms, 0)];

  // best[n]: the least cost of the first n things; cut[n]: where their last parcel begins.
  const best: number[] = [0];
  const cut: number[] = [0];
  for (let end = 1; end <= dated.length; end++) {
    best[end] = Number.POSITIVE_INFINITY;
    for (let start = 0; start < end; start++) {
      const members = dated.slice(start, end);
      const cost =
        best[start]! + parcelCost(start === 0 ? [...members, ...undated] : members, members, terms, holdingShare);
      if (cost < best[end]! - 1e-9) {
        best[end] = cost;
        cut[end] = start;
      }
    }
  }
  const parcels: Parcel[] = [];
  for (let end = dated.length; end > 0; end = cut[end]!) {
    const start = cut[end]!;
    const members = dated.slice(start, end);
    const all = start === 0 ? [...members, ...undated] : members;
    parcels.unshift(parcelOf(all, members[0]!.orderBy, terms, savedBy(all, members, terms, holdingShare)));
  }
  return parcels;
}

/** So dear that a parcel below the minimum is made only where it must be; less lacking is still better than more. */
const belowMinimum = 1e9;

/** Postage, keeping what comes early, and the bar of the minimum order. */
function parcelCost(all: readonly Wanted[], dated: readonly Wanted[], terms: Terms, holdingShare: number): number {
  const goods = sum(all);
  const lacking = Math.max(0, terms.minimumMinor - goods);
  return (
    postageOf(goods, terms) +
    keepingCost(dated, dated[0]!.orderBy!, holdingShare) +
    (lacking > 0 ? belowMinimum + lacking : 0)
  );
}

function keepingCost(members: readonly Wanted[], from: string, holdingShare: number): number {
  let cost = 0;
  for (const { orderBy, costMinor, keepsDays } of members) {
    const days = daysBetween(from, orderBy!);
    if (keepsDays !== null && days >= keepsDays) return Number.POSITIVE_INFINITY;
    cost += (costMinor * holdingShare * days) / 365;
  }
  return cost;
}

/** Against a parcel for each day of its own. */
function savedBy(all: readonly Wanted[], dated: readonly Wanted[], terms: Terms, holdingShare: number): number {
  const apart = [...Map.groupBy(dated, (one) => one.orderBy).values()].reduce(
    (cost, day, index) =>
      cost + postageOf(sum(index === 0 ? [...day, ...all.filter((one) => one.orderBy === null)] : day), terms),
    0,
  );
  return Math.round(apart - postageOf(sum(all), terms) - keepingCost(dated, dated[0]!.orderBy!, holdingShare));
}

function parcelOf(members: readonly Wanted[], orderBy: string | null, terms: Terms, savedMinor: number): Parcel {
  const goodsMinor = sum(members);
  return {
    orderBy,
    ids: members.map(({ id }) => id),
    goodsMinor,
    postageMinor: postageOf(goodsMinor, terms),
    lackingMinor: Math.max(0, terms.minimumMinor - goodsMinor),
    broughtForward: members.flatMap((one) => {
      const days = orderBy === null || one.orderBy === null ? 0 : daysBetween(orderBy, one.orderBy);
      return days > 0 ? [{ id: one.id, days }] : [];
    }),
    savedMinor,
  };
}

function sum(members: readonly Wanted[]): number {
  return members.reduce((total, one) => total + one.costMinor, 0);
}

function daysBetween(from: string, to: string): number {
  return dayNumber(to) - dayNumber(from);
}
