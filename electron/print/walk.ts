/** Books to be surveyed, on paper as a walk along the shelves, with room to write down what is found. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Backlog, WalkStop } from '../../core/contract/backlog.ts';
import { caution, type Letterhead, paragraph, printSheet, section, table } from './sheet.ts';

/** The drawn books, as they were when they were drawn. */
export function printWalk(backlog: Backlog, workshop: Letterhead): Promise<FileAnswer> {
  const day = dayOf(backlog.drawnAt);
  return printStops(
    backlog.walk,
    {
      title: 'A walk along the shelves',
      lead: `${backlog.walk.length} of ${backlog.books} unsurveyed books, drawn by lot on ${day}. Survey each of them, however sound it looks: a book that is passed over spoils the sample.`,
      fileName: `survey-walk-${day}.pdf`,
    },
    workshop,
  );
}

/** Any books a person chose, to be surveyed by hand. */
export function printSurveySheet(stops: readonly WalkStop[], nowMs: number, workshop: Letterhead): Promise<FileAnswer> {
  const day = dayOf(nowMs);
  const books = stops.length === 1 ? 'One book' : `${stops.length} books`;
  const head = {
    title: 'Survey sheet',
    lead: `${books}, in the order of the shelves; ${day}.`,
    fileName: `survey-sheet-${day}.pdf`,
  };
  return printStops(stops, head, workshop);
}

function dayOf(at: number): string {
  return new Date(at).toISOString().slice(0, 10);
}

type Head = Readonly<{ title: string; lead: string; fileName: string }>;

async function printStops(walk: readonly WalkStop[], head: Head, workshop: Letterhead): Promise<FileAnswer> {
  const stops = Map.groupBy(walk, ({ place }) => place);
  const body = [...stops].flatMap(([place, books]) => [
    section(place === '' ? 'No place noted' : place),
    table(
      [
        { head: 'Done', share: 0.6 },
        { head: 'Mark', share: 0.9 },
        { head: 'Book', share: 4 },
        { head: 'Boards, joints, spine, corners', share: 3 },
        { head: 'Sewing, leaves, plates', share: 3 },
        { head: 'Mould, red rot, green cloth', share: 2 },
      ],
      books.map(({ title, shelfMark, surveyed }) => [
        surveyed ? 'in' : '……',
        shelfMark ?? '',
        title.length > 90 ? `${title.slice(0, 89)}…` : title,
        '',
        '',
        '',
      ]),
    ),
  ]);
  const bytes = await printSheet({
    title: head.title,
    lead: head.lead,
    workshop,
    orientation: 'landscape',
    body: [
      paragraph('Note a grade from 1 (slight) to 3 (severe) for what is wrong, and a dash where nothing is.'),
      caution(
        'wear gloves where mould, powdering leather or bright green cloth is seen, close the book, and note it before anything else. Follow your local rules; for objects of value ask an accredited conservator.',
      ),
      ...body,
    ],
  });
  return { fileName: head.fileName, mediaType: 'application/pdf', base64: bytes.toString('base64') };
}
