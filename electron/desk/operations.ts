/** How this bench works, answered: its operations with their versions, treatments put together by a person, and those kept under a name. */
import { asc, eq } from 'drizzle-orm';
import { blocks } from '../../core/book/hazards.ts';
import type { ListedOperation, OwnTreatment } from '../../core/contract/operations.ts';
import { type Result, refuse } from '../../core/result.ts';
import { alternatives, compose } from '../../core/treatment/compose.ts';
import { libraryWith, operationById } from '../../core/treatment/library.ts';
import type { Operation } from '../../core/treatment/operation.ts';
import { checkOperation, newOperationId } from '../../core/treatment/own-operation.ts';
import type { Proposal } from '../../core/treatment/treatment.ts';
import type { Surveyed } from '../store/books.ts';
import { effortOf } from '../store/effort.ts';
import { libraryOf, ownOperations, ownVersions } from '../store/operations.ts';
import { book, treatment } from '../store/schema.ts';
import { ownOperation, ownTreatment } from '../store/schema-shelf.ts';
import type { Reader, Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';
import { opened, quote, surveyed } from './shelf.ts';

const { operations: room } = inWorkshop;

export const operations = {
  list: room.list.handler(({ context }) => listed(context.store.db)),
  save: room.save.handler(({ input, context, errors }) =>
    answer(saveOperation(context.store, input.id, input.operation as Draft, context.now()), errors),
  ),
  withdraw: room.withdraw.handler(({ input, context, errors }) => {
    answer(withdraw(context.store, input.id, context.now()), errors);
    return { id: input.id };
  }),
  alternatives: room.alternatives.handler(({ input, context, errors }) => {
    const { book: one, findings, hazards, kept } = answer(surveyed(context.store, input.bookId), errors);
    return alternatives(one, findings, hazards, { kept, ...benchOf(context.store.db) });
  }),
  compose: room.compose.handler(({ input, context, errors }) => {
    const one = answer(surveyed(context.store, input.bookId), errors);
    return answer(composed(context.store, one, input.operations), errors);
  }),
  agree: room.agree.handler(({ input, context, errors }) => {
    const one = answer(surveyed(context.store, input.bookId), errors);
    answer(agreeTo(context.store, one, input.operations, context.now()), errors);
    return opened(context.store, input.bookId, errors);
  }),
  ownTreatments: room.ownTreatments.handler(({ context }) => ownTreatments(context.store.db)),
  keepTreatment: room.keepTreatment.handler(({ input, context, errors }) =>
    answer(keepTreatment(context.store, input.name.trim(), input.operations, context.now()), errors),
  ),
  removeTreatment: room.removeTreatment.handler(({ input, context, errors }) => {
    const name = ownTreatments(context.store.db).find(({ id }) => id === input.id)?.name ?? '';
    answer(
      context.store.write(`Remove the treatment ${quote(name)}`, (change) => change.remove(ownTreatment, input.id)),
      errors,
    );
    return { id: input.id };
  }),
  upkeep: room.upkeep.handler(({ context }) => context.store.upkeep()),
};

type Draft = Omit<Operation, 'id' | 'version'>;

function benchOf(db: Reader) {
  return { effort: effortOf(db), library: libraryOf(db) };
}

function listed(db: Reader): readonly ListedOperation[] {
  const versions = Map.groupBy(ownVersions(db), (row) => row.operationId);
  return libraryOf(db).operations.map((operation): ListedOperation => {
    const rows = (versions.get(operation.id) ?? []).toReversed();
    const brought = operationById(operation.id) !== undefined;
    const changed = rows[0] !== undefined && !rows[0].withdrawn;
    return {
      operation,
      standing: brought ? (changed ? 'changed' : 'brought') : 'own',
      versions: rows.map(({ version, madeAt, withdrawn }) => ({ version, madeAt, withdrawn })),
    };
  });
}

function saveOperation(
  store: Workshop,
  known: string | null,
  draft: Draft,
  now: number,
): Result<Readonly<{ id: string; version: number }>> {
  const library = libraryOf(store.db);
  const rows = ownVersions(store.db);
  if (known !== null && library.byId(known) === undefined && !rows.some((row) => row.operationId === known)) {
    return refuse('This operation is no longer there.');
  }
  const id = known ?? freeId(draft.name, store.db);
  const version = nextVersion(store.db, id);
  const operation: Operation = { ...draft, name: draft.name.trim(), id, version };
  const checked = checkOperation(operation, library, ownOperations(rows));
  if (!checked.ok) return checked;
  const act = known === null ? 'Add' : 'Change';
  return store.write(`${act} the operation ${quote(operation.name)}`, (change) => {
    change.insert(ownOperation, { operationId: id, version, definition: operation, withdrawn: false, madeAt: now });
    return { id, version };
  });
}

/** An id that nothing had before, not even an operation withdrawn since. */
function freeId(name: string, db: Reader): string {
  const library = libraryOf(db);
  const used = new Set(ownVersions(db).map(({ operationId }) => operationId));
  return newOperationId(name, (id) => library.byId(id) !== undefined || used.has(id));
}

/** After all versions made here and the one the program brings. */
function nextVersion(db: Reader, id: string): number {
  const made = ownVersions(db).filter((row) => row.operationId === id);
  return Math.max(operationById(id)?.version ?? 0, ...made.map(({ version }) => version)) + 1;
}

function withdraw(store: Workshop, id: string, now: number): Result<void> {
  const rows = ownVersions(store.db);
  const last = rows.findLast((row) => row.operationId === id);
  if (last === undefined || last.withdrawn)
    return refuse('This is as the program brings it; there is nothing to withdraw.');
  const others = ownOperations(rows).filter((operation) => operation.id !== id);
  const without = libraryWith(others);
  if (!without.ok) return without;
  const needs = others.find((operation) =>
    [...operation.after, ...operation.requires.flat()].some((before) => without.value.byId(before) === undefined),
  );
  if (needs !== undefined) {
    return refuse(`${quote(needs.name)} is to come after it. Change that operation first.`);
  }
  return store.write(`Withdraw the operation ${quote(last.definition.name)}`, (change) => {
    const { definition, version } = last;
    change.insert(ownOperation, { operationId: id, version: version + 1, definition, withdrawn: true, madeAt: now });
  });
}

function composed(store: Workshop, one: Surveyed, ids: readonly string[]): Result<Proposal> {
  return compose(one.book, one.findings, one.hazards, ids, { kept: one.kept, ...benchOf(store.db) });
}

function agreeTo(store: Workshop, one: Surveyed, ids: readonly string[], now: number): Result<void> {
  const stop = blocks(one.hazards, 'plan');
  if (stop !== null) return refuse(stop, 'hazard');
  const made = composed(store, one, ids);
  if (!made.ok) return made;
  return store.write(`Agree to the treatment of ${quote(one.book.title)}`, (change) => {
    change.insert(treatment, { bookId: one.book.id, agreedAt: now, steps: made.value.steps, note: '' });
    const { stage } = one.book;
    if (stage === 'waiting' || stage === 'surveyed') change.update(book, one.book.id, { stage: 'agreed' });
  });
}

function ownTreatments(db: Reader): readonly OwnTreatment[] {
  return db
    .select({ id: ownTreatment.id, name: ownTreatment.name, operations: ownTreatment.operations })
    .from(ownTreatment)
    .orderBy(asc(ownTreatment.name))
    .all();
}

/** Kept anew under a name that is there already, it takes its place. */
function keepTreatment(store: Workshop, name: string, ids: readonly string[], now: number): Result<OwnTreatment> {
  const library = libraryOf(store.db);
  const unknown = ids.find((id) => library.byId(id) === undefined);
  if (unknown !== undefined) return refuse(`There is no operation “${unknown}” here.`, 'operations');
  return store.write(`Keep the treatment ${quote(name)}`, (change) => {
    const known = store.db.select().from(ownTreatment).where(eq(ownTreatment.name, name)).get();
    if (known !== undefined) change.update(ownTreatment, known.id, { operations: ids, madeAt: now });
    const id = known?.id ?? change.insert(ownTreatment, { name, operations: ids, note: '', madeAt: now });
    return { id, name, operations: ids };
  });
}
