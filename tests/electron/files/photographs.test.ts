import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import readExif from 'exif-reader';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import {
  copyPhotograph,
  examinePhotograph,
  keepOriginal,
  showPhotograph,
} from '../../../electron/files/photographs.ts';
import { book } from '../../../electron/store/schema.ts';
import { photograph } from '../../../electron/store/schema-photographs.ts';
import type { Workshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got, newWorkshop, reopened, sentenceOf } from '../store/folders.ts';
import { temporaryFolder } from '../test-desk.ts';

const zone = 'Europe/London';

/** As a telephone makes one: lying on its side with a mark of how to turn it, when it was taken, and where. */
async function fromTelephone(shade = 90, orientation = 6): Promise<Buffer> {
  return sharp({ create: { width: 90, height: 60, channels: 3, background: { r: shade, g: 60, b: 40 } } })
    .jpeg()
    .withExif({
      IFD0: { Make: 'Invented' },
      IFD2: { DateTimeOriginal: '2026:05:04 10:30:00', OffsetTimeOriginal: '+02:00' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1', GPSLongitudeRef: 'W', GPSLongitude: '0/1 7/1 0/1' },
    })
    .withMetadata({ orientation })
    .toBuffer();
}

describe('a photograph', () => {
  test('is read upright, with the camera’s time in UTC, and its original is kept byte for byte under its hash', async () => {
    const bytes = await fromTelephone();
    const { exif } = await sharp(bytes).metadata();
    expect(readExif(exif!).GPSInfo).toMatchObject({ GPSLatitudeRef: 'N' });
    const seen = got(await examinePhotograph(bytes, zone));
    expect(seen).toMatchObject({ widthPx: 60, heightPx: 90, takenAt: Date.UTC(2026, 4, 4, 8, 30) });
    const folder = temporaryFolder();
    keepOriginal(folder, seen);
    const hash = createHash('sha256').update(bytes).digest('hex');
    const path = join(folder, 'photographs', hash.slice(0, 2), `${hash}.jpg`);
    expect(readFileSync(path).equals(bytes)).toBe(true);
    writeFileSync(path, 'spoiled');
    keepOriginal(folder, seen);
    expect(readFileSync(path).equals(bytes)).toBe(true);
  });

  test('shown or copied is upright and says nothing of place, time or camera, however it was turned (8 ways, seed 7)', async () => {
    const folder = temporaryFolder();
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 8 }), fc.integer({ min: 0, max: 255 }), async (turn, shade) => {
        const bytes = await fromTelephone(shade, turn);
        const seen = got(await examinePhotograph(bytes, zone));
        keepOriginal(folder, seen);
        const mark = { kind: 'box', from: { x: 5, y: 5 }, to: { x: 50, y: 50 }, words: '<b>&' } as const;
        const made = [
          seen.thumbnail,
          await showPhotograph(folder, seen, 'small'),
          await showPhotograph(folder, seen, 'large'),
          await copyPhotograph(folder, seen, []),
          await copyPhotograph(folder, seen, [mark]),
        ];
        for (const one of made) {
          const { width, height, exif, xmp, iptc, orientation } = await sharp(one!).metadata();
          expect([width, height]).toEqual([seen.widthPx, seen.heightPx]);
          expect([exif, xmp, iptc, orientation]).toEqual([undefined, undefined, undefined, undefined]);
        }
      }),
      { seed: 7, numRuns: 10 },
    );
  });

  test('small is made anew where its copy is missing, and is nothing where the original is', async () => {
    const folder = temporaryFolder();
    const seen = got(await examinePhotograph(await fromTelephone(), zone));
    keepOriginal(folder, seen);
    const first = await showPhotograph(folder, seen, 'small');
    const copy = join(folder, 'thumbnails', seen.hash.slice(0, 2), `${seen.hash}.jpg`);
    expect(existsSync(copy)).toBe(true);
    rmSync(join(folder, 'thumbnails'), { recursive: true });
    expect((await showPhotograph(folder, seen, 'small'))!.equals(first!)).toBe(true);
    rmSync(join(folder, 'photographs'), { recursive: true });
    rmSync(join(folder, 'thumbnails'), { recursive: true });
    expect(await showPhotograph(folder, seen, 'small')).toBe(null);
  });

  test.each([
    ['is empty', async () => Buffer.alloc(0), 'empty'],
    ['is text', async () => Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), 'JPEG, PNG and WebP'],
    ['is a GIF', async () => Buffer.from('GIF89a000'), 'GIF'],
    ['is HEIC', async () => Buffer.from('\0\0\0\x18ftypheic', 'latin1'), 'HEIC'],
    ['is only half there', async () => (await noise(200, 200)).subarray(0, 9000), 'cannot be read to its end'],
    ['has no picture after its head', async () => (await noise(200, 200)).subarray(0, 40), 'damaged'],
    ['is spoiled in the middle', async () => spoiled(await noise(200, 200)), 'damaged'],
    ['is of more than 24 MB', async () => Buffer.alloc(24_000_001, 0xff), '24 MB'],
    ['has more than 100 million pixels', async () => vast(), '100 million'],
    ['moves', async () => moving(), 'moves'],
  ])('that %s is refused in words', async (_, made, words) => {
    expect(sentenceOf(await examinePhotograph(await made(), zone))).toContain(words);
  });

  test('with a camera’s clock set wrongly, or with none, has no time', async () => {
    const clock = (time: string) =>
      sharp({ create: { width: 9, height: 9, channels: 3, background: '#321' } })
        .jpeg()
        .withExif({ IFD2: { DateTimeOriginal: time } })
        .toBuffer();
    expect(got(await examinePhotograph(await clock('0000:00:00 00:00:00'), zone)).takenAt).toBe(null);
    // No zone told: the workshop's, an hour before UTC in May.
    const told = got(await examinePhotograph(await clock('2026:05:04 10:30:00'), zone));
    expect(told.takenAt).toBe(Date.UTC(2026, 4, 4, 9, 30));
    expect(got(await examinePhotograph(await noise(9, 9), zone)).takenAt).toBe(null);
  });
});

function noise(width: number, height: number): Promise<Buffer> {
  const noise = { type: 'gaussian', mean: 128, sigma: 60 } as const;
  return sharp({ create: { width, height, channels: 3, background: '#888', noise } })
    .jpeg()
    .toBuffer();
}

function spoiled(bytes: Buffer): Buffer {
  const copy = Buffer.from(bytes);
  for (let at = Math.floor(copy.length / 2); at < copy.length / 2 + 60; at += 2) copy[at] = 0xff;
  return copy;
}

/** The head of a PNG of 20,000 × 20,000 pixels: nothing more is needed to say no. */
async function vast(): Promise<Buffer> {
  const small = await sharp({ create: { width: 4, height: 4, channels: 3, background: '#fff' } })
    .png()
    .toBuffer();
  const copy = Buffer.from(small);
  copy.writeUInt32BE(20_000, 16);
  copy.writeUInt32BE(20_000, 20);
  const { crc32 } = await import('node:zlib');
  copy.writeUInt32BE(crc32(copy.subarray(12, 29)), 29);
  return copy;
}

function moving(): Promise<Buffer> {
  const frames = Buffer.concat([Buffer.alloc(48, 10), Buffer.alloc(48, 200)]);
  return sharp(frames, { raw: { width: 4, height: 8, channels: 3, pageHeight: 4 } })
    .webp({ loop: 0, delay: [100, 100], lossless: true })
    .toBuffer();
}

describe('originals without a row', () => {
  const day = 24 * 60 * 60 * 1000;
  const now = Date.UTC(2027, 0, 1);

  /** An original that lies in the folder since before backups go back. */
  async function putOriginal(workshop: Workshop, shade: number) {
    const seen = got(await examinePhotograph(await fromTelephone(shade), zone));
    keepOriginal(workshop.folder, seen);
    const path = join(workshop.folder, 'photographs', seen.hash.slice(0, 2), `${seen.hash}.jpg`);
    utimesSync(path, (now - 100 * day) / 1000, (now - 100 * day) / 1000);
    return { ...seen, path };
  }

  function row(hash: string, bookId: string) {
    const facts = { mediaType: 'image/jpeg', bytes: 1, widthPx: 60, heightPx: 90, addedAt: 0, bookId };
    return { ...facts, hash, stage: 'before', caption: '', fileName: 'a.jpg', marks: [] };
  }

  test('are swept at opening, but not what a row or an undo can still ask for, nor a late arrival', async () => {
    let workshop = newWorkshop({ now: () => now });
    const bookId = got(workshop.write('Take in', (change) => change.insert(book, bookDraft('A'))));
    const [kept, takenAway, undone, orphan, late] = await Promise.all(
      [10, 50, 90, 130, 170].map((shade) => putOriginal(workshop, shade)),
    );
    utimesSync(late!.path, now / 1000, now / 1000);
    got(workshop.write('Add', (change) => change.insert(photograph, row(kept!.hash, bookId))));
    const gone = got(workshop.write('Add', (change) => change.insert(photograph, row(takenAway!.hash, bookId))));
    got(workshop.write('Take away', (change) => change.remove(photograph, gone)));
    got(workshop.write('Add', (change) => change.insert(photograph, row(undone!.hash, bookId))));
    got(workshop.undo());
    const part = join(workshop.folder, 'photographs', 'ab', '.01234567-89ab-cdef-0123-456789abcdef.part');
    mkdirSync(join(part, '..'), { recursive: true });
    writeFileSync(part, 'half');

    workshop = reopened(workshop, { now: () => now });
    const there = () => [kept, takenAway, undone, orphan, late].map((one) => existsSync(one!.path));
    expect(there()).toEqual([true, true, true, false, true]);
    expect(existsSync(part)).toBe(false);
    // Something new is done: what was undone can never come back, what was taken away can.
    got(workshop.write('Take in', (change) => change.insert(book, bookDraft('B'))));
    workshop = reopened(workshop, { now: () => now });
    expect(there()).toEqual([true, true, false, false, true]);
    got(workshop.undo());
    got(workshop.undo());
    expect(workshop.db.select({ hash: photograph.hash }).from(photograph).all()).toContainEqual({
      hash: takenAway!.hash,
    });
    expect(readdirSync(join(workshop.folder, 'photographs')).length).toBeGreaterThan(2);
  });
});
