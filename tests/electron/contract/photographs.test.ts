import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import type { PhotographSubject } from '../../../core/contract/photographs.ts';
import { router } from '../../../electron/desk/router.ts';
import { book } from '../../../electron/store/schema.ts';
import { bookDraft } from '../store/folders.ts';
import { type TestDesk, testDesk } from '../test-desk.ts';
import { ask, type Client, enteredShell, type Way, ways } from './ways.ts';

async function workshop(way: Way): Promise<{ desk: TestDesk; client: Client; bookId: string }> {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
  const written = desk.place.workshop!.write('Take in', (change) =>
    change.insert(book, bookDraft('Rambles in Dorset')),
  );
  if (!written.ok) throw new Error(written.refusal.sentence);
  return { desk, client, bookId: written.value };
}

async function picture(shade = 90): Promise<string> {
  const made = sharp({ create: { width: 600, height: 400, channels: 3, background: { r: shade, g: 60, b: 40 } } });
  return (await made.jpeg().toBuffer()).toString('base64');
}

function add(client: Client, subject: PhotographSubject, base64: string, stage: 'before' | '' = 'before') {
  return client.photographs.add({ subject, base64, fileName: 'IMG_1.jpg', stage, caption: ' Front board ' });
}

/** What a question was refused with. */
async function refusal(asked: Promise<unknown>): Promise<string> {
  const error = await asked.then(
    () => 'it was answered',
    (reason: unknown) => reason,
  );
  expect(error).toMatchObject({ code: 'REFUSED', defined: true });
  return (error as Error).message;
}

function originals(desk: TestDesk): readonly string[] {
  const home = join(desk.suggestedFolder, 'photographs');
  return readdirSync(home, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ name }) => name);
}

describe.each(ways)('a photograph asked for by %s', (way) => {
  test('is kept once, set down over, copied, taken away and brought back', async () => {
    const { desk, client, bookId } = await workshop(way);
    const subject = { kind: 'book', bookId } as const;
    const kept = await add(client, subject, await picture());
    expect(kept).toMatchObject({ bookId, stage: 'before', caption: 'Front board', widthPx: 600, heightPx: 400 });
    expect(originals(desk)).toEqual([`${kept.hash}.jpg`]);
    expect(await refusal(add(client, subject, await picture()))).toContain('kept here already');

    const scale = { from: { x: 0, y: 10 }, to: { x: 400, y: 10 }, lengthMm: 200 };
    const marks = [{ kind: 'ring', from: { x: 10, y: 10 }, to: { x: 90, y: 60 }, words: 'old repair' }] as const;
    const changed = await client.photographs.save({
      id: kept.id,
      changes: { scale, marks: [...marks], stage: 'after' },
    });
    expect(changed).toMatchObject({ scale, marks, stage: 'after', caption: 'Front board' });
    expect(await client.photographs.list({ subject })).toEqual([changed]);
    const short = { ...scale, to: { x: 50, y: 10 } };
    expect(await refusal(client.photographs.save({ id: kept.id, changes: { scale: short } }))).toContain('longer line');

    const copy = await client.photographs.copy({ id: kept.id, marks: true });
    expect(copy).toMatchObject({ fileName: 'IMG_1 copy.jpg', mediaType: 'image/jpeg' });
    const { label } = await client.photographs.remove({ id: kept.id });
    expect(label).toContain('Rambles in Dorset');
    expect(await client.photographs.list({ subject })).toEqual([]);
    await client.workshop.undo();
    expect(await client.photographs.list({ subject })).toEqual([changed]);
    expect(originals(desk)).toHaveLength(1);
  });
});

describe('photographs', () => {
  test('that are none are refused, and nothing is written', async () => {
    const { desk, client, bookId } = await workshop('direct call');
    const subject = { kind: 'book', bookId } as const;
    const before = desk.place.workshop!.next().undo;
    expect(await refusal(add(client, subject, Buffer.from('%PDF-1.7').toString('base64')))).toContain('no photograph');
    const half = Buffer.from(await picture(), 'base64')
      .subarray(0, 700)
      .toString('base64');
    expect(await refusal(add(client, subject, half))).toContain('damaged');
    expect(await refusal(add(client, { kind: 'book', bookId: 'none' }, await picture()))).toContain('no longer');
    expect(desk.place.workshop!.next().undo).toBe(before);
    expect(originals(desk)).toEqual([]);
    expect(existsSync(join(desk.suggestedFolder, 'thumbnails'))).toBe(false);
  });

  test('of a finding stay with the book when it is taken back, and go with the book when that is removed', async () => {
    const { client, bookId } = await workshop('direct call');
    const noted = await client.shelf.addFinding({
      ...{ bookId, part: 'joints', damage: 'split', severity: 2, count: null, note: '' },
    });
    const findingId = noted.findings[0]!.id;
    const kept = await add(client, { kind: 'finding', findingId }, await picture());
    expect(kept).toMatchObject({ bookId, findingId, finding: 'joints split' });
    await client.shelf.removeFinding({ id: findingId });
    const subject = { kind: 'book', bookId } as const;
    expect(await client.photographs.list({ subject })).toMatchObject([{ id: kept.id, findingId: null, finding: '' }]);
    await client.shelf.remove({ ids: [bookId] });
    expect(await client.photographs.list({ subject })).toEqual([]);
    await client.workshop.undo();
    await client.workshop.undo();
    expect(await client.photographs.list({ subject })).toMatchObject([{ findingId }]);
  });

  test('of a piece go with it out of the drawer, and come back with it', async () => {
    const { client } = await workshop('direct call');
    const { id: pieceId } = await client.offcuts.save({
      ...{ kind: 'book cloth', heightMm: 260, widthMm: 180, grain: 'height', colour: 'brown', lab: null, measured: '' },
      ...{ pattern: null, yearFrom: null, yearTo: null, place: '', note: '', donorBookId: null },
    });
    const subject = { kind: 'piece', pieceId } as const;
    await add(client, subject, await picture(), '');
    await client.offcuts.remove({ id: pieceId });
    expect(await client.photographs.list({ subject })).toEqual([]);
    await client.workshop.undo();
    expect(await client.photographs.list({ subject })).toHaveLength(1);
  });

  test('are shown by the browser shell to whoever holds the key, and to nobody else', async () => {
    const { desk, client, bookId } = await workshop('direct call');
    const { hash } = await add(client, { kind: 'book', bookId }, await picture());
    const { origin, cookie } = await enteredShell({ context: desk, router, page: new Map() });
    const get = (path: string, headers: Record<string, string> = { cookie }) => fetch(origin + path, { headers });
    const shown = await get(`/photographs/${hash}/small`);
    expect([shown.status, shown.headers.get('content-type')]).toEqual([200, 'image/jpeg']);
    expect(shown.headers.get('cross-origin-resource-policy')).toBe('same-origin');
    expect(await sharp(Buffer.from(await shown.arrayBuffer())).metadata()).toMatchObject({ width: 360, height: 240 });
    expect((await get(`/photographs/${hash}/large`)).status).toBe(200);
    expect((await get(`/photographs/${hash}/small`, {})).status).toBe(401);
    for (const path of [`/photographs/${'0'.repeat(64)}/small`, `/photographs/..%2fworkshop.sqlite/small`]) {
      expect((await get(path)).status).toBe(404);
    }
    await client.workshop.undo();
    expect((await get(`/photographs/${hash}/small`)).status).toBe(404);
  });
});
