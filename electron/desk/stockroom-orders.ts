/** The order list by supplier: what to order by which day, and which of it best goes in one parcel. */
import type { OrderList, ParcelLine, SupplierTerms } from '../../core/contract/stockroom.ts';
import { usualWasteFactor } from '../../core/stock/demand.ts';
import { usualOrderHabits } from '../../core/stock/orders.ts';
import { type Parcel, packParcels } from '../../core/stock/parcels.ts';
import { readHabits } from '../store/habits.ts';
import { readTerms, unknownTerms } from '../store/stockroom-terms.ts';
import type { Workshop } from '../store/workshop.ts';
import { type Figures, readCupboard } from './stockroom-figures.ts';
import { arrivalLine, lines } from './stockroom-reading.ts';

export function readOrders(store: Workshop, now: number): OrderList {
  const { today, figures } = readCupboard(store, now);
  const { currency } = readHabits(store.db).habits;
  const known = readTerms(store.db);
  const lineOf = lines(store, figures);
  const wanted = figures.flatMap((one) =>
    one.advice === null ? [] : [{ ...lineOf(one), advice: one.advice, because: one.cover.sentence }],
  );
  const suppliers = [...Map.groupBy(wanted, (line) => line.material.supplier)].map(([supplier, members]) => {
    const ordered = members
      .map(({ material, onHand, arriving, advice, because, substitutes }) => ({
        ...{ material, onHand, arriving, advice, because, substitutes },
      }))
      .toSorted((one, other) => (dayOr(one.advice.orderBy) < dayOr(other.advice.orderBy) ? -1 : 1));
    const terms = known.get(supplier) ?? unknownTerms(supplier);
    return {
      supplier,
      orderBy: ordered[0]?.advice.orderBy ?? null,
      costMinor: ordered.reduce((sum, line) => sum + line.advice.costMinor, 0),
      lines: ordered,
      terms,
      parcels: terms.id === null ? [] : parcelsOf(figures, terms, currency),
    };
  });
  const named = new Set(figures.map(({ material }) => material.supplier).filter((name) => name !== ''));
  return {
    today,
    currency,
    suppliers: suppliers.toSorted((one, other) => (dayOr(one.orderBy) < dayOr(other.orderBy) ? -1 : 1)),
    terms: [...named].sort().map((name) => known.get(name) ?? unknownTerms(name)),
    arriving: figures.flatMap((one) => one.arrivals.map((row) => arrivalLine(row, one, today))),
    rules,
  };
}

/** What has no day comes after everything that has one. */
function dayOr(date: string | null): string {
  return date ?? '9999-12-31';
}

function parcelsOf(figures: readonly Figures[], terms: SupplierTerms, currency: string): readonly ParcelLine[] {
  const own = figures.filter(({ material }) => material.supplier === terms.name);
  const names = new Map(own.map(({ material }) => [material.id, material.name]));
  const wanted = own.flatMap(({ material, advice }) =>
    advice === null
      ? []
      : [{ id: material.id, orderBy: advice.orderBy, costMinor: advice.costMinor, keepsDays: material.shelfLifeDays }],
  );
  const format = new Intl.NumberFormat('en-GB', { style: 'currency', currency });
  const digits = format.resolvedOptions().maximumFractionDigits ?? 2;
  const money = (minor: number) => format.format(minor / 10 ** digits);
  return packParcels(wanted, terms, usualOrderHabits.holdingShare).map((parcel) => ({
    orderBy: parcel.orderBy,
    materials: parcel.ids.map((id) => names.get(id) ?? ''),
    goodsMinor: parcel.goodsMinor,
    postageMinor: parcel.postageMinor,
    words: parcelWords(parcel, own, terms, money),
  }));
}

function parcelWords(
  parcel: Parcel,
  own: readonly Figures[],
  terms: SupplierTerms,
  money: (minor: number) => string,
): readonly string[] {
  const name = (id: string) => own.find(({ material }) => material.id === id)?.material.name ?? '';
  const words: string[] = [];
  if (parcel.lackingMinor > 0) {
    words.push(
      `The minimum order is ${money(terms.minimumMinor)}: ${money(parcel.lackingMinor)} is lacking.${fillWords(own, money)}`,
    );
  }
  const toFree = terms.freeFromMinor === null ? null : terms.freeFromMinor - parcel.goodsMinor;
  if (parcel.postageMinor > 0) {
    const free =
      toFree === null || parcel.lackingMinor > 0
        ? ''
        : toFree <= parcel.postageMinor
          ? ` From ${money(terms.freeFromMinor ?? 0)} there is none: adding ${money(toFree)} of what will be used costs less than the postage.${fillWords(own, money)}`
          : ` From ${money(terms.freeFromMinor ?? 0)} there is none; ${money(toFree)} is lacking to that.`;
    words.push(`Postage ${money(parcel.postageMinor)} comes on top.${free}`);
  } else if (terms.postageMinor > 0) words.push('No postage: it reaches the amount from which there is none.');
  if (parcel.broughtForward.length > 0) {
    const what = parcel.broughtForward.map(({ id, days }) => `${name(id)} by ${days === 1 ? 'a day' : `${days} days`}`);
    const saved =
      parcel.savedMinor > 0
        ? ` It saves ${money(parcel.savedMinor)}, what keeping it longer costs taken off.`
        : ' Apart they would not reach the minimum order.';
    words.push(`Brought forward to go in one parcel: ${what.join(', ')}.${saved}`);
  }
  return words;
}

/** What else of this supplier is used and keeps till then: the one that lasts least long. */
function fillWords(own: readonly Figures[], money: (minor: number) => string): string {
  const [best] = own
    .flatMap(({ material, advice, cover, usage }) => {
      if (advice !== null || cover.usualDays === null || usage.perDay <= 0 || material.packPriceMinor <= 0) return [];
      const days = cover.usualDays + Math.round(material.packQuantity / usage.perDay);
      return days > (material.shelfLifeDays ?? 365) ? [] : [{ material, days }];
    })
    .toSorted((one, other) => one.days - other.days);
  if (best === undefined) return ' Nothing else from here is used often enough to fill it with.';
  return ` A pack of ${best.material.name}, ${money(best.material.packPriceMinor)}, would be used within ${best.days} days.`;
}

const { serviceLevel, orderCostMinor, holdingShare } = usualOrderHabits;
const rules = [
  'Order by: the first day the balance would fall below the safety stock, less the lead time and a day. What is due on a day helps from the next.',
  `How much: enough for everything promised, or the economic order quantity where that is more; an order is taken to cost its supplier’s postage, or ${orderCostMinor / 100} where that is not entered, keeping a thing ${holdingShare * 100} % of its price a year (common practice, no source). Whole packs.`,
  `Safety stock: for a ${serviceLevel} chance of not running out while an order is under way, once the ledger holds six weeks.`,
  `Where cuts are not known, material is counted by area with ${Math.round((usualWasteFactor - 1) * 100)} % for waste (common practice, no source).`,
  'Parcels: what is wanted on different days goes in one where keeping it longer costs less than another postage (Wagner and Whitin 1958).',
] as const;
