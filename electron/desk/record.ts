/** Answers about treatment records. */
import type { RecordOpened } from '../../core/contract/record.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { composeRecord } from '../../core/treatment/record.ts';
import { type RecordWords, unsaidWords } from '../../core/treatment/record-shape.ts';
import { printCard, printRecord } from '../print/record.ts';
import { recordPage } from '../print/record-page.ts';
import { readRecord, recordRow, recordTitle } from '../store/records.ts';
import { treatmentRecord } from '../store/schema-photographs.ts';
import type { Reader, Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';

const { record: room } = inWorkshop;

export const record = {
  open: room.open.handler(({ input, context, errors }) => answer(open(context.store.db, input.bookId), errors)),
  save: room.save.handler(({ input, context, errors }) => {
    const changes = Object.fromEntries(
      Object.entries(input.changes).filter(([, value]) => value !== undefined),
    ) as Partial<RecordWords>;
    answer(save(context.store, input.bookId, changes), errors);
    return answer(open(context.store.db, input.bookId), errors);
  }),
  print: room.print.handler(async ({ input, context, errors }) =>
    answer(await printRecord(context.store, input.bookId), errors),
  ),
  page: room.page.handler(async ({ input, context, errors }) =>
    answer(await recordPage(context.store, input.bookId), errors),
  ),
  card: room.card.handler(async ({ input, context, errors }) =>
    answer(await printCard(context.store, input.bookId), errors),
  ),
};

const gone = 'This book is no longer in the workshop.';

function open(db: Reader, bookId: string): Result<RecordOpened> {
  const read = readRecord(db, bookId);
  if (read === null) return refuse(gone, 'bookId');
  return ok({ bookId, words: read.facts.words, document: composeRecord(read.facts) });
}

const fieldWords: Readonly<Record<keyof RecordWords, string>> = {
  description: 'description',
  conditionBefore: 'condition before',
  purpose: 'purpose',
  departures: 'departures',
  kept: 'kept material',
  conditionAfter: 'condition after',
  care: 'care',
  signedBy: 'signature',
  signedOn: 'day of signing',
};

function save(store: Workshop, bookId: string, changes: Partial<RecordWords>): Result<void> {
  const title = recordTitle(store.db, bookId);
  if (title === null) return refuse(gone, 'bookId');
  const names = Object.keys(changes).map((key) => fieldWords[key as keyof RecordWords]);
  const short = title.length > 60 ? `${title.slice(0, 59)}…` : title;
  return store.write(`Write the ${names.join(' and ')} in the record of “${short}”`, (change) => {
    const row = recordRow(store.db, bookId);
    if (row === null) change.insert(treatmentRecord, { ...unsaidWords, ...changes, bookId });
    else change.update(treatmentRecord, row.id, changes);
  });
}
