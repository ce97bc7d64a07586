/** Changes of the cupboard: materials, lines of the ledger, orders placed and received. Each is one entry of the journal. */
import type { MaterialInput } from '../../core/contract/stockroom.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { answerEntry, enter, exactWords, type MovementWish, toMillionths } from '../../core/stock/ledger.ts';
import type { Material, MaterialKind } from '../../core/stock/material.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { arrival, material, movement } from '../store/schema.ts';
import { listStocked, materialById, movementById, onHandMillionths, openArrivals } from '../store/stockroom.ts';
import type { Workshop } from '../store/workshop.ts';

type Counted = Readonly<{ onHand: number; words: string }>;

/** Sold by the metre and never cut to a rectangle. */
const byLength: readonly MaterialKind[] = ['linen thread', 'linen tape', 'headband'];

export function saveMaterial(store: Workshop, input: MaterialInput): Result<Readonly<{ id: string; name: string }>> {
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
  };
  const saved = store.write(before ? `Change the material ${name}` : `Add the material ${name}`, (change) => {
    if (id === undefined) return change.insert(material, row);
    change.update(material, id, row);
    return id;
  });
  return saved.ok ? ok({ id: saved.value, name }) : saved;
}

function hasLedger(store: Workshop, { id }: Material): boolean {
  return store.raw.prepare('SELECT 1 FROM movement WHERE material_id = ? LIMIT 1').get(id) !== undefined;
}

const verbs = { in: 'Put in', out: 'Take out', wasted: 'Write off', counted: 'Count' } as const;

export function addMovement(
  store: Workshop,
  input: MovementWish & Readonly<{ materialId: string; bookId?: string | undefined }>,
  now: number,
): Result<Counted> {
  const found = materialById(store.db, input.materialId);
  if (found === null) return refuse('This material is no longer in the cupboard.', 'materialId');
  const before = onHandMillionths(store.db, found.id);
  const entry = enter(before, input, found.unit);
  if (!entry.ok) return entry;
  const label = `${verbs[input.kind]} ${exactWords(toMillionths(input.quantity), found.unit)}, ${found.name}`;
  const row = { ...entry.value, materialId: found.id, at: now, bookId: input.bookId ?? null };
  const written = store.write(label, (change) => change.insert(movement, row));
  return written.ok ? counted(found, before + entry.value.quantityMillionths) : written;
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
  const entry = answerEntry(wrong, input.reason);
  if (!entry.ok) return entry;
  const { materialId, bookId, courseId } = wrong;
  const row = { ...entry.value, id: answerId(wrong.id), materialId, bookId, courseId, at: now };
  const written = store.write(`Answer a wrong line, ${found.name}`, (change) => change.insert(movement, row));
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
      dueOn: input.dueOn ?? dateOf(dayNumber(today) + found.leadDays),
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
  input: Readonly<{ arrivalId: string; quantity: number; restComing: boolean }>,
  now: number,
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
    change.insert(movement, { ...entry.value, materialId: found.id, at: now });
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
