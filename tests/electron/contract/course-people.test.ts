import { describe, expect, test } from 'vitest';

import type { Gathering, GuestInput } from '../../../core/contract/course-people.ts';
import { guestUsual } from '../../../core/course/meals.ts';
import { material, movement, stockLot } from '../../../electron/store/schema.ts';
import { listLots } from '../../../electron/store/stockroom-lots.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { readPdfWords } from '../print/pdf-text.ts';
import { testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

const frame = {
  title: 'Two days of mending',
  startsOn: '2026-07-06',
  days: 4,
  dayHours: [[540, 750]] as [number, number][],
  tutors: 1,
  helpers: 0,
  benches: 4,
  feeMinor: 30_000,
  fixedCostMinor: 0,
  perHeadCostMinor: 0,
  copiesEach: [1, 3] as [number, number],
  spares: 0,
  note: '',
};

const base64 = (text: string) => Buffer.from(text).toString('base64');
/** All that is set in a sheet, in one line. */
const wordsOf = (file: Readonly<{ base64: string }>) =>
  readPdfWords(Buffer.from(file.base64, 'base64')).pages.join(' ').replace(/\s+/g, ' ');
const textOf = (file: Readonly<{ base64: string }>) => Buffer.from(file.base64, 'base64').toString('utf8');

function refusal(asked: Promise<unknown>): Promise<string> {
  return asked.then(
    () => 'it was answered',
    (error: Error & { code?: string }) => (error.code === 'REFUSED' ? error.message : `not a refusal: ${error.stack}`),
  );
}

const list = `Name,Status,Level,Food,Food allergies,Allergies,Access needs,Wishes,Arrival,Shoe size
"Ada, Countess",confirmed,improver,vegan,walnuts,PVA adhesive,step-free,mend tears,2026-07-05,38
Bo,confirmed,,,,,,,,
Cy,waiting,,Vegan,,,,,,
Bo,confirmed,,,,,,,,
Dee,perhaps,,,,,,,,
Eli,confirmed,,,,,,,06/07/2026,
,confirmed,,,,,,,,`;

async function peopled(way: (typeof ways)[number]) {
  const desk = testDesk();
  const client: Client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  const { id: courseId } = await client.course.save(frame);
  await client.coursePeople.take({ courseId, base64: base64(list), leave: [] });
  const open = () => client.coursePeople.open({ courseId });
  const guest = (seen: Gathering, name: string) => {
    const found = seen.guests.find((one) => one.name === name);
    if (!found) throw new Error(`${name} is on the list`);
    return found;
  };
  return { desk, client, courseId, open, guest };
}

const told: GuestInput = { ...guestUsual, needs: [], foodAllergies: [], shareWith: [], notWith: [], couldCome: [] };

describe.each(ways)('people of a course asked by %s', (way) => {
  test('are taken in from a list, each bad row refused for itself, and given out as a list that is read again', async () => {
    const { client, courseId, open } = await peopled(way);
    const looked = await client.coursePeople.look({ courseId, base64: base64(list) });
    expect(looked.leftOut).toEqual(['Shoe size']);
    expect(looked.good).toBe(0);
    expect(looked.rows.map(({ trouble }) => trouble)).toEqual([
      'Ada, Countess is on the list already.',
      'Bo is on the list already.',
      'Cy is on the list already.',
      'Bo is on the list already.',
      '“perhaps” is no standing: write interested, offered, confirmed, waiting, withdrawn.',
      '“06/07/2026” under Arrives is no date: write it as 2026-07-31.',
      'There is no name in this row.',
    ]);
    const seen = await open();
    expect(seen.guests.map(({ name }) => name)).toEqual(['Ada, Countess', 'Bo', 'Cy']);
    expect(seen.guests[0]).toMatchObject({ foodAllergies: ['walnuts'], needs: ['step-free'], arrivesOn: '2026-07-05' });
    const out = await client.coursePeople.list({ courseId });
    await client.workshop.undo();
    expect((await open()).guests).toEqual([]);
    await client.coursePeople.take({ courseId, base64: out.base64, leave: [] });
    const ids = ({ personId: _, ...rest }: Gathering['guests'][number]) => rest;
    expect((await open()).guests.map(ids)).toEqual(seen.guests.map(ids));
    expect(await refusal(client.coursePeople.look({ courseId, base64: base64('Who,When\na,b') }))).toMatch(
      /^No column is headed Name/,
    );
  });
});

// What is answered does not hang on the way it is asked.
describe('people of a course', () => {
  const way = 'direct call';

  test('sleep where their needs allow, eat what is counted, and are written to by the fields of a letter', async () => {
    const { client, courseId, open, guest } = await peopled(way);
    const { id: attic } = await client.coursePeople.saveRoom({
      ...{ name: 'Attic', beds: 2, stepFree: false, ensuite: false, quiet: true, note: '' },
    });
    const ada = guest(await open(), 'Ada, Countess').personId;
    expect(await refusal(client.coursePeople.setRoom({ personId: ada, roomId: attic, byHand: true }))).toBe(
      'Attic is not step-free, which Ada, Countess needs.',
    );
    expect((await client.coursePeople.place({ courseId })).remarks).toEqual([
      'No room is step-free, as Ada, Countess needs.',
    ]);
    await client.coursePeople.saveRoom({
      name: 'Garden',
      beds: 1,
      stepFree: true,
      ensuite: true,
      quiet: false,
      note: '',
    });
    expect(await client.coursePeople.place({ courseId })).toMatchObject({ placed: 2, proven: true, remarks: [] });
    const seen = await open();
    expect(seen.withoutBed).toEqual([]);
    expect(seen.placingTrouble).toEqual([]);
    // Sunday's lunch to Thursday's lunch, and Monday's lunch to Thursday's lunch; three meals a day.
    expect(seen.guests.map(({ meals }) => meals)).toEqual([13, 10, 10]);
    expect(seen.meals.reduce((sum, { people }) => sum + people, 0)).toBe(23);
    expect(seen.meals.every(({ without }) => without.some(({ name }) => name === 'Ada, Countess'))).toBe(true);
    expect(textOf(await client.coursePeople.meals({ courseId, form: 'csv' }))).toContain('Ada, Countess: walnuts');
    // A need told later makes a place wrong, and is said.
    const bo = guest(seen, 'Bo').personId;
    await client.coursePeople.saveGuest({ ...told, personId: bo, needs: ['en suite'] });
    expect((await open()).placingTrouble).toEqual(['Attic has no bathroom of its own, which Bo needs.']);

    expect(
      await refusal(client.coursePeople.saveLetter({ name: 'Welcome', text: 'Dear {name},\nyour {rom} waits' })),
    ).toMatch(/^There is no field \{rom\}, named on line 2, at letter 6\./);
    const { id: letterId } = await client.coursePeople.saveLetter({
      name: 'Welcome',
      text: 'Dear {name},\n{{not a field}: {room}, {foods}, {starts}.',
    });
    const letters = await client.coursePeople.printLetters({ courseId, letterId, standing: 'confirmed', form: 'txt' });
    expect(textOf(letters).split('\n\f\n')[0]).toBe(
      'Dear Ada, Countess,\n{not a field}: Garden, walnuts, Monday, 6 July 2026.',
    );
    const asPdf = await client.coursePeople.printLetters({ courseId, letterId, standing: 'confirmed', form: 'pdf' });
    expect(wordsOf(asPdf)).toContain('Garden, walnuts, Monday, 6 July 2026.');
  });

  test('have a level by what they answered, meet operations, and leave a report and certificates', async () => {
    const { desk, client, courseId, open, guest } = await peopled(way);
    const [bookId] = putBooksOnShelf(desk, 1);
    const bo = guest(await open(), 'Bo').personId;
    await client.coursePeople.saveGuest({
      ...told,
      personId: bo,
      levelByHand: false,
      answers: { recase: 'with help', 'new endpapers': 'alone', 'guard sections': 'alone' },
      booksDone: 4,
    });
    expect(guest(await open(), 'Bo')).toMatchObject({ level: 'improver', levelTold: 'improver' });
    await client.coursePeople.tick({ personId: bo, operationId: 'mend tears', how: 'with help' });
    await client.coursePeople.tick({ personId: bo, operationId: 'mend tears', how: 'alone' });
    await client.coursePeople.log({ personId: bo, operationId: 'surface clean', bookId: bookId ?? null, minutes: 40 });
    const note = { courseId, at: 5, personId: bo, what: 'A cut thumb.' };
    expect(await refusal(client.coursePeople.saveNote({ ...note, kind: 'incident', done: ' ' }))).toBe(
      'Say what was done, though it be nothing.',
    );
    await client.coursePeople.saveNote({ ...note, kind: 'incident', done: 'Washed and covered.' });
    const seen = await open();
    expect(guest(seen, 'Bo').met).toEqual([{ operationId: 'mend tears', how: 'alone' }]);
    expect(seen.report.operations).toMatchObject([{ operationId: 'surface clean', times: 1, actual: 40 }]);
    expect(wordsOf(await client.coursePeople.certificates({ courseId }))).toContain('Bo');
    const report = wordsOf(await client.coursePeople.printReport({ courseId }));
    for (const words of ['A cut thumb.', 'Washed and covered.', 'Surface clean', '40']) expect(report).toContain(words);
    // Taken off and brought back, with what they met.
    await client.course.removePerson({ id: bo });
    await client.workshop.undo();
    expect(guest(await open(), 'Bo').met).toHaveLength(1);
  });

  test('of a past course are not copied, its meals and talks are; talks take their time from the bench', async () => {
    const { client, courseId, open } = await peopled(way);
    await client.coursePeople.saveProgramme({
      courseId,
      firm: true,
      meals: [{ meal: 'lunch', at: 760, minutes: 50 }],
      helpers: [{ name: 'Flo', role: 'tutor', diet: '', note: '' }],
      reading: 'Any manual',
    });
    const before = (await client.course.open({ id: courseId })).hours;
    const talk = { kind: 'talk' as const, title: 'Papers', day: 2, fromMinute: 600, minutes: 60, who: '', reading: '' };
    await client.coursePeople.saveTalk({ ...talk, courseId });
    expect((await client.course.open({ id: courseId })).hours).toHaveLength(before.length + 1);
    expect(await refusal(client.coursePeople.saveTalk({ ...talk, courseId, day: 9 }))).toBe('The course lasts 4 days.');
    const { id: dateId } = await client.coursePeople.addDate({ courseId, startsOn: '2026-07-13', note: '' });
    await client.coursePeople.chooseDate({ id: dateId });
    expect((await open()).guests[0]?.arrivesOn).toBe('2026-07-12');
    const { id: next } = await client.course.save({ ...frame, startsOn: '2027-07-05', copyOf: courseId });
    expect(await client.coursePeople.open({ courseId: next })).toMatchObject({
      guests: [],
      programme: { firm: false, meals: [{ meal: 'lunch', at: 760, minutes: 50 }], reading: 'Any manual' },
      talks: [{ title: 'Papers', day: 2 }],
    });
    await client.course.setSyllabus({
      courseId,
      items: ['recase', 'mend tears'].map((operationId) => ({ operationId, required: true, demonstrationMinutes: 20 })),
    });
    const lesson = { courseId, operationId: 'recase', after: ['mend tears'], reading: '' };
    expect(await refusal(client.coursePeople.setLesson({ ...lesson, attention: 'none' }))).toBe(
      '“Recase: put the block back into its case” asks for the tutor nearby; it cannot be less.',
    );
    await client.coursePeople.setLesson({ ...lesson, attention: 'beside' });
    expect((await open()).syllabus.map(({ operationId }) => operationId)).toEqual(['mend tears', 'recase']);
    expect(
      await refusal(
        client.coursePeople.setLesson({ ...lesson, operationId: 'mend tears', after: ['recase'], attention: null }),
      ),
    ).toBe('These would come before each other in a circle.');
  });

  test('can be taken out whole, and erased once their name is typed', async () => {
    const { client, courseId, open, guest } = await peopled(way);
    const { personId } = guest(await open(), 'Ada, Countess');
    const out = JSON.parse(textOf(await client.coursePeople.takeOut({ personId, form: 'json' })));
    expect(out).toMatchObject({ person: [{ name: 'Ada, Countess' }], told: [{ foodAllergies: ['walnuts'] }] });
    expect((await client.coursePeople.takeOut({ personId, form: 'pdf' })).mediaType).toBe('application/pdf');
    expect(await refusal(client.coursePeople.erase({ personId, name: 'Ada' }))).toBe(
      'Type the name as it stands, Ada, Countess, to erase this person for good.',
    );
    const erased = await client.coursePeople.erase({ personId, name: 'Ada, Countess' });
    expect(erased.sentence).toMatch(/^The person is erased .* undo cannot bring them back\./);
    expect((await open()).guests.map(({ name }) => name)).toEqual(['Bo', 'Cy']);
    expect(await client.coursePeople.removeBackups({ names: ['../workshop.sqlite', ...erased.backups] })).toEqual({
      removed: erased.backups.length,
    });
    expect((await client.workshop.undo()).label).toBe('Take in a list of 3 people');
    expect((await client.course.open({ id: courseId })).people).toEqual([]);
  });
});

test('what was used on a course comes out of the oldest lots first, what spoils first before all, and goes back by one undo', async () => {
  const { desk, client, courseId, open } = await peopled('direct call');
  const { db } = desk.place.workshop!;
  const written = desk.place.workshop!.write('Fill the cupboard', (change) => {
    const materialId = change.insert(material, {
      name: 'Paste, ready made',
      kind: 'wheat starch',
      unit: 'g',
      packMillionths: 500_000_000,
      packPriceMinor: 900,
      supplier: 'Invented',
      leadDays: 7,
      colour: '',
      place: '',
      note: '',
    });
    const lot = (receivedOn: string, bestBefore: string, grams: number) => {
      const row = { materialId, receivedOn, bestBefore, supplier: '', costMinor: null, number: '', note: '' };
      const lotId = change.insert(stockLot, row);
      const quantityMillionths = grams * 1e6;
      change.insert(movement, { materialId, lotId, kind: 'in', quantityMillionths, at: desk.now(), reason: '' });
      return lotId;
    };
    return { materialId, later: lot('2026-04-02', '2026-12-01', 50), sooner: lot('2026-04-01', '2026-06-01', 40) };
  });
  if (!written.ok) throw new Error(written.refusal.sentence);
  const { materialId, later, sooner } = written.value;
  const left = () =>
    Object.fromEntries(listLots(db, materialId).map((lot) => [lot.lotId, lot.quantityMillionths / 1e6]));
  await client.coursePeople.use({ courseId, materialId, quantity: 60, reason: '' });
  expect(left()).toEqual({ [sooner]: 0, [later]: 30 });
  expect((await open()).report.used).toMatchObject([{ name: 'Paste, ready made', used: 60 }]);
  await client.workshop.undo();
  expect(left()).toEqual({ [sooner]: 40, [later]: 50 });
});
