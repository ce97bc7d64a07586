/** The Stockroom answers: the cupboard and how long it lasts, its ledger, orders placed and received, and lists to take away. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { ArrivalLine, MaterialDetail, OrderList, StockLine } from '../../core/contract/stockroom.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { usualWasteFactor } from '../../core/stock/demand.ts';
import { keepingWords } from '../../core/stock/keeping.ts';
import { usualOrderHabits } from '../../core/stock/orders.ts';
import { type Purpose, purposes } from '../../core/stock/projection.ts';
import { writeTable } from '../files/csv.ts';
import { printOrders } from '../print/orders.ts';
import { readHabits } from '../store/habits.ts';
import { type ArrivalRow, listMovements, listStocked, type MovementRow } from '../store/stockroom.ts';
import type { Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';
import {
  addMovement,
  answerId,
  answerMovement,
  cancelOrder,
  isAnswer,
  placeOrder,
  receive,
  saveMaterial,
} from './stockroom-changes.ts';
import { type Figures, horizonDays, readCupboard, readToday, sumOf } from './stockroom-figures.ts';

const { stockroom: room } = inWorkshop;

/** So much of a ledger is shown; the whole of it is in the CSV. */
const mostLedgerLines = 200;

export const stockroom = {
  list: room.list.handler(({ context }) => {
    const { today, figures, remarks } = readCupboard(context.store, context.now());
    return { today, horizonDays, lines: figures.map(lineOf), remarks };
  }),
  material: room.material.handler(({ input, context, errors }) =>
    answer(readMaterial(context.store, input.id, context.now()), errors),
  ),
  saveMaterial: room.saveMaterial.handler(({ input, context, errors }) =>
    answer(saveMaterial(context.store, input), errors),
  ),
  addMovement: room.addMovement.handler(({ input, context, errors }) =>
    answer(addMovement(context.store, input, context.now()), errors),
  ),
  answerMovement: room.answerMovement.handler(({ input, context, errors }) =>
    answer(answerMovement(context.store, input, context.now()), errors),
  ),
  orders: room.orders.handler(({ context }) => readOrders(context.store, context.now())),
  placeOrder: room.placeOrder.handler(({ input, context, errors }) =>
    answer(placeOrder(context.store, input, readToday(context.store, context.now()).date), errors),
  ),
  receive: room.receive.handler(({ input, context, errors }) =>
    answer(receive(context.store, input, context.now()), errors),
  ),
  cancelOrder: room.cancelOrder.handler(({ input, context, errors }) =>
    answer(cancelOrder(context.store, input), errors),
  ),
  exportCsv: room.exportCsv.handler(({ input, context }) => {
    const { date } = readToday(context.store, context.now());
    return csv(`${input.table}-${date}.csv`, tableRows[input.table](context.store, context.now()));
  }),
  printOrders: room.printOrders.handler(async ({ context, errors }) => {
    const { habits } = readHabits(context.store.db);
    return answer(await printOrders(readOrders(context.store, context.now()), habits), errors);
  }),
};

function lineOf(one: Figures): StockLine {
  const { material, onHandMillionths, promises, arrivals, cover, advice } = one;
  const promised = Object.fromEntries(
    purposes.map((purpose) => [purpose, sumOf(promises.filter((row) => row.purpose === purpose)) / 1e6]),
  ) as Record<Purpose, number>;
  return { material, onHand: onHandMillionths / 1e6, promised, arriving: sumOf(arrivals) / 1e6, cover, advice };
}

function readMaterial(store: Workshop, id: string, now: number): Result<MaterialDetail> {
  const { today, figures } = readCupboard(store, now);
  const one = figures.find(({ material }) => material.id === id);
  if (one === undefined) return refuse('This material is no longer in the cupboard.', 'id');
  const { promises, arrivals, projection, safety, usage, material } = one;
  const rows = listMovements(store.db, id);
  return ok({
    ...lineOf(one),
    today,
    horizonDays,
    ledger: ledgerLines(rows).slice(-mostLedgerLines).toReversed(),
    ledgerLines: rows.length,
    series: projection.points.map(({ date, low, balance }) => ({ date, low: low / 1e6, balance: balance / 1e6 })),
    promises: promises
      .map(({ quantityMillionths, ...rest }) => ({ ...rest, quantity: quantityMillionths / 1e6 }))
      .toSorted((one, other) => ((one.date ?? '9999') < (other.date ?? '9999') ? -1 : 1)),
    arrivals: arrivals.map((row) => arrivalLine(row, one, today)),
    safety,
    keeping: keepingWords(rows, material, now),
    safetyWorking: usage.enough
      ? `Safety stock for a ${usualOrderHabits.serviceLevel} chance of not running out over ${material.leadDays} ${material.leadDays === 1 ? 'day' : 'days'}, from how the weekly use in the ledger varies.`
      : 'No safety stock: the ledger holds fewer than six weeks, too little to say how use varies.',
  });
}

function ledgerLines(rows: readonly MovementRow[]): MaterialDetail['ledger'] {
  const ids = new Set(rows.map((row) => row.id));
  let balance = 0;
  return rows.map(({ materialId: _, courseId: __, quantityMillionths, ...row }) => {
    balance += quantityMillionths;
    const closed = ids.has(answerId(row.id)) || isAnswer(row.id);
    return { ...row, quantity: quantityMillionths / 1e6, balance: balance / 1e6, closed };
  });
}

function arrivalLine(row: ArrivalRow, { material }: Pick<Figures, 'material'>, today: string): ArrivalLine {
  const { id, materialId, quantityMillionths, orderedOn, dueOn } = row;
  const { name, unit, supplier } = material;
  const quantity = quantityMillionths / 1e6;
  return { id, materialId, name, unit, supplier, quantity, orderedOn, dueOn, overdue: dueOn < today };
}

function readOrders(store: Workshop, now: number): OrderList {
  const { today, figures } = readCupboard(store, now);
  const { currency } = readHabits(store.db).habits;
  const wanted = figures.flatMap((one) =>
    one.advice === null ? [] : [{ ...lineOf(one), advice: one.advice, because: one.cover.sentence }],
  );
  const suppliers = [...Map.groupBy(wanted, (line) => line.material.supplier)].map(([supplier, members]) => {
    const lines = members
      .map(({ material, onHand, arriving, advice, because }) => ({ material, onHand, arriving, advice, because }))
      .toSorted((one, other) => (dayOr(one.advice.orderBy) < dayOr(other.advice.orderBy) ? -1 : 1));
    return {
      supplier,
      orderBy: lines[0]?.advice.orderBy ?? null,
      costMinor: lines.reduce((sum, line) => sum + line.advice.costMinor, 0),
      lines,
    };
  });
  return {
    today,
    currency,
    suppliers: suppliers.toSorted((one, other) => (dayOr(one.orderBy) < dayOr(other.orderBy) ? -1 : 1)),
    arriving: figures.flatMap((one) => one.arrivals.map((row) => arrivalLine(row, one, today))),
    rules,
  };
}

/** What has no day comes after everything that has one. */
function dayOr(date: string | null): string {
  return date ?? '9999-12-31';
}

const { serviceLevel, orderCostMinor, holdingShare } = usualOrderHabits;
const rules = [
  'Order by: the first day the balance would fall below the safety stock, less the lead time and a day. What is due on a day helps from the next.',
  `How much: enough for everything promised, or the economic order quantity where that is more; an order is taken to cost ${orderCostMinor / 100}, keeping a thing ${holdingShare * 100} % of its price a year (common practice, no source). Whole packs.`,
  `Safety stock: for a ${serviceLevel} chance of not running out while an order is under way, once the ledger holds six weeks.`,
  `Where cuts are not known, material is counted by area with ${Math.round((usualWasteFactor - 1) * 100)} % for waste (common practice, no source).`,
] as const;

type Rows = readonly (readonly string[])[];

const tableRows: Readonly<Record<'materials' | 'movements' | 'orders', (store: Workshop, now: number) => Rows>> = {
  materials: (store, now) => [
    [
      'Material',
      'Kind',
      'Unit',
      'On hand',
      'For the week',
      'For the course',
      'For agreed treatments',
      'Arriving',
      'Days of cover',
      'Standing',
      'Supplier',
      'Pack',
      'Price of a pack, minor units',
      'Lead days',
      'Place',
      'Note',
    ],
    ...readCupboard(store, now).figures.map((one) => {
      const { material, onHand, promised, arriving, cover } = lineOf(one);
      const figures = [onHand, promised.week, promised.course, promised.treatments, arriving].map(String);
      const { name, kind, unit, supplier, packQuantity, packPriceMinor, leadDays, place, note } = material;
      const rest = [supplier, String(packQuantity), String(packPriceMinor), String(leadDays), place, note];
      return [name, kind, unit, ...figures, cover.days === null ? '' : String(cover.days), cover.sentence, ...rest];
    }),
  ],
  // In and out stand in columns of their own, so that no figure begins with a sign.
  movements: (store) => {
    const names = new Map(listStocked(store.db).map(({ material }) => [material.id, material.name]));
    const balances = new Map<string, number>();
    return [
      ['When (UTC)', 'Material', 'What', 'In', 'Out', 'On hand after', 'Reason', 'Book'],
      ...listMovements(store.db).map((row) => {
        const balance = (balances.get(row.materialId) ?? 0) + row.quantityMillionths;
        balances.set(row.materialId, balance);
        const amount = String(Math.abs(row.quantityMillionths) / 1e6);
        const [into, out] = row.quantityMillionths >= 0 ? [amount, ''] : ['', amount];
        const when = new Date(row.at).toISOString().slice(0, 16).replace('T', ' ');
        return [
          when,
          names.get(row.materialId) ?? '',
          row.kind,
          into,
          out,
          String(balance / 1e6),
          row.reason,
          row.book,
        ];
      }),
    ];
  },
  orders: (store, now) => [
    ['Supplier', 'Order by', 'Material', 'Packs', 'Quantity', 'Unit', 'Cost, minor units', 'Because'],
    ...readOrders(store, now).suppliers.flatMap(({ supplier, lines }) =>
      lines.map(({ material, advice, because }) => [
        supplier,
        advice.orderBy ?? '',
        material.name,
        String(advice.packs),
        String(advice.quantity),
        material.unit,
        String(advice.costMinor),
        because,
      ]),
    ),
  ],
};

function csv(fileName: string, rows: Rows): FileAnswer {
  return { fileName, mediaType: 'text/csv', base64: Buffer.from(writeTable(rows, ',')).toString('base64') };
}
