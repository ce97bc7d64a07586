/** Changes of the cupboard: materials, lines of the ledger, orders placed and received. Each is one entry of the journal. */
import type { Came, MaterialInput } from '../../core/contract/stockroom.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { answerEntry, enter, exactWords, type MovementWish, toMillionths } from '../../core/stock/ledger.ts';
import { bestBeforeOf, countAll, type Portion, takeOldest } from '../../core/stock/lots.ts';
import type { Material, MaterialKind } from '../../core/stock/material.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { arrival, material, movement, stockLot } from '../store/schema.ts';
import { priceQuote } from '../store/schema-stockroom.ts';
import {
  listStocked,
  type MovementRow,
  materialById,
  movementById,
  onHandMillionths,
  openArrivals,
} from '../store/stockroom.ts';
import { batchLines, listLots, putPortions } from '../store/stockroom-lots.ts';
import { readTerms } from '../store/stockroom-terms.ts';
import type { Change, Workshop } from '../store/workshop.ts';

type Counted = Readonly<{ onHand: number; words: string }>;

/** Sold by the metre and never cut to a rectangle. */
const byLength: readonly MaterialKind[] = ['linen thread', 'linen tape', 'headband'];

export function saveMaterial(
  store: Workshop,
  input: MaterialInput,
  today: string,
): Result<Readonly<{ id: string; name: string }>> {
  const { id, packQuantity, sheetHeightMm, sheetWidthMm, caliperMm, ...same } = input;
  const name = input.name.trim();
  if (name === '') return refuse('Give the material a name.', 'name');
  if (input.unit === 'sheet' && sheetHeightMm === null) {
    return refuse('Give the sheet’s height, so that pieces can be counted out of it.', 'sheetHeightMm');
  }
  if ((input.unit === 'sheet' || (input.unit === 'm' && !byLength.includes(input.kind))) && sheetWidthMm === null) {
    return refuse('Give the width, so that pieces can be counted out of it.', 'sheetWidthMm');
  }
  const others = listStocked(store.db);
  if (others.some((one) => one.material.id !== id && one.material.name === name)) {
    return refuse(`There is a material called ${name} already; tell them apart by weight, colour or maker.`, 'name');
  }
  const before = others.find((one) => one.material.id === id);
  if (id !== undefined && before === undefined) return refuse('This material is no longer in the cupboard.', 'id');
  if (before && before.material.unit !== input.unit && hasLedger(store, before.material)) {
    return refuse(
      `Its ledger counts in ${before.material.unit}. Enter it as another material in ${input.unit}, and count this one down to zero.`,
      'unit',
    );
  }
  const um = (mm: number | null) => (mm === null ? null : Math.round(mm * 1000));
  const row = {
    ...same,
    name,
    packMillionths: toMillionths(packQuantity),
    sheetHeightUm: um(sheetHeightMm),
    sheetWidthUm: um(sheetWidthMm),
    caliperUm: um(caliperMm),
    hazardSheet: input.hazardSheet === undefined ? (before?.material.hazardSheet ?? '') : input.hazardSheet.trim(),
  };
  const isNewPrice =
    before?.material.packPriceMinor !== input.packPriceMinor || before.material.packQuantity !== packQuantity;
  const saved = store.write(before ? `Change the material ${name}` : `Add the material ${name}`, (change) => {
    const saved = id ?? change.insert(material, row);
    if (id !== undefined) change.update(material, id, row);
    if (isNewPrice && input.packPriceMinor > 0) {
      const { packMillionths, packPriceMinor, supplier } = row;
      change.insert(priceQuote, {
        materialId: saved,
        quotedOn: today,
        packMillionths,
        packPriceMinor,
        supplier,
        note: '',
      });
    }
    return saved;
  });
  return saved.ok ? ok({ id: saved.value, name }) : saved;
}

/** A parcel takes as long as its supplier says, and longer where the material itself takes longer. */
export function leadDaysOf({ leadDays }: Material, terms: Readonly<{ leadDays: number | null }> | undefined): number {
  return Math.max(leadDays, terms?.leadDays ?? 0);
}

function hasLedger(store: Workshop, { id }: Material): boolean {
  return store.raw.prepare('SELECT 1 FROM movement WHERE material_id = ? LIMIT 1').get(id) !== undefined;
}

const verbs = { in: 'Put in', out: 'Take out', wasted: 'Write off', counted: 'Count' } as const;

type Line = MovementWish &
  Readonly<{
    materialId: string;
    bookId?: string | undefined;
    lotId?: string | undefined;
    came?: Came | undefined;
  }>;

/** A line a person enters. Without a lot picked, what expires first goes out first and what comes in is a lot of its own. */
export function addMovement(store: Workshop, input: Line, now: number, today: string): Result<Counted> {
  const found = materialById(store.db, input.materialId);
  if (found === null) return refuse('This material is no longer in the cupboard.', 'materialId');
  const lots = listLots(store.db, found.id);
  const lot = lots.find(({ lotId }) => lotId === input.lotId);
  if (input.lotId !== undefined && lot === undefined) return refuse('This lot is not in the cupboard.', 'lotId');
  const before = onHandMillionths(store.db, found.id);
  const entry = enter(lot ? lot.quantityMillionths : before, input, found.unit);
  if (!entry.ok) return entry;
  const { quantityMillionths, ...line } = entry.value;
  const label = `${verbs[input.kind]} ${exactWords(toMillionths(input.quantity), found.unit)}, ${found.name}`;
  const written = store.write(label, (change) => {
    const rest = { ...line, materialId: found.id, at: now, bookId: input.bookId ?? null };
    let portions: readonly Portion[];
    if (lot) portions = [{ lotId: lot.lotId, quantityMillionths }];
    else if (input.kind === 'in') {
      portions = [{ lotId: putLot(change, found, input.came ?? {}, today), quantityMillionths }];
    } else if (input.kind === 'counted') portions = countAll(lots, before + quantityMillionths);
    else portions = takeOldest(lots, -quantityMillionths);
    putPortions(change, portions, {
      ...rest,
      reason: portions.length > 1 && rest.reason === '' && input.kind === 'counted' ? 'Lots set right' : rest.reason,
    });
  });
  return written.ok ? counted(found, before + quantityMillionths) : written;
}

function putLot(change: Change, { id, supplier, shelfLifeDays }: Material, came: Came, today: string): string {
  return change.insert(stockLot, {
    materialId: id,
    receivedOn: today,
    bestBefore: came.bestBefore === undefined ? bestBeforeOf(today, shelfLifeDays) : came.bestBefore,
    supplier,
    costMinor: came.costMinor ?? null,
    number: came.number?.trim() ?? '',
    note: came.note?.trim() ?? '',
  });
}

/**
 * The id of the line that answers a line. It follows from the answered one's, so that the table itself keeps a line from being answered twice.
 */
export function answerId(movementId: string): string {
  return `${movementId}${answerMark}`;
}

export function isAnswer(movementId: string): boolean {
  return movementId.endsWith(answerMark);
}

/** The line that this answer answers. */
export function answeredId(movementId: string): string {
  return movementId.slice(0, -answerMark.length);
}

const answerMark = '.answer';

export function answerMovement(
  store: Workshop,
  input: Readonly<{ movementId: string; reason: string }>,
  now: number,
): Result<Counted> {
  const wrong = movementById(store.db, input.movementId);
  const found = wrong && materialById(store.db, wrong.materialId);
  if (!wrong || !found) return refuse('This line is not in the ledger any more.', 'movementId');
  if (isAnswer(wrong.id)) {
    return refuse('This line is itself the answer to another. Enter what is right as a new line.', 'movementId');
  }
  if (movementById(store.db, answerId(wrong.id))) return refuse('This line has been answered already.', 'movementId');
  // A batch is answered whole, so that what it was made of and what came of it stay in balance.
  const batch = wrong.madeLotId ?? (wrong.kind === 'in' ? wrong.lotId : null);
  const ids = batch === null ? [] : batchLines(store.db, batch);
  const lines = ids
    .filter((id) => !isAnswer(id) && movementById(store.db, answerId(id)) === null)
    .map((id) => movementById(store.db, id))
    .filter((line) => line !== null);
  const answers: (MovementRow & { answer: string })[] = [];
  for (const line of lines.length === 0 ? [wrong] : lines) {
    const entry = answerEntry(line, input.reason);
    if (!entry.ok) return entry;
    answers.push({ ...line, ...entry.value, answer: answerId(line.id) });
  }
  const written = store.write(`Answer a wrong line, ${found.name}`, (change) => {
    for (const { answer: id, book: _, ...row } of answers) change.insert(movement, { ...row, id, at: now });
  });
  return written.ok ? counted(found, onHandMillionths(store.db, found.id)) : written;
}

function counted({ name, unit }: Material, onHand: number): Result<Counted> {
  return ok({ onHand: onHand / 1e6, words: `${exactWords(onHand, unit)} of ${name} on hand.` });
}

type OrderInput = Readonly<{
  lines: readonly Readonly<{ materialId: string; packs: number }>[];
  dueOn?: string | undefined;
}>;

export function placeOrder(
  store: Workshop,
  input: OrderInput,
  today: string,
): Result<Readonly<{ ordered: number; words: string }>> {
  if (input.dueOn !== undefined && input.dueOn < today) return refuse('It cannot be due before today.', 'dueOn');
  const terms = readTerms(store.db);
  const rows: (typeof arrival.$inferInsert & { name: string })[] = [];
  for (const [index, line] of input.lines.entries()) {
    const found = materialById(store.db, line.materialId);
    if (found === null)
      return refuse('One of these materials is no longer in the cupboard.', `lines.${index}.materialId`);
    rows.push({
      id: '',
      name: found.name,
      materialId: found.id,
      quantityMillionths: line.packs * toMillionths(found.packQuantity),
      orderedOn: today,
      dueOn: input.dueOn ?? dateOf(dayNumber(today) + leadDaysOf(found, terms.get(found.supplier))),
      receivedAt: null,
    });
  }
  const what = rows.length === 1 ? rows[0]!.name : `${rows.length} materials`;
  const written = store.write(`Order ${what}`, (change) => {
    for (const { id: _, name: __, ...row } of rows) change.insert(arrival, row);
  });
  return written.ok ? ok({ ordered: rows.length, words: `Noted as ordered: ${what}.` }) : written;
}

export function receive(
  store: Workshop,
  input: Readonly<{ arrivalId: string; quantity: number; restComing: boolean; came?: Came | undefined }>,
  now: number,
  today: string,
): Result<Counted> {
  const order = openArrivals(store.db).find((row) => row.id === input.arrivalId);
  const found = order && materialById(store.db, order.materialId);
  if (!order || !found) return refuse('This order has been received or taken off the list already.', 'arrivalId');
  const before = onHandMillionths(store.db, found.id);
  const reason = `Received; ordered on ${order.orderedOn}`;
  const entry = enter(before, { kind: 'in', quantity: input.quantity, reason }, found.unit);
  if (!entry.ok) return entry;
  const came = entry.value.quantityMillionths;
  const rest = order.quantityMillionths - came;
  const written = store.write(`Receive ${exactWords(came, found.unit)}, ${found.name}`, (change) => {
    const costMinor =
      input.came?.costMinor ?? Math.round((found.packPriceMinor * came) / toMillionths(found.packQuantity));
    const lotId = putLot(change, found, { ...input.came, costMinor }, today);
    change.insert(movement, { ...entry.value, materialId: found.id, lotId, at: now });
    change.update(arrival, order.id, { quantityMillionths: came, receivedAt: now });
    if (rest > 0 && input.restComing) {
      const { materialId, orderedOn, dueOn } = order;
      change.insert(arrival, { materialId, orderedOn, dueOn, quantityMillionths: rest, receivedAt: null });
    }
  });
  return written.ok ? counted(found, before + came) : written;
}

export function cancelOrder(
  store: Workshop,
  input: Readonly<{ arrivalId: string }>,
): Result<Readonly<{ words: string }>> {
  const order = openArrivals(store.db).find((row) => row.id === input.arrivalId);
  const name = order && materialById(store.db, order.materialId)?.name;
  if (!order || name === undefined)
    return refuse('This order has been received or taken off the list already.', 'arrivalId');
  const written = store.write(`Take the order of ${name} off the list`, (change) => change.remove(arrival, order.id));
  return written.ok ? ok({ words: `${name} is no longer expected.` }) : written;
}
