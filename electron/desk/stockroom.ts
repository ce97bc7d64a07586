/** The Stockroom answers: the cupboard and how long it lasts, its ledger, orders placed and received, and lists to take away. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { TableName } from '../../core/contract/stockroom.ts';
import { writeTable } from '../files/csv.ts';
import { printCount } from '../print/count.ts';
import { printOrders } from '../print/orders.ts';
import { readHabits } from '../store/habits.ts';
import { listMovements, listStocked } from '../store/stockroom.ts';
import { listLots } from '../store/stockroom-lots.ts';
import type { Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';
import {
  addMovement,
  answeredId,
  answerMovement,
  cancelOrder,
  isAnswer,
  placeOrder,
  receive,
  saveMaterial,
} from './stockroom-changes.ts';
import { readToday } from './stockroom-figures.ts';
import { readOrders } from './stockroom-orders.ts';
import { allLots, lotWords, pricesOf, readMaterial, readStock } from './stockroom-reading.ts';
import { addQuote, makeBatch, removeRecipe, saveRecipe, saveSubstitutes, saveSupplier } from './stockroom-terms.ts';

const { stockroom: room } = inWorkshop;

export const stockroom = {
  list: room.list.handler(({ context }) => readStock(context.store, context.now())),
  material: room.material.handler(({ input, context, errors }) =>
    answer(readMaterial(context.store, input.id, context.now()), errors),
  ),
  saveMaterial: room.saveMaterial.handler(({ input, context, errors }) =>
    answer(saveMaterial(context.store, input, readToday(context.store, context.now()).date), errors),
  ),
  addMovement: room.addMovement.handler(({ input, context, errors }) =>
    answer(addMovement(context.store, input, context.now(), readToday(context.store, context.now()).date), errors),
  ),
  answerMovement: room.answerMovement.handler(({ input, context, errors }) =>
    answer(answerMovement(context.store, input, context.now()), errors),
  ),
  orders: room.orders.handler(({ context }) => readOrders(context.store, context.now())),
  placeOrder: room.placeOrder.handler(({ input, context, errors }) =>
    answer(placeOrder(context.store, input, readToday(context.store, context.now()).date), errors),
  ),
  receive: room.receive.handler(({ input, context, errors }) =>
    answer(receive(context.store, input, context.now(), readToday(context.store, context.now()).date), errors),
  ),
  cancelOrder: room.cancelOrder.handler(({ input, context, errors }) =>
    answer(cancelOrder(context.store, input), errors),
  ),
  saveSupplier: room.saveSupplier.handler(({ input, context, errors }) =>
    answer(saveSupplier(context.store, input), errors),
  ),
  addQuote: room.addQuote.handler(({ input, context, errors }) =>
    answer(addQuote(context.store, input, readToday(context.store, context.now()).date), errors),
  ),
  saveSubstitutes: room.saveSubstitutes.handler(({ input, context, errors }) =>
    answer(saveSubstitutes(context.store, input), errors),
  ),
  saveRecipe: room.saveRecipe.handler(({ input, context, errors }) => answer(saveRecipe(context.store, input), errors)),
  removeRecipe: room.removeRecipe.handler(({ input, context, errors }) =>
    answer(removeRecipe(context.store, input), errors),
  ),
  makeBatch: room.makeBatch.handler(({ input, context, errors }) =>
    answer(makeBatch(context.store, input, context.now(), readToday(context.store, context.now()).date), errors),
  ),
  exportCsv: room.exportCsv.handler(({ input, context }) => {
    const { date } = readToday(context.store, context.now());
    return csv(`${input.table}-${date}.csv`, tableRows[input.table](context.store, context.now()));
  }),
  printCount: room.printCount.handler(async ({ context, errors }) => {
    const { today, lines } = readStock(context.store, context.now());
    const { habits } = readHabits(context.store.db);
    return answer(await printCount({ today, lines, lots: allLots(context.store, today) }, habits), errors);
  }),
  printOrders: room.printOrders.handler(async ({ context, errors }) => {
    const { habits } = readHabits(context.store.db);
    return answer(await printOrders(readOrders(context.store, context.now()), habits), errors);
  }),
};

type Rows = readonly (readonly string[])[];

const tableRows: Readonly<Record<TableName, (store: Workshop, now: number) => Rows>> = {
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
      'Hazard sheet',
      'Note',
    ],
    ...readStock(store, now).lines.map(({ material, onHand, promised, arriving, cover }) => {
      const figures = [onHand, promised.week, promised.course, promised.treatments, arriving].map(String);
      const { name, kind, unit, supplier, packQuantity, packPriceMinor, leadDays, place, hazardSheet, note } = material;
      const rest = [supplier, String(packQuantity), String(packPriceMinor), String(leadDays), place, hazardSheet, note];
      return [name, kind, unit, ...figures, cover.days === null ? '' : String(cover.days), cover.sentence, ...rest];
    }),
  ],
  // In and out stand in columns of their own, so that no figure begins with a sign.
  movements: (store) => {
    const names = new Map(listStocked(store.db).map(({ material }) => [material.id, material.name]));
    const balances = new Map<string, number>();
    const lots = new Map(listLots(store.db).map((lot) => [lot.lotId, lotWords(lot)]));
    return [
      ['When (UTC)', 'Material', 'What', 'In', 'Out', 'On hand after', 'Reason', 'Book', 'Lot', 'Line', 'Answers line'],
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
          row.lotId === null ? '' : (lots.get(row.lotId) ?? ''),
          isAnswer(row.id) ? '' : row.id,
          isAnswer(row.id) ? answeredId(row.id) : '',
        ];
      }),
    ];
  },
  lots: lotRows,
  prices: priceRows,
  orders: (store, now) => [
    [
      'Supplier',
      'Order by',
      'Material',
      'Packs',
      'Quantity',
      'Unit',
      'Cost, minor units',
      'Place',
      'Hazard sheet',
      'Because',
      'Parcel',
    ],
    ...readOrders(store, now).suppliers.flatMap(({ supplier, lines, parcels }) =>
      lines.map(({ material, advice, because }) => [
        supplier,
        advice.orderBy ?? '',
        material.name,
        String(advice.packs),
        String(advice.quantity),
        material.unit,
        String(advice.costMinor),
        material.place,
        material.hazardSheet,
        because,
        parcels.find(({ materials }) => materials.includes(material.name))?.words.join(' ') ?? '',
      ]),
    ),
  ],
};

function lotRows(store: Workshop): Rows {
  const names = new Map(listStocked(store.db).map(({ material }) => [material.id, material]));
  return [
    ['Material', 'Unit', 'Received', 'Best before', 'Left', 'Came', 'Cost, minor units', 'Supplier', 'Number', 'Note'],
    ...listLots(store.db).map((lot) => [
      names.get(lot.materialId)?.name ?? '',
      names.get(lot.materialId)?.unit ?? '',
      lot.receivedOn || 'in no lot',
      lot.bestBefore ?? '',
      String(lot.quantityMillionths / 1e6),
      String(lot.receivedMillionths / 1e6),
      lot.costMinor === null ? '' : String(lot.costMinor),
      lot.supplier,
      lot.number,
      lot.note,
    ]),
  ];
}

function priceRows(store: Workshop): Rows {
  const lots = Map.groupBy(listLots(store.db), (lot) => lot.materialId);
  return [
    ['Material', 'Day', 'Paid or quoted', 'Quantity', 'Unit', 'Cost, minor units', 'Supplier', 'Note'],
    ...listStocked(store.db).flatMap(({ material: { id, name, unit } }) =>
      pricesOf(store, id, lots.get(id) ?? []).map((row) => [
        name,
        row.on,
        row.kind,
        String(row.quantity),
        unit,
        String(row.costMinor),
        row.supplier,
        row.note,
      ]),
    ),
  ];
}

function csv(fileName: string, rows: Rows): FileAnswer {
  return { fileName, mediaType: 'text/csv', base64: Buffer.from(writeTable(rows, ',')).toString('base64') };
}
