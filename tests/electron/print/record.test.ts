import sax from 'sax';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { book, entry, material, movement, piece, treatment } from '../../../electron/store/schema.ts';
import { ask } from '../contract/ways.ts';
import { bookDraft } from '../store/folders.ts';
import { testDesk, testNow } from '../test-desk.ts';
import { readPdfWords } from './pdf-text.ts';

/** As hostile to a page as a title can be. */
const title = 'Ferns & <script>alert("1")</script> of the “North Combe”';

async function treatedBook() {
  const desk = testDesk();
  const client = await ask('direct call', desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
  const written = desk.place.workshop!.write('Take in', (change) => {
    const id = change.insert(
      book,
      bookDraft(title, { shelfMark: 'B25', colour: 'brown', heightUm: 190_500, widthUm: 127_000 }),
    );
    const donor = change.insert(book, bookDraft('The Drover', { shelfMark: 'C4' }));
    const cloth = { kind: 'book cloth', heightUm: 60_000, widthUm: 200_000, colour: 'green', place: '', note: '' };
    change.insert(piece, { ...cloth, donorBookId: donor, usedBookId: id, usedAt: testNow, measured: '' });
    change.insert(piece, { ...cloth, colour: 'old green', donorBookId: id, place: 'Envelope 7', measured: '' });
    const starch = change.insert(material, {
      ...{ name: 'Wheat starch', kind: 'wheat starch', unit: 'g', packMillionths: 500e6, packPriceMinor: 900 },
      ...{ supplier: 'Invented Mills', leadDays: 5, colour: '', place: '', note: '' },
    });
    const used = { materialId: starch, kind: 'out', at: testNow, reason: '', bookId: id };
    change.insert(movement, { ...used, quantityMillionths: -12_500_000 });
    change.insert(movement, { ...used, quantityMillionths: 500_000, reason: 'Weighed wrongly' });
    const done = { at: testNow, bookId: id, courseId: null, personId: null };
    change.insert(entry, { ...done, operationId: 'recase', minutes: 47, note: 'New hollow' });
    return id;
  });
  if (!written.ok) throw new Error(written.refusal.sentence);
  const bookId = written.value;
  await client.shelf.addFinding({
    bookId,
    part: 'joints',
    damage: 'split',
    severity: 3,
    count: 2,
    note: 'from the head',
  });
  await client.shelf.agree({ id: bookId });
  return { desk, client, bookId };
}

async function addPhotograph(
  client: Awaited<ReturnType<typeof treatedBook>>['client'],
  bookId: string,
  stage: 'before' | 'after',
) {
  const picture = sharp({
    create: { width: 800, height: 600, channels: 3, background: stage === 'before' ? '#345' : '#543' },
  })
    .jpeg()
    .withExif({ IFD0: { Make: 'Invented' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' } });
  const base64 = (await picture.toBuffer()).toString('base64');
  const subject = { kind: 'book', bookId } as const;
  const { id } = await client.photographs.add({
    subject,
    base64,
    fileName: `${stage}.jpg`,
    stage,
    caption: `Board ${stage}`,
  });
  const scale = { from: { x: 0, y: 0 }, to: { x: stage === 'before' ? 400 : 200, y: 0 }, lengthMm: 100 };
  const marks = [{ kind: 'arrow', from: { x: 100, y: 100 }, to: { x: 300, y: 250 }, words: 'Lifted <b>' } as const];
  await client.photographs.save({ id, changes: { scale, marks } });
}

describe('a treatment record', () => {
  test('on paper holds what was found, agreed, done, used, kept and added, its pictures, and every font', async () => {
    const { client, bookId, desk } = await treatedBook();
    await addPhotograph(client, bookId, 'before');
    await addPhotograph(client, bookId, 'after');
    await client.record.save({
      bookId,
      changes: {
        kept: [{ what: 'Old spine lining', where: 'Envelope in the box' }],
        conditionAfter: 'Opens to 120 degrees.',
        signedBy: 'A. Binder',
        signedOn: '2026-05-04',
      },
    });
    const agreed = desk.place.workshop!.db.select().from(treatment).get()!;
    const file = await client.record.print({ bookId });
    expect(file).toMatchObject({ mediaType: 'application/pdf' });
    const { pages, fonts, pictures, pictureWidths } = readPdfWords(Buffer.from(file.base64, 'base64'));
    const words = pages.join(' ');
    const steps = agreed.steps as readonly { name: string }[];
    for (const said of [
      title,
      'B25',
      '190.5 × 127',
      'joints split (2) severe from the head',
      'agreed on 4 May 2026',
      ...steps.map(({ name }) => name),
      'New hollow',
      '47',
      'Wheat starch, Invented Mills',
      '12 g',
      'C4, “The Drover”',
      'the drawer, Envelope 7',
      'Old spine lining Envelope in the box',
      'Opens to 120 degrees.',
      'Marked: Lifted <b>. Bar: 50 mm',
      'A. Binder, 4 May 2026',
    ]) {
      expect(words).toContain(said);
    }
    expect(words).not.toContain('�');
    for (const [at, page] of pages.entries()) expect(page).toContain(`Page ${at + 1} of ${pages.length}`);
    expect(fonts.length).toBeGreaterThan(1);
    expect(fonts.filter(({ embedded }) => !embedded)).toEqual([]);
    // The one before stands by itself and beside the one after, and is in the file once.
    expect(pictures).toBe(2);
    expect(words.split('Board before').length).toBe(3);
    // 800 pixels each: at 100 mm to 400 pixels 200 mm wide, at 100 mm to 200 pixels 400 mm.
    const [, before = 0, after = 0] = pictureWidths;
    expect(pictureWidths).toHaveLength(3);
    expect(after / before).toBeCloseTo(2, 1);
    expect(Buffer.from(file.base64, 'base64').includes('GPS')).toBe(false);
    const card = readPdfWords(Buffer.from((await client.record.card({ bookId })).base64, 'base64'));
    expect(card.pages).toHaveLength(1);
    expect(card.pages[0]).toContain('Old spine lining, Envelope in the box');
  });

  test('as a page is well-formed, has no script, asks for nothing from anywhere, and its pictures tell no place', async () => {
    const { client, bookId } = await treatedBook();
    await addPhotograph(client, bookId, 'before');
    const hostile = `</style><img src=x onerror="alert(1)">\n\n' & "`;
    await client.record.save({ bookId, changes: { care: hostile, kept: [{ what: hostile, where: hostile }] } });
    const html = Buffer.from((await client.record.page({ bookId })).base64, 'base64').toString('utf8');
    const parser = sax.parser(true, {});
    const tags: { name: string; attributes: Record<string, unknown> }[] = [];
    const texts: string[] = [];
    parser.onerror = (error) => {
      throw error;
    };
    parser.onopentag = ({ name, attributes }) => tags.push({ name, attributes });
    parser.ontext = (words) => texts.push(words);
    parser.write(html).close();
    expect(texts.join(' ')).toContain(title);
    expect(texts.join(' ')).toContain('onerror="alert(1)">');
    expect(tags.filter(({ name }) => ['script', 'iframe', 'object', 'link', 'form', 'a'].includes(name))).toEqual([]);
    const images = tags.filter(({ name }) => name === 'img');
    expect(images).toHaveLength(1);
    for (const { name, attributes } of tags) {
      for (const [key, value] of Object.entries(attributes)) {
        expect(key).not.toMatch(/^on|^href$/i);
        if (key === 'src') expect(value).toMatch(/^data:image\/jpeg;base64,/);
        if (name !== 'svg') expect(`${value}`).not.toMatch(/https?:/);
      }
    }
    const picture = Buffer.from(`${images[0]!.attributes.src}`.split(',')[1]!, 'base64');
    expect((await sharp(picture).metadata()).exif).toBe(undefined);
  });

  test('of a book nobody has written of says so, and a book that is gone is refused', async () => {
    const { client, bookId } = await treatedBook();
    const { document } = await client.record.open({ bookId });
    const missing = document.sections.flatMap(({ parts }) => parts.filter(({ kind }) => kind === 'missing'));
    expect(missing.length).toBeGreaterThan(2);
    await expect(client.record.print({ bookId: 'none' })).rejects.toMatchObject({ code: 'REFUSED' });
    await expect(client.record.save({ bookId: 'none', changes: {} })).rejects.toMatchObject({ code: 'REFUSED' });
    await client.record.save({ bookId, changes: { care: 'Flat.' } });
    await client.workshop.undo();
    expect((await client.record.open({ bookId })).words.care).toBe('');
  });
});
