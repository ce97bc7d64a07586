/** A course's people on paper: letters, certificates, meals, one person's data, and the report after the course. */
import type { ReactNode } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Gathering } from '../../core/contract/course-people.ts';
import type { MealLine } from '../../core/course/meals.ts';
import { nameWith, type OwnNames } from '../../core/course/names.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { caution, heading, type Letterhead, paragraph, printPages, printSheet, section, table } from './sheet.ts';

/** A page a person; lines stay as they were written. */
export async function printLetters(
  name: string,
  letters: readonly string[],
  workshop: Letterhead,
): Promise<FileAnswer> {
  const pages = letters.map((text) => text.split('\n').map((line) => paragraph(line === '' ? ' ' : line)));
  return pdf(`${slug(name)}.pdf`, await printPages(name, workshop, pages));
}

export type Certificate = Readonly<{ name: string; lines: readonly Readonly<{ operation: string; how: string }>[] }>;

export async function printCertificates(
  course: Readonly<{ title: string; days: number; startsOn: string; endsOn: string; teachers: string }>,
  people: readonly Certificate[],
  workshop: Letterhead,
): Promise<FileAnswer> {
  const pages = people.map(({ name, lines }): readonly ReactNode[] => [
    heading('Certificate of attendance'),
    paragraph(' '),
    heading(name),
    paragraph(
      `took part in “${course.title}”, ${course.days} ${course.days === 1 ? 'day' : 'days'}, ${course.startsOn} to ${course.endsOn}.`,
    ),
    ...(lines.length === 0
      ? []
      : [
          section('Met at the bench'),
          table(
            [
              { head: 'Operation', share: 3 },
              { head: 'How', share: 1 },
            ],
            lines.map(({ operation, how }) => [operation, how]),
          ),
        ]),
    paragraph(' '),
    paragraph('It says what was met, not how well it was done, and is no qualification.'),
    paragraph(' '),
    paragraph(
      `${course.teachers === '' ? 'For the workshop' : course.teachers}: ……………………………………………………   Date: …………………………`,
    ),
  ]);
  return pdf(`certificates-${course.startsOn}.pdf`, await printPages('Certificates of attendance', workshop, pages));
}

export async function printMeals(
  title: string,
  lines: readonly MealLine[],
  kitchen: readonly string[],
  workshop: Letterhead,
): Promise<FileAnswer> {
  const body: ReactNode[] = [];
  for (const [date, meals] of Map.groupBy(lines, (line) => line.date)) {
    body.push(
      section(date),
      table(
        [
          { head: 'Meal', share: 1 },
          { head: 'People', share: 0.6, align: 'right' },
          { head: 'By diet', share: 3 },
          { head: 'Must not be in it', share: 4 },
        ],
        meals.map((line) => [
          line.meal,
          String(line.people),
          line.diets.map(({ diet, people }) => `${people} ${diet}`).join('; '),
          line.without.map(({ name, foods }) => `${name}: ${foods.join(', ')}`).join('; '),
        ]),
      ),
    );
  }
  body.push(...kitchen.map(caution));
  const total = lines.reduce((sum, line) => sum + line.people, 0);
  const bytes = await printSheet({ title: `Meals: ${title}`, lead: `${total} meals.`, workshop, body });
  return pdf('meals.pdf', bytes);
}

/** Everything kept about one person, to read. */
export async function printPerson(
  name: string,
  parts: readonly Readonly<{ what: string; rows: readonly (readonly [string, string])[] }>[],
  remarks: readonly string[],
  workshop: Letterhead,
): Promise<FileAnswer> {
  const body = [
    ...parts.flatMap(({ what, rows }): ReactNode[] => [
      section(what),
      rows.length === 0
        ? paragraph('Nothing.')
        : table(
            [
              { head: 'What', share: 1 },
              { head: 'Kept', share: 3 },
            ],
            rows,
          ),
    ]),
    section('Where else it may be'),
    ...remarks.map(paragraph),
  ];
  const bytes = await printSheet({
    title: name,
    lead: 'Everything this workshop keeps about one person.',
    workshop,
    body,
  });
  return pdf(`${slug(name)}.pdf`, bytes);
}

export async function printReport(
  title: string,
  gathering: Gathering,
  { timeZone, ownNames }: Readonly<{ timeZone: string; ownNames: OwnNames }>,
  workshop: Letterhead,
): Promise<FileAnswer> {
  const { report, notes, guests } = gathering;
  const when = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'medium', timeStyle: 'short' });
  const of = (kind: string) => notes.filter((note) => note.kind === kind);
  const confirmed = guests.filter(({ standing }) => standing === 'confirmed');
  const body: ReactNode[] = [
    section('Hours by operation'),
    report.operations.length === 0
      ? paragraph('No minutes were noted.')
      : table(
          [
            { head: 'Operation', share: 3 },
            { head: 'Times', share: 1, align: 'right' },
            { head: 'Planned', share: 1.2, align: 'right' },
            { head: 'Taken', share: 1.2, align: 'right' },
          ],
          report.operations.map((line) => [
            line.name,
            String(line.times),
            line.planned === 0 ? 'unknown' : minutesWords(line.planned),
            minutesWords(line.actual),
          ]),
        ),
    ...report.levels.map(({ level, times, pace }) =>
      paragraph(
        `A ${level} took ${pace.toFixed(1)} minutes for one of the bench’s own, in the middle of ${times} ${times === 1 ? 'job' : 'jobs'}.`,
      ),
    ),
    section('What was met'),
    table(
      [
        { head: 'Person', share: 1.5 },
        { head: 'Operations', share: 4 },
      ],
      confirmed.map(({ name, met }) => [
        name,
        met.map(({ operationId, how }) => `${nameWith(ownNames, operationId)} (${how})`).join(', '),
      ]),
    ),
    section('Materials'),
    report.used.length === 0
      ? paragraph('Nothing was booked to this course.')
      : table(
          [
            { head: 'Material', share: 3 },
            { head: 'Planned', share: 1, align: 'right' },
            { head: 'Used', share: 1, align: 'right' },
          ],
          report.used.map(({ name, unit, planned, used }) => [name, amount(planned, unit), amount(used, unit)]),
        ),
    section('Incidents'),
    ...(of('incident').length === 0 ? [paragraph('None was noted.')] : []),
    ...of('incident').map(({ at, person, what, done }) =>
      paragraph(`${when.format(at)}${person === null ? '' : `, ${person}`}: ${what} Done: ${done}`),
    ),
    section('Comments'),
    ...(of('comment').length === 0 ? [paragraph('None was noted.')] : []),
    ...of('comment').map(({ person, what }) => paragraph(person === null ? what : `${person}: ${what}`)),
  ];
  const lead = `${gathering.startsOn} to ${gathering.endsOn}, ${confirmed.length} people`;
  return pdf(`report-${gathering.startsOn}.pdf`, await printSheet({ title: `Report: ${title}`, lead, workshop, body }));
}

function amount(quantity: number, unit: string): string {
  return `${Math.round(quantity * 100) / 100} ${unit}`;
}

function slug(words: string): string {
  const plain = words
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return plain === '' ? 'sheet' : plain;
}

function pdf(fileName: string, bytes: Buffer): FileAnswer {
  return { fileName, mediaType: 'application/pdf', base64: bytes.toString('base64') };
}
