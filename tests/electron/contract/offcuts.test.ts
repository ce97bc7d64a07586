import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { book, hazard, movement, piece } from '../../../electron/store/schema.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { bookDraft } from '../store/folders.ts';
import { type TestDesk, testDesk } from '../test-desk.ts';
import { ask, type Client, type Way, ways } from './ways.ts';

type PieceInput = Parameters<Client['offcuts']['save']>[0];
type CutInput = Parameters<Client['offcuts']['planCut']>[0];

const cloth: PieceInput = {
  kind: 'book cloth',
  heightMm: 260,
  widthMm: 180,
  grain: 'height',
  colour: 'brown',
  lab: [32, 11, 16],
  measured: '',
  pattern: 'morocco',
  yearFrom: 1860,
  yearTo: 1865,
  place: 'Drawer 2',
  note: '',
  donorBookId: null,
};

const cut: CutInput = {
  kind: 'greyboard',
  parts: [{ id: 'b', bookId: null, what: 'board', heightMm: 220, widthMm: 140, grain: 'along height', count: 4 }],
  leave: [],
  kerfMm: 0,
  trimMm: 0,
  usefulMm: 40,
  mostTurns: null,
};

async function workshop(way: Way): Promise<{ desk: TestDesk; client: Client }> {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
  return { desk, client };
}

/** A wreck on the shelf, ready to be broken unless something is said against it. */
function putWreck(desk: TestDesk, change: Parameters<typeof bookDraft>[1] = {}): string {
  const written = desk.place.workshop!.write('Put a wreck on the shelf', (write) =>
    write.insert(
      book,
      bookDraft('The Moonlit Parsonage', {
        binding: 'cloth case',
        colour: 'black',
        fate: 'salvage',
        completeness: 'incomplete',
        yearFrom: 1851,
        yearTo: 1851,
        heightUm: 181_000,
        widthUm: 124_000,
        thicknessUm: 29_000,
        ...change,
      }),
    ),
  );
  if (!written.ok) throw new Error(written.refusal.sentence);
  return written.value;
}

async function greyboard(client: Client, onHand: number): Promise<string> {
  const { id } = await client.stockroom.saveMaterial({
    name: 'Greyboard 2.0 mm',
    kind: 'greyboard',
    unit: 'sheet',
    packQuantity: 10,
    packPriceMinor: 2400,
    supplier: '',
    leadDays: 9,
    shelfLifeDays: null,
    sheetHeightMm: 1000,
    sheetWidthMm: 700,
    grain: 'long',
    caliperMm: 2,
    colour: 'grey',
    place: '',
    note: '',
  });
  await client.stockroom.addMovement({ materialId: id, kind: 'in', quantity: onHand, reason: 'Counted' });
  return id;
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

describe.each(ways)('the drawer asked by %s', (way) => {
  test('keeps a piece, changes it, keeps it for a book, releases it, and undo brings it back', async () => {
    const { desk, client } = await workshop(way);
    putBooksOnShelf(desk);
    const kept = await client.offcuts.save(cloth);
    expect(kept).toMatchObject({ heightMm: 260, lab: [32, 11, 16], measured: 'Typed in as Lab, D50', usedAt: null });
    const changed = await client.offcuts.save({ ...cloth, id: kept.id, widthMm: 175.5, lab: null });
    expect(changed).toMatchObject({ widthMm: 175.5, lab: null, measured: '' });
    expect(changed.shownLab).not.toBe(null);

    const [repair] = await client.offcuts.repairs();
    const held = await client.offcuts.reserve({ pieceId: kept.id, bookId: repair!.bookId });
    expect(held.reservedFor?.title).toBe(repair!.title);
    const other = (await client.offcuts.repairs()).find((one) => one.bookId !== repair!.bookId)!;
    expect(await refusal(client.offcuts.reserve({ pieceId: kept.id, bookId: other.bookId }))).toContain(repair!.title);
    expect((await client.offcuts.release({ pieceId: kept.id })).reservedFor).toBe(null);
    await client.offcuts.remove({ id: kept.id });
    expect(await client.offcuts.drawer()).toEqual([]);
    await client.workshop.undo();
    expect(await client.offcuts.drawer()).toMatchObject([{ id: kept.id, widthMm: 175.5 }]);
  });

  test('ranks its pieces for a book, with reasons, and says why the others will not do', async () => {
    const { desk, client } = await workshop(way);
    putBooksOnShelf(desk);
    const good = await client.offcuts.save(cloth);
    await client.offcuts.save({ ...cloth, colour: 'red', lab: [39, 46, 25] });
    const small = await client.offcuts.save({ ...cloth, heightMm: 60, widthMm: 40 });
    const repair = (await client.offcuts.repairs()).find(({ kind }) => kind === 'book cloth')!;
    const { matches, misfits } = await client.offcuts.match({ bookId: repair.bookId, kind: repair.kind });
    expect(matches.map(({ piece: { id } }) => id)[0]).toBe(good.id);
    expect(matches[0]?.sheet.pieces.length).toBeGreaterThan(0);
    expect(misfits).toMatchObject([{ pieceId: small.id, because: expect.stringContaining('too small') }]);
    const same = (await client.offcuts.repairs()).filter(({ bookId }) => bookId === repair.bookId);
    const together = await client.offcuts.together({ repairs: same.map(({ bookId, kind }) => ({ bookId, kind })) });
    expect(together.proven).toBe(true);
    expect(together.given).toHaveLength(same.length);
    expect(together.given.flatMap(({ piece: one }) => (one ? [one.id] : []))).toEqual([good.id]);
    const opened = await client.offcuts.open({ id: good.id });
    expect(opened.suits.map((one) => one.bookId)).toContain(repair.bookId);
  });

  test('plans cuts out of sheets and offcuts and prints them', async () => {
    const { client } = await workshop(way);
    expect(await refusal(client.offcuts.planCut(cut))).toContain('There is no greyboard on hand');
    await greyboard(client, 3);
    await client.offcuts.save({ ...cloth, kind: 'greyboard', heightMm: 230, widthMm: 150, lab: null, pattern: null });
    const planned = await client.offcuts.planCut(cut);
    expect(planned.plan.sheets.map((sheet) => sheet.offcut)).toEqual([true, false]);
    expect(planned.plan.costMinor).toBe(240);
    expect(planned.cautions.join(' ')).toContain('Guard and clamp');
    const printed = await client.offcuts.printCut({ planId: planned.planId });
    expect(printed.fileName).toBe('cutting-greyboard.pdf');
    expect(Buffer.from(printed.base64, 'base64').subarray(0, 5).toString()).toBe('%PDF-');
  });

  test('refuses sizes and copies that cannot be', async () => {
    const { client } = await workshop(way);
    expect(await refusal(client.offcuts.save({ ...cloth, heightMm: -3 }))).toContain('more than nothing');
    expect(await refusal(client.offcuts.save({ ...cloth, yearFrom: 1900, yearTo: 1850 }))).toContain('earlier year');
    expect(await refusal(client.offcuts.planCut({ ...cut, parts: [] }))).toContain('nothing to cut');
    expect(await refusal(client.offcuts.printCut({ planId: 'gone' }))).toContain('no longer at hand');
  });
});

describe('the colour of a book', () => {
  test('is kept as measured, ranks its pieces from then on, goes with the book and comes back with it', async () => {
    const { desk, client } = await workshop('direct call');
    putBooksOnShelf(desk);
    const brown = await client.offcuts.save(cloth);
    const red = await client.offcuts.save({ ...cloth, colour: 'red', lab: [39, 46, 25] });
    const asked = (await client.offcuts.repairs()).find(({ kind }) => kind === 'book cloth')!;
    expect(asked).toMatchObject({ lab: null, measured: '' });
    const { bookId, kind } = asked;
    const first = async () => (await client.offcuts.match({ bookId, kind })).matches.map(({ piece: { id } }) => id)[0];
    expect(await first()).toBe(brown.id);
    await client.offcuts.keepColour({ bookId, kind, lab: [40, 45, 24], measured: 'From a photograph' });
    expect(await first()).toBe(red.id);
    const line = (await client.offcuts.repairs()).find((one) => one.bookId === bookId && one.kind === kind);
    expect(line).toMatchObject({ lab: [40, 45, 24], shownLab: [40, 45, 24], measured: 'From a photograph' });
    expect((await client.offcuts.open({ id: red.id })).suits.map((one) => one.bookId)).toContain(bookId);
    await client.offcuts.keepColour({ bookId, kind, lab: null, measured: '' });
    expect(await first()).toBe(brown.id);
    await client.workshop.undo();
    await client.shelf.remove({ ids: [bookId] });
    await client.workshop.undo();
    expect(await first()).toBe(red.id);
    expect(await refusal(client.offcuts.keepColour({ bookId: 'gone', kind, lab: null, measured: '' }))).toContain(
      'not on the shelf',
    );
  });
});

describe('a bench that cuts', () => {
  test('keeps how it cuts, and undo goes back to how it did', async () => {
    const { client } = await workshop('direct call');
    const usual = await client.offcuts.cuttingHabits();
    expect(usual).toEqual({ kerfMm: 0, trimMm: 0, usefulMm: 40, mostTurns: null });
    const own = { kerfMm: 1.5, trimMm: 5, usefulMm: 60, mostTurns: 2 };
    expect(await client.offcuts.saveCuttingHabits(own)).toEqual(own);
    expect(await client.offcuts.saveCuttingHabits({ ...own, mostTurns: 3 })).toEqual({ ...own, mostTurns: 3 });
    await client.workshop.undo();
    expect(await client.offcuts.cuttingHabits()).toEqual(own);
  });

  test('cuts off a roll as long a piece as its parts are, and never more than the roll has', async () => {
    const { client } = await workshop('direct call');
    const { id } = await client.stockroom.saveMaterial({
      name: 'Buckram, brown',
      kind: 'book cloth',
      unit: 'm',
      packQuantity: 10,
      packPriceMinor: 9000,
      supplier: '',
      leadDays: 5,
      shelfLifeDays: null,
      sheetHeightMm: null,
      sheetWidthMm: 1000,
      grain: null,
      caliperMm: null,
      colour: 'brown',
      place: '',
      note: '',
    });
    await client.stockroom.addMovement({ materialId: id, kind: 'in', quantity: 1.37, reason: 'Counted' });
    const part = (count: number, heightMm: number) => ({
      ...cut,
      kind: 'book cloth' as const,
      parts: [{ id: 'c', bookId: null, what: 'cover', heightMm, widthMm: 320, grain: 'along height' as const, count }],
    });
    const three = await client.offcuts.planCut(part(3, 233.4));
    expect(three.plan.sheets.map(({ heightMm }) => heightMm)).toEqual([234]);
    expect(three.plan.costMinor).toBe(Math.round(900 * 0.234));
    // Longer than a metre, out of what there is of the roll.
    const long = await client.offcuts.planCut(part(2, 1340));
    expect(long.plan.uncut).toEqual([]);
    const taken = async (count: number, heightMm: number) => {
      const { plan } = await client.offcuts.planCut(part(count, heightMm));
      return plan.sheets.reduce((sum, sheet) => sum + sheet.heightMm, 0);
    };
    expect(await taken(20, 240)).toBeLessThanOrEqual(1370);
    expect(await taken(5, 690)).toBeLessThanOrEqual(1370);
    expect(three.stock).toEqual([{ id, name: 'Buckram, brown', offcut: false }]);
    expect(await refusal(client.offcuts.planCut({ ...part(3, 233.4), leave: [id] }))).toContain(
      'no book cloth on hand',
    );
  });
});

describe('a donor', () => {
  test('gives its pieces into the drawer, and each says where it came from', async () => {
    const { desk, client } = await workshop('direct call');
    const bookId = putWreck(desk);
    const yields = await client.offcuts.yields({ bookId });
    expect(yields.map((one) => one.what)).toEqual([
      'upper board cloth',
      'lower board cloth',
      'spine cloth',
      'front free endpaper',
      'back free endpaper',
    ]);
    for (const one of yields) expect(one.heightMm).toBeLessThan(187);
    const { donorBookId: _, ...draft } = cloth;
    const pieces = yields.map((one) => ({ ...draft, ...one, lab: null }));
    expect(await client.offcuts.breakDonor({ bookId, pieces })).toEqual({ title: 'The Moonlit Parsonage', pieces: 5 });
    const drawer = await client.offcuts.drawer();
    expect(new Set(drawer.map((one) => one.donor?.id))).toEqual(new Set([bookId]));
    expect(await client.offcuts.donors()).toMatchObject([{ id: bookId, pieces: 5, blocked: null }]);
  });

  test.each([
    ['is to be restored', { fate: 'restore' }, 'not marked for salvage'],
    ['is complete', { completeness: 'complete' }, 'a complete book is not broken'],
    ['is scarce', { scarcity: 'scarce' }, 'such a book is not broken'],
  ] as const)('that %s is not broken up', async (_words, change, sentence) => {
    const { desk, client } = await workshop('direct call');
    const bookId = putWreck(desk, change);
    const { donorBookId: _donor, ...draft } = cloth;
    expect(await refusal(client.offcuts.breakDonor({ bookId, pieces: [{ ...draft, what: 'side' }] }))).toContain(
      sentence,
    );
    expect(await refusal(client.offcuts.save({ ...cloth, donorBookId: bookId }))).toContain(sentence);
    expect(await client.offcuts.drawer()).toEqual([]);
  });

  test('under a hazard nobody has looked at, or one that was confirmed, is not broken up', async () => {
    const { desk, client } = await workshop('direct call');
    const bookId = putWreck(desk, { colour: 'bright green' });
    const { donorBookId: _, ...draft } = cloth;
    const pieces = [{ ...draft, what: 'side' }];
    const store = desk.place.workshop!;
    const put = (state: string) =>
      store.write('Note a hazard', (change) => {
        const row = store.db.select().from(hazard).all()[0];
        if (row) change.update(hazard, row.id, { state });
        else change.insert(hazard, { bookId, kind: 'arsenical green', state, reason: '', decision: '' });
      });
    put('raised');
    expect(await refusal(client.offcuts.breakDonor({ bookId, pieces }))).toContain('Possible arsenical green');
    put('confirmed');
    expect(await refusal(client.offcuts.breakDonor({ bookId, pieces }))).toContain('Confirmed arsenical green');
    put('cleared');
    expect((await client.offcuts.breakDonor({ bookId, pieces })).pieces).toBe(1);
  });
});

describe('a cutting plan that is accepted', () => {
  test('takes sheets from the ledger, leaves remnants in the drawer, and follows a piece from donor to recipient', async () => {
    const { desk, client } = await workshop('direct call');
    putBooksOnShelf(desk);
    const donorId = putWreck(desk);
    const whole = await client.offcuts.save({ ...cloth, heightMm: 400, widthMm: 300, donorBookId: donorId });
    const [repair] = (await client.offcuts.repairs()).filter(({ kind }) => kind === 'book cloth');
    const parts = (await client.offcuts.cutList()).filter(
      (part) => part.bookId === repair!.bookId && part.kind === 'book cloth',
    );
    const input = { ...cut, kind: 'book cloth' as const, parts: parts.map(({ book: _, kind: __, ...part }) => part) };
    // Salvaged cloth that is kept for nobody waits for the book it will match.
    expect((await client.offcuts.planCut(input)).plan.uncut.length).toBeGreaterThan(0);
    await client.offcuts.reserve({ pieceId: whole.id, bookId: repair!.bookId });
    const planned = await client.offcuts.planCut(input);
    expect(planned.plan.uncut).toEqual([]);
    const { remnants } = await client.offcuts.acceptCut({ planId: planned.planId });
    const left = (await client.offcuts.cutList()).filter((part) => part.bookId === repair!.bookId);
    expect(left.filter((part) => part.kind === 'book cloth')).toEqual([]);
    const drawer = await client.offcuts.drawer();
    const used = drawer.filter((one) => one.usedFor?.id === repair!.bookId);
    expect(used.length).toBe(planned.plan.sheets[0]!.pieces.length);
    for (const one of used) expect(one).toMatchObject({ donor: { id: donorId }, fromPieceId: whole.id });
    expect(drawer.filter((one) => one.usedAt === null)).toHaveLength(remnants);
    const opened = await client.offcuts.open({ id: whole.id });
    expect(opened.became).toHaveLength(used.length + remnants);
    expect(await refusal(client.offcuts.acceptCut({ planId: planned.planId }))).toContain('no longer at hand');

    await client.workshop.undo();
    expect(await client.offcuts.drawer()).toMatchObject([
      { id: whole.id, usedAt: null, reservedFor: { id: repair!.bookId } },
    ]);
    await client.workshop.redo();
    expect(await client.offcuts.drawer()).toEqual(drawer);
  });

  test('is refused where its stock has gone since', async () => {
    const { client } = await workshop('direct call');
    const id = (await client.offcuts.save({ ...cloth, kind: 'greyboard', heightMm: 500, widthMm: 300 })).id;
    const planned = await client.offcuts.planCut(cut);
    await client.offcuts.save({ ...cloth, id, kind: 'greyboard', heightMm: 450, widthMm: 300 });
    expect(await refusal(client.offcuts.acceptCut({ planId: planned.planId }))).toContain('has another size now');
    await client.offcuts.remove({ id });
    expect(await refusal(client.offcuts.acceptCut({ planId: planned.planId }))).toContain('not in the drawer any more');
  });

  test('leaves ledger and drawer in agreement after any run of cutting, undoing and doing again (seed 71)', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom('cut', 'undo', 'redo'), { minLength: 3, maxLength: 7 }),
        async (doings) => {
          const { desk, client } = await workshop('direct call');
          await greyboard(client, 4);
          const store = desk.place.workshop!;
          const sheets = () =>
            store.db
              .select()
              .from(movement)
              .all()
              .reduce((sum, row) => sum + row.quantityMillionths, 0) / 1e6;
          const area = () =>
            store.db
              .select()
              .from(piece)
              .all()
              .filter((row) => row.usedAt === null)
              .reduce((sum, row) => sum + (row.heightUm / 1000) * (row.widthUm / 1000), 0);
          // What has been cut and wasted, by the plans that stand.
          const standing: number[] = [];
          const undone: number[] = [];
          const whole = 4 * 1000 * 700;
          for (const doing of doings) {
            if (doing === 'cut' && sheets() + area() > 0) {
              const planned = await client.offcuts.planCut(cut).catch(() => null);
              if (planned === null || planned.plan.uncut.length > 0) continue;
              await client.offcuts.acceptCut({ planId: planned.planId });
              standing.push(planned.plan.areas.pieces + planned.plan.areas.waste);
              undone.length = 0;
            } else if (doing === 'undo' && standing.length > 0) {
              await client.workshop.undo();
              undone.push(standing.pop()!);
            } else if (doing === 'redo' && undone.length > 0) {
              await client.workshop.redo();
              standing.push(undone.pop()!);
            }
            const gone = standing.reduce((sum, one) => sum + one, 0);
            expect(sheets() * 700_000 + area() + gone).toBeCloseTo(whole, 3);
          }
        },
      ),
      { numRuns: 4, seed: 71 },
    );
  });
});
