/** How the shelves are kept, answered: saved views, places, lots, labels. */
import { eq } from 'drizzle-orm';
import type { SavedView } from '../../core/contract/shelving.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { printLabels } from '../print/labels.ts';
import { readSurveyed } from '../store/books.ts';
import { readHabits } from '../store/habits.ts';
import { placeNames } from '../store/places.ts';
import { lot, place } from '../store/schema.ts';
import { savedView } from '../store/schema-shelf.ts';
import { listViews, lotDetails, placesAbove, placeTree } from '../store/shelving.ts';
import type { Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';
import { given, quote } from './shelf.ts';

const { shelving: room } = inWorkshop;

export const shelving = {
  views: room.views.handler(({ context }) => listViews(context.store.db)),
  saveView: room.saveView.handler(({ input, context, errors }) =>
    answer(saveView(context.store, { ...input, name: input.name.trim() }), errors),
  ),
  removeView: room.removeView.handler(({ input, context, errors }) => {
    const { store } = context;
    answer(
      store.write('Remove a saved view', (change) => change.remove(savedView, input.id)),
      errors,
    );
    return { id: input.id };
  }),
  places: room.places.handler(({ context }) => placeTree(context.store.db)),
  addPlace: room.addPlace.handler(({ input, context, errors }) => {
    const { store } = context;
    answer(isFree(store, null, input.parentId, input.name), errors);
    const name = input.name.trim();
    const id = answer(
      store.write(`Add the place ${quote(name)}`, (change) => change.insert(place, { name, parentId: input.parentId })),
      errors,
    );
    return { id };
  }),
  savePlace: room.savePlace.handler(({ input, context, errors }) => {
    answer(savePlace(context.store, input), errors);
    return { id: input.id };
  }),
  removePlace: room.removePlace.handler(({ input, context, errors }) => {
    const { store } = context;
    const tree = placeTree(store.db);
    const node = tree.find(({ id }) => id === input.id);
    const holds = tree.some(({ parentId }) => parentId === input.id);
    const empty = (node?.books ?? 0) === 0 && !holds;
    answer(empty ? ok(null) : refuse('Something is still in this place; move it elsewhere first.', 'place'), errors);
    answer(
      store.write(`Remove the place ${quote(node?.name ?? '')}`, (change) => change.remove(place, input.id)),
      errors,
    );
    return { id: input.id };
  }),
  lots: room.lots.handler(({ context }) => lotDetails(context.store.db)),
  saveLot: room.saveLot.handler(({ input, context, errors }) => {
    const { store } = context;
    const { id, ...patch } = input;
    const before = lotDetails(store.db).find((one) => one.id === id);
    answer(before === undefined ? refuse('This lot is no longer there.') : ok(null), errors);
    answer(
      store.write(`Change the lot ${quote(before?.name ?? '')}`, (change) => change.update(lot, id, given(patch))),
      errors,
    );
    const after = lotDetails(store.db).find((one) => one.id === id);
    return answer(after === undefined ? refuse('This lot is no longer there.') : ok(after), errors);
  }),
  removeLot: room.removeLot.handler(({ input, context, errors }) => {
    const { store } = context;
    const known = lotDetails(store.db).find((one) => one.id === input.id);
    const free = (known?.books ?? 0) === 0;
    answer(free ? ok(null) : refuse('Books are still in this lot; move them to another first.', 'lot'), errors);
    answer(
      store.write(`Remove the lot ${quote(known?.name ?? '')}`, (change) => change.remove(lot, input.id)),
      errors,
    );
    return { id: input.id };
  }),
  labels: room.labels.handler(async ({ input, context, errors }) => {
    const { db } = context.store;
    const names = placeNames(db);
    const base = input.address.replace(/\/+(#.*)?$/, '');
    const labels = readSurveyed(db, input.ids).map(({ book }) => ({
      mark: book.shelfMark ?? 'no mark',
      title: [book.title, book.dateText].filter(Boolean).join(', '),
      place: book.placeId === null ? '' : (names.get(book.placeId) ?? ''),
      address: `${base}/#/shelf/${book.id}`,
    }));
    return answer(await printLabels(labels, input.grid, readHabits(db).habits), errors);
  }),
};

function saveView(store: Workshop, view: Omit<SavedView, 'id'>): Result<SavedView> {
  return store.write(`Keep the view ${quote(view.name)}`, (change) => {
    const known = store.db.select().from(savedView).where(eq(savedView.name, view.name)).get();
    if (known !== undefined) change.update(savedView, known.id, view);
    return { ...view, id: known?.id ?? change.insert(savedView, view) };
  });
}

function savePlace(
  store: Workshop,
  input: Readonly<{ id: string; name?: string | undefined; parentId?: string | null | undefined }>,
): Result<void> {
  const tree = placeTree(store.db);
  const node = tree.find(({ id }) => id === input.id);
  if (node === undefined) return refuse('This place is no longer there.');
  const parentId = input.parentId === undefined ? node.parentId : input.parentId;
  const name = (input.name ?? node.name).trim();
  const parents = new Map(tree.map((one) => [one.id, one.parentId]));
  if (parentId !== null && (parentId === node.id || placesAbove(parentId, parents).includes(node.id))) {
    return refuse(`${quote(node.name)} cannot be put into itself.`, 'parentId');
  }
  const free = isFree(store, node.id, parentId, name);
  if (!free.ok) return free;
  const label =
    parentId === node.parentId ? `Rename the place ${quote(node.name)}` : `Move the place ${quote(node.name)}`;
  return store.write(label, (change) => change.update(place, node.id, { name, parentId }));
}

/** No two places of one name stand in the same place. */
function isFree(store: Workshop, self: string | null, parentId: string | null, name: string): Result<null> {
  const wanted = name.trim().toLowerCase();
  const taken = placeTree(store.db).some(
    (one) => one.id !== self && one.parentId === parentId && one.name.toLowerCase() === wanted,
  );
  return taken ? refuse(`There is a place called ${quote(name.trim())} there already.`, 'name') : ok(null);
}
