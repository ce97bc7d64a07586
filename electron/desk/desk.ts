/**
 * What every room's desk stands on: the context a question is answered in, how a refusal and a defect are said, and the two
 * bases a room is built from.
 *
 * A room is one file here, `electron/desk/<room>.ts`:
 *
 *     import { answer, inWorkshop } from './desk.ts';
 *     export const shelf = {
 *       list: inWorkshop.shelf.list.handler(({ input, context }) => listBooks(context.store, input)),
 *       save: inWorkshop.shelf.save.handler(({ input, context, errors }) => answer(saveBook(context.store, input), errors)),
 *     };
 *
 * and one line each in core/contract/contract.ts and electron/desk/router.ts.
 */
import { implement, ORPCError, ValidationError } from '@orpc/server';
import { contract } from '../../core/contract/contract.ts';
import type { WorkshopStatus } from '../../core/contract/workshop.ts';
import type { Result } from '../../core/result.ts';
import type { Log } from '../log.ts';
import type { Sharing } from '../sharing.ts';
import { sayDiskTrouble } from '../store/trouble.ts';
import type { Workshop } from '../store/workshop.ts';
import { guardStream, isStream } from './stream.ts';
import { readIssue } from './words.ts';

/** The context of every question. `place` is a holder, so that opening another folder swaps the workshop for all who ask after. */
export type Desk = Readonly<{
  shell: 'desktop' | 'browser';
  /** Asked by a device on the network, not by this machine's own page. */
  remote: boolean;
  sharing: Sharing;
  version: string;
  place: { workshop: Workshop | null; notOpened?: WorkshopStatus['notOpened'] };
  /** UTC milliseconds. */
  now(): number;
  log: Log;
  /** Folder offered for a new workshop; the demo is made in `demoFolder`. */
  suggestedFolder: string;
  demoFolder: string;
}>;

/** What a handler can throw to refuse: the contract's one typed error. */
export type Refusals = Readonly<{
  REFUSED(options: { message: string; data: { field?: string | undefined } }): Error;
}>;

/** The value of a result, or the contract's refusal with the result's sentence and field. */
export function answer<T>(result: Result<T>, errors: Refusals): T {
  if (result.ok) return result.value;
  const { sentence, field } = result.refusal;
  throw errors.REFUSED({ message: sentence, data: field === undefined ? {} : { field } });
}

/** Other folders, and who is let in, are for whoever sits at the machine itself. */
const onlyHere = ['workshop.create', 'workshop.open', 'workshop.openDemo', 'archive', 'sharing'];
const forAnybody = ['sharing.status', 'archive.sheets'];

function isOnlyHere(path: readonly string[]): boolean {
  const question = path.join('.');
  if (forAnybody.includes(question)) return false;
  return onlyHere.some((closed) => question === closed || question.startsWith(`${closed}.`));
}

/** Base for the room that works without an open workshop; the others start from `inWorkshop`. */
export const desk = implement(contract)
  .$context<Desk>()
  .use(async ({ context, errors, next, path }) => {
    if (context.remote && isOnlyHere(path)) {
      throw errors.REFUSED({ message: 'This is done at the workshop’s own machine, not from a device.', data: {} });
    }
    const sayTrouble = (error: unknown) => trouble(error, errors, context.log, path.join('.'));
    try {
      const result = await next();
      return isStream(result.output) ? { ...result, output: guardStream(result.output, sayTrouble) } : result;
    } catch (error) {
      throw sayTrouble(error);
    }
  });

/** Base for rooms: their handlers find the open workshop as `context.store`, and are refused in words while none is open. */
export const inWorkshop = desk.use(({ context, errors, next }) => {
  const { workshop } = context.place;
  if (workshop === null) {
    throw errors.REFUSED({ message: 'No workshop is open. Open a folder or start a new one first.', data: {} });
  }
  return next({ context: { store: workshop } });
});

/** Sorts what was thrown: a refusal passes, an input that does not fit becomes one, everything else is a numbered defect. */
function trouble(error: unknown, errors: Refusals, log: Log, where: string): unknown {
  if (error instanceof ORPCError) {
    if (error.code === 'REFUSED' || error.code === 'DEFECT') return error;
    if (error.code === 'BAD_REQUEST' && error.cause instanceof ValidationError) {
      const { sentence, field } = readIssue(error.cause.issues);
      return errors.REFUSED({ message: sentence, data: field === undefined ? {} : { field } });
    }
  }
  if (error instanceof Error && error.name === 'AbortError') return error;
  const disk = sayDiskTrouble(error);
  if (disk !== null) return errors.REFUSED({ message: disk.sentence, data: {} });
  const number = log.defect(error, where);
  return new ORPCError('DEFECT', {
    status: 500,
    message: `Something went wrong in the program itself (no. ${number}). Nothing of this change was kept.`,
    data: { number },
  });
}
