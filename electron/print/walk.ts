/** The drawn books on paper as a walk along the shelves, with room to write down what is found. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Backlog } from '../../core/contract/backlog.ts';
import { caution, paragraph, printSheet, section, table } from './sheet.ts';

export async function printWalk(backlog: Backlog, workshop: string): Promise<FileAnswer> {
  const day = new Date(backlog.drawnAt).toISOString().slice(0, 10);
  const stops = Map.groupBy(backlog.walk, ({ place }) => place);
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
    title: 'A walk along the shelves',
    lead: `${backlog.walk.length} of ${backlog.books} unsurveyed books, drawn by lot on ${day}. Survey each of them, however sound it looks.`,
    workshop,
    paper: 'A4',
    orientation: 'landscape',
    body: [
      paragraph(
        'Note a grade from 1 (slight) to 3 (severe) for what is wrong, and a dash where nothing is. A book that is passed over spoils the sample.',
      ),
      caution(
        'wear gloves where mould, powdering leather or bright green cloth is seen, close the book, and note it before anything else. Follow your local rules; for objects of value ask an accredited conservator.',
      ),
      ...body,
    ],
  });
  return { fileName: `survey-walk-${day}.pdf`, mediaType: 'application/pdf', base64: bytes.toString('base64') };
}
