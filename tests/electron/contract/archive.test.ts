import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { fromBufferPromise } from 'yauzl';
import { keepBackups } from '../../../electron/desk/archive.ts';
import { testDesk, testNow } from '../test-desk.ts';
import { ask, ways } from './ways.ts';

async function open(way: (typeof ways)[number]) {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder / Yard' });
  return { desk, client };
}

async function last<T>(pieces: AsyncIterable<T>): Promise<T | undefined> {
  let piece: T | undefined;
  for await (piece of pieces);
  return piece;
}

describe.each(ways)('safe keeping asked by %s', (way) => {
  test('lists the backups, and refuses in words what is no zip', async () => {
    const { client } = await open(way);
    const state = await client.archive.state();
    expect(state.backups).toMatchObject([{ takenAt: testNow, kind: 'rolling' }]);
    const asked = client.archive.inspect({ path: state.folder });
    await expect(asked).rejects.toMatchObject({ code: 'REFUSED', data: { field: 'path' } });
  });
});

describe('safe keeping', () => {
  test('backs up, compares, goes back and forth, packs, looks into the zip and unpacks it', async () => {
    const { desk, client } = await open('direct call');
    await client.workshop.setHabits({ name: 'Alder / Yard two' });
    desk.clock.now = testNow + 3_600_000;
    const { backups } = await client.archive.backUpNow();
    expect(backups[0]).toMatchObject({ takenAt: testNow + 3_600_000, kind: 'rolling' });
    await client.workshop.setHabits({ name: 'Alder / Yard three' });
    const name = backups[0]?.name ?? '';
    expect((await client.archive.compare({ name })).tables).toEqual([
      { table: 'workshop', back: 0, gone: 0, changed: 1 },
    ]);
    expect((await client.archive.goBack({ name })).open?.name).toBe('Alder / Yard two');
    const state = await client.archive.state();
    expect(state.backups[0]?.kind).toBe('before going back');
    await client.archive.goBack({ name: state.backups[0]?.name ?? '' });
    expect((await client.workshop.status()).open?.name).toBe('Alder / Yard three');

    expect(state.suggestedZip).toBe(join(dirname(desk.place.workshop?.folder ?? ''), 'Alder Yard two 2026-05-04.zip'));
    const packed = await last(await client.archive.pack({ to: state.suggestedZip }));
    expect(packed).toMatchObject({ kind: 'done', path: state.suggestedZip, photographs: 0 });
    expect(await client.archive.inspect({ path: state.suggestedZip })).toMatchObject({
      workshop: 'Alder / Yard three',
      books: 0,
    });
    const folder = join(desk.folder, 'back');
    const unpacked = await last(await client.archive.unpack({ path: state.suggestedZip, folder }));
    expect(unpacked).toMatchObject({ kind: 'done', status: { open: { name: 'Alder / Yard three' } } });
    expect(desk.log.lines.filter((line) => /^\d/.test(line))).toEqual([]);
  });
});

test('a workshop that was changed is backed up every hour by itself, one that was not is left', async () => {
  vi.useFakeTimers({ toFake: ['setInterval'] });
  onTestFinished(() => void vi.useRealTimers());
  const { desk, client } = await open('direct call');
  keepBackups(desk);
  const count = async () => (await client.archive.state()).backups.length;
  vi.advanceTimersByTime(6 * 60_000);
  expect(await count()).toBe(1);
  desk.clock.now += 61 * 60_000;
  await client.workshop.setHabits({ name: 'Changed' });
  vi.advanceTimersByTime(6 * 60_000);
  await vi.waitFor(async () => expect(await count()).toBe(2), { timeout: 20_000, interval: 50 });
  desk.clock.now += 61 * 60_000;
  vi.advanceTimersByTime(6 * 60_000);
  expect(await count()).toBe(2);
  expect(desk.log.lines.filter((line) => /^\d/.test(line))).toEqual([]);
});

test('lists to take away hold every table as CSV', async () => {
  const { client } = await open('direct call');
  const file = await client.archive.lists();
  expect(file).toMatchObject({ fileName: 'Alder Yard 2026-05-04 lists.zip', mediaType: 'application/zip' });
  const zip = await fromBufferPromise(Buffer.from(file.base64, 'base64'));
  const names: string[] = [];
  for await (const entry of zip.eachEntry()) names.push(entry.fileName);
  expect(names).toEqual(expect.arrayContaining(['book.csv', 'movement.csv', 'person.csv', 'entry.csv']));
});

test('a damaged workshop is found at opening, told what can be done, and made good', async () => {
  const { desk, client } = await open('direct call');
  const folder = desk.place.workshop?.folder ?? '';
  await client.workshop.setHabits({ name: 'Since the backup' });
  desk.place.workshop?.close();
  desk.place.workshop = null;
  const file = join(folder, 'workshop.sqlite');
  const bytes = readFileSync(file);
  writeFileSync(file, bytes.fill(0x5a, 100, 4000));
  await expect(client.workshop.open({ folder })).rejects.toMatchObject({
    code: 'REFUSED',
    message: expect.stringContaining('damaged'),
  });
  expect(await client.archive.lookForRescue({ folder })).toMatchObject({ takenAt: testNow, lost: expect.any(String) });
  expect((await client.archive.rescue({ folder })).open?.name).toBe('Alder / Yard');
  expect(readdirSync(folder).some((name) => name.startsWith('damaged-'))).toBe(true);
  expect(await client.archive.lookForRescue({ folder })).toBeNull();
});

test('what can be printed is told with its choices', async () => {
  const { client } = await open('direct call');
  expect(await client.archive.sheets()).toEqual({ weeks: [], courses: [], books: [], hasSample: false });
});
