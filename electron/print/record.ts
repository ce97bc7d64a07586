/**
 * The treatment record that goes with a book: what it is, how it was found, what was proposed, agreed and done, and what to take care of.
 * What a record must hold follows the documentation guidelines of the American Institute for Conservation (Code of Ethics and Guidelines
 * for Practice, guidelines 24 to 28).
 */
import type { ReactNode } from 'react';
import { severityWords } from '../../core/book/book.ts';
import type { FileAnswer } from '../../core/contract/ask.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { propose } from '../../core/treatment/propose.ts';
import { agreedTreatment, readSurveyed } from '../store/books.ts';
import { listEntries } from '../store/daybook.ts';
import { readHabits } from '../store/habits.ts';
import type { Workshop } from '../store/workshop.ts';
import { caution, paragraph, printSheet, section, table } from './sheet.ts';

/** A record longer than this is a year's work on one book. */
const mostEntries = 1000;

/** The record as a PDF. Refuses a book that is not there. */
export async function printRecord(store: Workshop, bookId: string): Promise<Result<FileAnswer>> {
  const surveyed = readSurveyed(store.db, [bookId])[0];
  if (!surveyed) return refuse('This book is no longer in the workshop.', 'bookId');
  const { book, findings, hazards } = surveyed;
  const { habits } = readHabits(store.db);
  const day = new Intl.DateTimeFormat('en-GB', { timeZone: habits.timeZone, dateStyle: 'medium' });
  const agreed = agreedTreatment(store.db, bookId);
  const proposal = propose(book, findings, hazards);
  const steps = agreed?.steps ?? proposal.steps;
  const entries = listEntries(store.db, bookId, mostEntries).toReversed();

  const size = [book.heightMm, book.widthMm, book.thicknessMm].filter((mm) => mm !== null).join(' × ');
  const facts: readonly (readonly [string, string])[] = [
    ['Shelf mark', book.shelfMark ?? ''],
    ['Author', book.author],
    ['Imprint', [book.imprint, book.dateText].filter(Boolean).join(', ')],
    ['Format and size', [book.format, size && `${size} mm`].filter(Boolean).join(', ')],
    [
      'Binding',
      [book.binding ?? '', book.colour, book.pattern ? `${book.pattern} grain` : ''].filter(Boolean).join(', '),
    ],
    ['Extent', book.pagesText || (book.pages === null ? '' : `${book.pages} pages`)],
    ['Completeness', book.completeness],
  ];
  const two = [
    { head: '', share: 1 },
    { head: '', share: 4 },
  ];
  const body: ReactNode[] = [
    section('What it is'),
    table(
      two,
      facts.filter(([, words]) => words !== ''),
    ),
    section('How it was found'),
    findings.length === 0
      ? paragraph('Not surveyed yet.')
      : table(
          [
            { head: 'Part', share: 1.2 },
            { head: 'Damage', share: 1.5 },
            { head: 'How bad', share: 1 },
            { head: 'Note', share: 3 },
          ],
          findings.map((one) => [
            one.part,
            one.count === null ? one.damage : `${one.damage} (${one.count})`,
            severityWords[one.severity],
            one.note,
          ]),
        ),
  ];
  for (const hazard of hazards) {
    const standing = hazard.state === 'raised' ? 'nobody has looked yet' : `${hazard.state}: ${hazard.decision}`;
    body.push(caution(`${hazard.kind} (${standing}). ${hazard.reason}`));
  }
  body.push(
    section(agreed ? `Treatment agreed on ${day.format(agreed.agreedAt)}` : 'Treatment proposed, not agreed yet'),
    steps.length === 0
      ? paragraph('Nothing is to be done.')
      : table(
          [
            { head: 'Operation', share: 2.4 },
            { head: 'Why', share: 3 },
            { head: 'Materials', share: 2.4 },
          ],
          steps.map((step) => [step.name, step.why, step.needs.map((need) => need.kind).join(', ')]),
        ),
    section('What stays'),
    paragraph(proposal.keeps.length === 0 ? 'Everything original; nothing is replaced.' : proposal.keeps.join(' ')),
    section('What was done'),
    entries.length === 0
      ? paragraph('Nothing is in the day-book yet.')
      : table(
          [
            { head: 'Day', share: 1.2 },
            { head: 'What', share: 4 },
            { head: 'Minutes', share: 0.8, align: 'right' },
          ],
          entries.map((one) => [
            day.format(one.at),
            [one.operation, one.note].filter(Boolean).join('. '),
            one.minutes === null ? '' : String(one.minutes),
          ]),
        ),
    section('Care'),
    paragraph(
      'Keep out of the sun and at an even, moderate dampness. For objects of value ask an accredited conservator.',
    ),
  );
  const bytes = await printSheet({
    title: book.title.slice(0, 300),
    lead: 'Treatment record',
    workshop: habits,
    body,
  });
  return ok({ fileName: 'treatment-record.pdf', mediaType: 'application/pdf', base64: bytes.toString('base64') });
}
