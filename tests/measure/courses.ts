/**
 * How long an edit takes to show its consequences in a workshop with many courses: `npm run -s measure -- courses [--people 60] [--courses 8] [--copies 60]`.
 * Makes an invented workshop with that many courses of that many people, edits people, frame, copies, pairs and money of one, and prints one
 * JSON line: the median and the slowest of each kind in milliseconds. Each edit answers with the whole course as the page shows it.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRouterClient } from '@orpc/server';
import { router } from '../../electron/desk/router.ts';
import { book, courseCopy, person } from '../../electron/store/schema.ts';
import { closeDesk, makeDesk } from '../../electron/workplace.ts';

const times = 7;

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      people: { type: 'string', default: '60' },
      courses: { type: 'string', default: '8' },
      copies: { type: 'string', default: '60' },
    },
  });
  const [people = 0, courses = 0, copies = 0] = [values.people, values.courses, values.copies].map(Number);
  if (!(Number.isInteger(people) && people > 0 && Number.isInteger(courses) && courses > 0 && copies > 0)) {
    console.error('Say whole numbers: npm run -s measure -- courses --people 60 --courses 8');
    process.exitCode = 2;
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-courses-'));
  const desk = makeDesk('browser', { state: join(folder, 'state'), home: folder });
  try {
    const client = createRouterClient(router, { context: desk });
    await client.workshop.openDemo();
    const [demo] = await client.course.list();
    const store = desk.place.workshop;
    if (!demo || !store) throw new Error('the demo has its course');
    const { frame, syllabus } = await client.course.open({ id: demo.id });
    const items = syllabus.map(({ operationId, required, demonstrationMinutes }) => ({
      operationId,
      required,
      demonstrationMinutes,
    }));
    const plain = { ...frame, dayHours: frame.dayHours.map(([from, to]): [number, number] => [from, to]) };
    const each: [number, number] = [frame.copiesEach[0], frame.copiesEach[1]];
    const ids: string[] = [];
    for (let index = 0; index < courses; index++) {
      const made = await client.course.save({
        ...plain,
        copiesEach: each,
        title: `Course ${index + 1}`,
        benches: people,
      });
      await client.course.setSyllabus({ courseId: made.id, items });
      ids.push(made.id);
    }
    const bookIds = store.db.select({ id: book.id }).from(book).limit(copies).all();
    store.write('Invent people and copies', (change) => {
      for (const [index, courseId] of ids.entries()) {
        const coming: string[] = [];
        for (let number = 0; number < people; number++) {
          const level = (['newcomer', 'improver', 'journeyman'] as const)[number % 3] ?? 'newcomer';
          const row = { level, standing: 'confirmed', wishes: [], allergies: [], diet: '', note: '' };
          coming.push(change.insert(person, { ...row, courseId, name: `Person ${index}.${number}` }));
        }
        // The books of the demo's shelf, dealt out to all.
        for (const [number, { id }] of bookIds.entries()) {
          const personId = coming[number % coming.length] ?? null;
          change.insert(courseCopy, { courseId, bookId: id, personId, locked: false, reason: 'Dealt.' });
        }
      }
    });
    const [courseId = ''] = ids;
    const opened = await client.course.open({ id: courseId });
    const [first, second] = opened.people;
    const pairs = await client.coursePlan.pairs({ courseId });
    const given = pairs.copies.flatMap(({ bookId, cells }) =>
      cells.flatMap(({ personId, standing }) => (standing === 'given' ? [{ bookId, personId }] : [])),
    );
    const [copy] = given;
    if (!first || !second || !copy) throw new Error('people and copies are there');
    const typed = { level: first.level, standing: first.standing, wishes: [], allergies: [], diet: '' };
    const edits: Readonly<Record<string, (time: number) => Promise<unknown>>> = {
      open: () => client.course.open({ id: courseId }),
      person: (time) =>
        client.course.savePerson({ ...typed, id: first.id, courseId, name: first.name, note: `note ${time}` }),
      frame: (time) =>
        client.course.save({ ...plain, copiesEach: each, id: courseId, title: 'Course 1', feeMinor: 50_000 + time }),
      copy: (time) =>
        client.course.give({ courseId, bookId: copy.bookId, personId: copy.personId, locked: time % 2 === 0 }),
      pair: (time) =>
        client.coursePlan.rule({
          courseId,
          personId: second.id,
          bookId: copy.bookId,
          rule: time % 2 === 0 ? 'never' : 'free',
        }),
      money: (time) =>
        client.coursePlan.setTerms({ courseId, depositMinor: 1000 + time, decideOn: null, lostMinor: 0 }),
    };
    const found: Record<string, Readonly<{ medianMs: number; slowestMs: number }>> = {};
    for (const [name, edit] of Object.entries(edits)) {
      const taken: number[] = [];
      for (let time = 0; time < times; time++) {
        const started = performance.now();
        await edit(time);
        taken.push(performance.now() - started);
      }
      const sorted = taken.toSorted((one, other) => one - other);
      const round = (ms: number | undefined) => Math.round((ms ?? 0) * 10) / 10;
      found[name] = { medianMs: round(sorted[Math.floor(times / 2)]), slowestMs: round(sorted.at(-1)) };
    }
    console.log(JSON.stringify({ engine: 'courses', people, courses, copies: bookIds.length, edits: found }));
  } finally {
    closeDesk(desk);
    rmSync(folder, { recursive: true, force: true });
  }
}
