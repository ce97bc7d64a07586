/** A course on paper: the week on the wall, by day and person, and a card for each practice copy with its steps and cautions. */
import type { ReactNode } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Course, CourseTask } from '../../core/contract/course.ts';
import { learnerMinutes } from '../../core/course/pace.ts';
import type { CourseWork } from '../../core/course/timetable.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { caution, type Letterhead, paragraph, printSheet, section, table } from './sheet.ts';

/** The week, a table a day. Refuses a course whose week is not laid out. */
export async function printTimetable(course: Course, workshop: Letterhead): Promise<Result<FileAnswer>> {
  const { timetable, timeZone } = course;
  if (!timetable) return refuse('The week is not laid out yet. Do that first.');
  const dayOf = new Intl.DateTimeFormat('en-GB', { timeZone, weekday: 'long', day: 'numeric', month: 'long' });
  const timeOf = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit' });
  const names = new Map(course.people.map(({ id, name }) => [id, name]));
  const tools = new Map(course.tools.map(({ id, name }) => [id, name]));
  const where = (task: CourseTask) => task.tools.map((id) => tools.get(id) ?? id).join(', ');
  const body: ReactNode[] = [];
  const shown = timetable.tasks.filter((task) => task.kind !== 'drying');
  for (const [day, tasks] of Map.groupBy(shown, (task) => dayOf.format(task.startAt))) {
    body.push(
      section(day),
      table(
        [
          { head: 'From', share: 0.6 },
          { head: 'To', share: 0.7 },
          { head: 'Who', share: 2 },
          { head: 'What', share: 3 },
          { head: 'Book', share: 3 },
          { head: 'With', share: 2.2 },
        ],
        tasks.map((task) => [
          timeOf.format(task.startAt),
          `${timeOf.format(task.endAt)}${dayOf.format(task.endAt) === day ? '' : ' later'}`,
          task.personId === null ? 'Everybody' : (names.get(task.personId) ?? ''),
          task.kind === 'pressing' ? `${task.label} (leave it)` : task.label,
          task.book,
          where(task),
        ]),
      ),
    );
  }
  const cautions = [...new Set(shown.flatMap((task) => task.cautions))];
  if (cautions.length > 0) body.push(section('Take care'), ...cautions.map(caution));
  body.push(paragraph('Follow your local rules; for objects of value ask an accredited conservator.'));
  const people = course.people.filter((one) => one.standing === 'confirmed').length;
  const bytes = await printSheet({
    title: course.frame.title,
    lead: `${course.frame.startsOn} to ${course.endsOn}, ${people} people`,
    workshop,
    orientation: 'landscape',
    body,
  });
  return ok(pdf(`course-${course.frame.startsOn}.pdf`, bytes));
}

/** `where`: shelf mark and place, empty where neither is known. */
export type CopyCard = Readonly<{ work: CourseWork; where: string }>;

/** A card for every copy that is somebody's. Refuses where none is. */
export async function printCards(
  title: string,
  cards: readonly CopyCard[],
  workshop: Letterhead,
): Promise<Result<FileAnswer>> {
  if (cards.length === 0) return refuse('Nobody has a copy yet. Allocate the copies first.');
  const body = cards.flatMap(({ work, where }): ReactNode[] => [
    section(`${work.title}: ${work.name}`),
    paragraph(where === '' ? 'No shelf mark or place is kept for it.' : `Stands at ${where}.`),
    table(
      [
        { head: 'Step', share: 3 },
        { head: 'Why', share: 4 },
        { head: 'Minutes', share: 1, align: 'right' },
        { head: 'Then wait', share: 2.5 },
        { head: 'Tutor', share: 1 },
        { head: 'Done', share: 0.7 },
      ],
      work.steps.map((step) => [
        step.name,
        step.why,
        String(learnerMinutes(step.minutes.likely, work.level)),
        step.wait?.what ?? '',
        step.attention === 'none' ? '' : step.attention,
        '……',
      ]),
    ),
    ...[...new Set(work.steps.flatMap((step) => step.cautions.map(({ sentence }) => sentence)))].map(caution),
  ]);
  const lead = `${cards.length} practice ${cards.length === 1 ? 'copy' : 'copies'}. Follow your local rules; ask the tutor before anything that cannot be undone.`;
  const bytes = await printSheet({ title, lead, workshop, orientation: 'landscape', body });
  return ok(pdf('practice-copy-cards.pdf', bytes));
}

function pdf(fileName: string, bytes: Buffer): FileAnswer {
  return { fileName, mediaType: 'application/pdf', base64: bytes.toString('base64') };
}
