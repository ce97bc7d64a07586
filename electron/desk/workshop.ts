/** Answers about the workshop itself: opening a folder, its habits, undo and redo, the press line, finding anything. */
import { existsSync, realpathSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { WorkshopStatus } from '../../core/contract/workshop.ts';
import { ok, type Result } from '../../core/result.ts';
import { changeHabits, countBooks, readHabits } from '../store/habits.ts';
import { readPressLine } from '../store/press-line.ts';
import { findAnything } from '../store/search.ts';
import { createWorkshop, openWorkshop, type Workshop } from '../store/workshop.ts';
import { makeDemoWorkshop } from './demo-workshop.ts';
import { answer, type Desk, desk, inWorkshop } from './desk.ts';

const { workshop: anywhere } = desk;
const { workshop: inside } = inWorkshop;

export const workshop = {
  status: anywhere.status.handler(({ context }) => statusOf(context)),
  create: anywhere.create.handler(({ input, context, errors }) => {
    const { timeZone } = new Intl.DateTimeFormat().resolvedOptions();
    const habits = { name: input.name, timeZone, currency: 'EUR' };
    return answer(
      enter(context, () => createWorkshop(resolve(input.folder), habits, optionsOf(context))),
      errors,
    );
  }),
  open: anywhere.open.handler(({ input, context, errors }) => {
    const folder = resolve(input.folder);
    if (isOpen(context, folder)) return statusOf(context);
    letGoIfGone(context);
    return answer(
      enter(context, () => openWorkshop(folder, optionsOf(context))),
      errors,
    );
  }),
  openDemo: anywhere.openDemo.handler(({ context, errors }) => {
    const folder = context.demoFolder;
    if (isOpen(context, folder)) return statusOf(context);
    const made = existsSync(join(folder, 'workshop.sqlite'));
    const options = optionsOf(context);
    return answer(
      enter(context, () => (made ? openWorkshop(folder, options) : makeDemoWorkshop(folder, options))),
      errors,
    );
  }),
  setHabits: inside.setHabits.handler(({ input, context, errors }) => {
    answer(changeHabits(context.store, input), errors);
    return statusOf(context);
  }),
  undo: inside.undo.handler(({ context, errors }) => answer(context.store.undo(), errors)),
  redo: inside.redo.handler(({ context, errors }) => answer(context.store.redo(), errors)),
  history: inside.history.handler(({ input, context }) => context.store.history(input.limit)),
  presses: inside.presses.handler(({ context }) => readPressLine(context.store.db, context.now())),
  find: inside.find.handler(({ input, context }) => findAnything(context.store.db, input.words)),
};

/** What the page needs to know of the workshop that is open, if one is. */
export function statusOf({ shell, version, suggestedFolder, place }: Desk): WorkshopStatus {
  const { workshop: open } = place;
  const notOpened = open === null ? (place.notOpened ?? null) : null;
  if (open === null) return { shell, version, open: null, suggestedFolder, notOpened, undo: null, redo: null };
  const { habits, isDemo } = readHabits(open.db);
  const books = countBooks(open.db);
  return {
    shell,
    version,
    open: { folder: open.folder, name: habits.name, isDemo, books, habits },
    suggestedFolder,
    notOpened,
    ...open.next(),
  };
}

/** Changes to another workshop; the one that is open stays open where the other cannot be had. */
export function enter(context: Desk, open: () => Result<Workshop>): Result<WorkshopStatus> {
  const opened = open();
  if (!opened.ok) return opened;
  context.place.workshop?.close();
  context.place.workshop = opened.value;
  return ok(statusOf(context));
}

/** A workshop whose folder went away while it was open holds nothing any more, and must not keep its own folder from being opened again. */
function letGoIfGone({ place }: Desk): void {
  if (place.workshop === null || place.workshop.isThere()) return;
  place.workshop.close();
  place.workshop = null;
}

function isOpen({ place }: Desk, folder: string): boolean {
  const { workshop: open } = place;
  return open !== null && existsSync(folder) && realpathSync(folder) === open.folder && open.isThere();
}

export function optionsOf({ now, log }: Desk) {
  return { now, note: log.note };
}
