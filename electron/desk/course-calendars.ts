/** The laid-out week as calendars: each person's, each tutor's, and the whole. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Course, CourseTask } from '../../core/contract/course.ts';
import { concerns, teacherName, teachersIn } from '../../core/course/moment.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { type CalendarEvent, writeCalendar, zipCalendars } from '../files/course-calendar.ts';

type Whose = Readonly<{ id: string; name: string }>;
const everything = 'everything';

export async function calendarOf(course: Course, whose: string, nowMs: number): Promise<Result<FileAnswer>> {
  const { timetable } = course;
  if (!timetable) return refuse('The week is not laid out yet. Do that first.');
  const teachers = teachersIn(timetable.tasks);
  const all: readonly Whose[] = [
    { id: everything, name: 'Everything' },
    ...course.people.filter(({ standing }) => standing === 'confirmed').map(({ id, name }) => ({ id, name })),
    ...teachers.map((id) => ({ id, name: teacherName(id, teachers) })),
  ];
  const textFor = (one: Whose) => {
    const title = one.id === everything ? course.frame.title : `${course.frame.title}: ${one.name}`;
    return writeCalendar(title, course.timeZone, eventsFor(course, timetable.tasks, one.id), nowMs);
  };
  if (whose === 'all in one zip') {
    const files = all.map((one, index) => ({ name: fileName(course, one, index), text: textFor(one) }));
    return ok(
      file(`course-${course.frame.startsOn}-calendars.zip`, 'application/zip', await zipCalendars(files, nowMs)),
    );
  }
  const one = all.find(({ id }) => id === whose);
  if (!one) return refuse('Nobody of this name is in the week.', 'whose');
  return ok(file(fileName(course, one, null), 'text/calendar', Buffer.from(textFor(one))));
}

/** Two people of one name get two files. */
function fileName(course: Course, { id, name }: Whose, index: number | null): string {
  const plain = name
    .normalize('NFKD')
    .replace(/[^\p{Letter}\p{Number}]+/gu, '-')
    .replace(/^-|-$/g, '')
    .toLowerCase();
  const number = index === null || id === everything ? '' : `${String(index).padStart(2, '0')}-`;
  return `${number}${plain || 'calendar'}-${course.frame.startsOn}.ics`;
}

function file(name: string, mediaType: string, bytes: Uint8Array): FileAnswer {
  return { fileName: name, mediaType, base64: Buffer.from(bytes).toString('base64') };
}

function eventsFor(course: Course, tasks: readonly CourseTask[], whose: string): readonly CalendarEvent[] {
  const names = new Map(course.people.map(({ id, name }) => [id, name]));
  const tools = new Map(course.tools.map(({ id, name }) => [id, name]));
  const seesAll = whose === everything || !names.has(whose);
  return tasks
    .filter((task) => whose === everything || concerns(task, whose, names.has(whose)))
    .flatMap((task) => {
      const who = names.get(task.personId ?? '') ?? 'Everybody';
      const waits = task.kind === 'drying' || task.kind === 'pressing';
      const summary = [task.label, ...(task.book === '' ? [] : [task.book]), ...(seesAll ? [who] : [])].join(', ');
      const used = task.tools.map((id) => tools.get(id)).filter((name) => name !== undefined);
      const description = [
        ...(used.length > 0 ? [`With ${used.join(', ')}.`] : []),
        ...task.cautions,
        ...(task.cautions.length > 0
          ? ['Follow your local rules; for objects of value ask an accredited conservator.']
          : []),
      ].join('\n');
      const uid = `${course.id}-${task.bookId ?? 'all'}-${task.operationId.replaceAll(' ', '-')}-${task.kind}`;
      return partsOf(course, task, waits).map(
        ({ from, to }, index): CalendarEvent => ({
          uid: `${uid}-${index + 1}@kettlestitch`,
          startAt: from,
          endAt: to,
          summary,
          description,
          busy: !waits,
        }),
      );
    });
}

/** Hand-work by the teaching hours it falls in, since hands rest between; a wait as one stretch until it is taken out. */
function partsOf(course: Course, task: CourseTask, waits: boolean): readonly Readonly<{ from: number; to: number }>[] {
  const whole = { from: task.startAt, to: Math.max(task.endAt, task.heldUntil ?? 0) };
  if (waits) return [whole];
  const parts = course.hours
    .map(({ from, to }) => ({ from: Math.max(from, task.startAt), to: Math.min(to, task.endAt) }))
    .filter(({ from, to }) => from < to);
  // Past the last day the course has no hours of its own.
  return parts.length > 0 ? parts : [whole];
}
