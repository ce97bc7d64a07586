/** What the Stockroom shows: the cupboard by line, and everything of one material with its lots, prices and range. */
import type {
  ArrivalLine,
  LotLine,
  MaterialDetail,
  PriceLine,
  Recipe,
  Stock,
  StockLine,
  SubstituteLine,
} from '../../core/contract/stockroom.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { dayName } from '../../core/stock/cover.ts';
import { keepingWords } from '../../core/stock/keeping.ts';
import { amountWords } from '../../core/stock/ledger.ts';
import { expiryWords, inOrderOfUse, keepingOf } from '../../core/stock/lots.ts';
import type { Material } from '../../core/stock/material.ts';
import { usualOrderHabits } from '../../core/stock/orders.ts';
import { type Purpose, purposes, withRange } from '../../core/stock/projection.ts';
import { type ArrivalRow, listMovements, listStocked, type MovementRow } from '../store/stockroom.ts';
import { type LotRow, listLots } from '../store/stockroom-lots.ts';
import { listQuotes, listSubstitutes, recipeOf } from '../store/stockroom-terms.ts';
import type { Workshop } from '../store/workshop.ts';
import { answeredId, answerId, isAnswer } from './stockroom-changes.ts';
import { type Figures, horizonDays, readCupboard, sumOf } from './stockroom-figures.ts';

/** So much of a ledger is shown; the whole of it is in the CSV. */
const mostLedgerLines = 200;

export function readStock(store: Workshop, now: number): Stock {
  const cupboard = readCupboard(store, now);
  const { today, figures, remarks } = cupboard;
  const lineOf = lines(store, figures);
  const names = new Map(figures.map(({ material }) => [material.id, material]));
  const expiring = listLots(store.db)
    .map((lot) => lotLine(lot, names.get(lot.materialId)!, today))
    .filter((lot) => lot.keeping !== 'keeps' && lot.quantity > 0)
    .map((lot) => ({ ...lot, name: names.get(lot.materialId)!.name, unit: names.get(lot.materialId)!.unit }))
    .toSorted((one, other) => ((one.bestBefore ?? '') < (other.bestBefore ?? '') ? -1 : 1));
  return { today, horizonDays, lines: figures.map(lineOf), remarks, expiring };
}

/** Every lot in the order it is used. */
export function allLots(store: Workshop, today: string): readonly LotLine[] {
  const materials = new Map(listStocked(store.db).map(({ material }) => [material.id, material]));
  return inOrderOfUse(listLots(store.db)).map((lot) => lotLine(lot, materials.get(lot.materialId)!, today));
}

/** How a line of the cupboard is made, with what would do instead where it runs short. */
export function lines(store: Workshop, figures: readonly Figures[]): (one: Figures) => StockLine {
  const said = wouldDo(store, figures);
  return (one) => {
    const { material, onHandMillionths, promises, arrivals, cover, advice, projection } = one;
    const promised = Object.fromEntries(
      purposes.map((purpose) => [purpose, sumOf(promises.filter((row) => row.purpose === purpose)) / 1e6]),
    ) as Record<Purpose, number>;
    const substitutes = projection.shortage === null ? [] : said(material.id).filter(({ onHand }) => onHand > 0);
    const onHand = onHandMillionths / 1e6;
    return { material, onHand, promised, arriving: sumOf(arrivals) / 1e6, cover, advice, substitutes };
  };
}

function wouldDo(store: Workshop, figures: readonly Figures[]): (materialId: string) => readonly SubstituteLine[] {
  const rows = listSubstitutes(store.db);
  const byId = new Map(figures.map((one) => [one.material.id, one]));
  return (materialId) =>
    rows
      .filter((row) => row.materialId === materialId)
      .flatMap(({ substituteId, note }) => {
        const one = byId.get(substituteId);
        if (one === undefined) return [];
        const { name, unit } = one.material;
        const spare = Math.max(0, Math.min(one.onHandMillionths, one.projection.afterAll)) / 1e6;
        return [{ materialId: substituteId, name, unit, onHand: one.onHandMillionths / 1e6, spare, note }];
      });
}

function lotLine(lot: LotRow, material: Material, today: string): LotLine {
  const { lotId, quantityMillionths, receivedMillionths, ...rest } = lot;
  return {
    ...rest,
    id: lotId,
    quantity: quantityMillionths / 1e6,
    received: receivedMillionths / 1e6,
    keeping: keepingOf(lot, today, material.shelfLifeDays),
    words: quantityMillionths > 0 ? expiryWords(lot, material, today) : null,
  };
}

/** "received 4 May 2026, no. B 17": how a lot is told apart on one line. */
export function lotWords({ receivedOn, number, note }: Pick<LotRow, 'receivedOn' | 'number' | 'note'>): string {
  if (receivedOn === '') return '';
  const day = `${dayName(receivedOn).slice(4)} ${receivedOn.slice(0, 4)}`;
  return `${note === 'Made here' ? 'made' : 'of'} ${day}${number === '' ? '' : `, no. ${number}`}`;
}

export function readMaterial(store: Workshop, id: string, now: number): Result<MaterialDetail> {
  const { today, figures } = readCupboard(store, now);
  const one = figures.find(({ material }) => material.id === id);
  if (one === undefined) return refuse('This material is no longer in the cupboard.', 'id');
  const { promises, arrivals, projection, safety, usage, material, leadDays } = one;
  const rows = listMovements(store.db, id);
  const lots = listLots(store.db, id);
  const range = withRange(projection.points, usage.deviationPerDay * 1e6);
  return ok({
    ...lines(store, figures)(one),
    today,
    horizonDays,
    ledger: ledgerLines(store, rows, lots, figures).slice(-mostLedgerLines).toReversed(),
    ledgerLines: rows.length,
    series: range.points.map(({ date, ...amounts }) => {
      const { low, balance, from, to } = amounts;
      return { date, low: low / 1e6, balance: balance / 1e6, from: from / 1e6, to: to / 1e6 };
    }),
    range: rangeWords(one, range),
    promises: promises
      .map(({ quantityMillionths, ...rest }) => ({ ...rest, quantity: quantityMillionths / 1e6 }))
      .toSorted((one, other) => ((one.date ?? '9999') < (other.date ?? '9999') ? -1 : 1)),
    arrivals: arrivals.map((row) => arrivalLine(row, one, today)),
    safety,
    keeping: keepingWords(
      rows.filter(({ lotId }) => lotId === null),
      material,
      now,
    ),
    lots: inOrderOfUse(lots.filter(({ quantityMillionths }) => quantityMillionths !== 0)).map((lot) =>
      lotLine(lot, material, today),
    ),
    prices: pricesOf(store, id, lots),
    wouldDo: wouldDo(store, figures)(id),
    recipe: recipeLine(store, id, figures),
    safetyWorking: usage.enough
      ? `Safety stock for a ${usualOrderHabits.serviceLevel} chance of not running out over ${leadDays} ${leadDays === 1 ? 'day' : 'days'}, from how the weekly use in the ledger varies.`
      : 'No safety stock: the ledger holds fewer than six weeks, too little to say how use varies.',
  });
}

/** Where the balance may stand when a parcel of today has come, and when something could be missing. */
function rangeWords(
  { usage, material, leadDays }: Figures,
  { points, couldMissOn }: ReturnType<typeof withRange>,
): string | null {
  const point = points[Math.min(points.length - 1, Math.max(7, leadDays))];
  if (!usage.enough || usage.deviationPerDay === 0 || point === undefined) return null;
  const [from, to] = [point.from, point.to].map((amount) => amountWords(Math.max(0, amount), material.unit));
  const missing =
    couldMissOn === null ? '' : ` At the lower edge something could be missing from ${dayName(couldMissOn)} on.`;
  return `Eight times in ten it will stand between ${from} and ${to} on ${dayName(point.date)}, by how the weekly use in the ledger varied.${missing}`;
}

/** What was paid for each lot and what was quoted, the newest first. */
export function pricesOf(store: Workshop, materialId: string, lots: readonly LotRow[]): readonly PriceLine[] {
  const paid = lots.flatMap((lot): readonly PriceLine[] => {
    const { costMinor, receivedMillionths, receivedOn, supplier, number, note } = lot;
    if (costMinor === null || receivedMillionths <= 0 || note === 'Made here') return [];
    const quantity = receivedMillionths / 1e6;
    const of = number === '' ? note : `no. ${number}`;
    return [
      { on: receivedOn, unitPriceMinor: costMinor / quantity, quantity, costMinor, supplier, kind: 'paid', note: of },
    ];
  });
  const quoted = listQuotes(store.db, materialId).map((row): PriceLine => {
    const quantity = row.packMillionths / 1e6;
    const { quotedOn: on, packPriceMinor: costMinor, supplier, note } = row;
    return { on, unitPriceMinor: costMinor / quantity, quantity, costMinor, supplier, kind: 'quoted', note };
  });
  return [...paid, ...quoted].toSorted((one, other) => (one.on > other.on ? -1 : one.on < other.on ? 1 : 0));
}

function recipeLine(store: Workshop, materialId: string, figures: readonly Figures[]): Recipe | null {
  const row = recipeOf(store.db, materialId);
  if (row === null) return null;
  const byId = new Map(figures.map((one) => [one.material.id, one]));
  const ingredients = row.ingredients.flatMap(({ materialId: id, quantityMillionths }) => {
    const one = byId.get(id);
    if (one === undefined) return [];
    const { name, unit } = one.material;
    return [{ materialId: id, name, unit, quantity: quantityMillionths / 1e6, onHand: one.onHandMillionths / 1e6 }];
  });
  return { yield: row.yieldMillionths / 1e6, keepsDays: row.keepsDays, note: row.note, ingredients };
}

function ledgerLines(
  store: Workshop,
  rows: readonly MovementRow[],
  lots: readonly LotRow[],
  figures: readonly Figures[],
): MaterialDetail['ledger'] {
  const byId = new Map(rows.map((row) => [row.id, row]));
  const wordsOf = new Map(lots.map((lot) => [lot.lotId, lotWords(lot)]));
  const madeIds = new Set(rows.map(({ madeLotId }) => madeLotId));
  const made =
    madeIds.size > 1 || !madeIds.has(null) ? listLots(store.db).filter(({ lotId }) => madeIds.has(lotId)) : [];
  const madeWords = new Map(
    made.map((lot) => {
      const name = figures.find(({ material }) => material.id === lot.materialId)?.material.name ?? '';
      return [lot.lotId, `${name} ${lotWords(lot)}`];
    }),
  );
  let balance = 0;
  return rows.map((row) => {
    const { id, kind, quantityMillionths, at, reason, bookId, book, lotId, madeLotId } = row;
    balance += quantityMillionths;
    const answered = isAnswer(id) ? byId.get(answeredId(id)) : undefined;
    return {
      ...{ id, kind, at, reason, bookId, book },
      quantity: quantityMillionths / 1e6,
      balance: balance / 1e6,
      closed: byId.has(answerId(id)) || isAnswer(id),
      answers: answered?.at ?? null,
      lot: lotId === null ? '' : (wordsOf.get(lotId) ?? ''),
      made: madeLotId === null ? '' : (madeWords.get(madeLotId) ?? ''),
    };
  });
}

export function arrivalLine(row: ArrivalRow, { material }: Pick<Figures, 'material'>, today: string): ArrivalLine {
  const { id, materialId, quantityMillionths, orderedOn, dueOn } = row;
  const { name, unit, supplier } = material;
  const quantity = quantityMillionths / 1e6;
  return { id, materialId, name, unit, supplier, quantity, orderedOn, dueOn, overdue: dueOn < today };
}
