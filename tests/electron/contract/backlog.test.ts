import { describe, expect, test } from 'vitest';
import { finding } from '../../../electron/store/schema.ts';
import { type TestDesk, testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

const wish = { confidence: 0.9, share: 0.5, margin: 0.2, by: 'lot' } as const;

/** Forty unsurveyed books in two lots and three places. */
async function opened(way: (typeof ways)[number]): Promise<{ desk: TestDesk; client: Client }> {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  await client.workshop.setHabits({ hourlyRateMinor: 3000 });
  for (let at = 0; at < 40; at++) {
    await client.shelf.create({
      title: `Book ${at}`,
      shelfMark: `M${at}`,
      lot: at < 10 ? 'Small lot' : 'Large lot',
      place: `Case 1 › Shelf ${at % 3}`,
      binding: 'cloth case',
    });
  }
  return { desk, client };
}

function survey(desk: TestDesk, bookIds: readonly string[]): void {
  const done = desk.place.workshop!.write('Survey', (change) => {
    for (const [at, bookId] of bookIds.entries()) {
      change.insert(finding, {
        bookId,
        part: 'joints',
        damage: 'split',
        severity: at % 2 === 0 ? 3 : 1,
        count: null,
        note: '',
      });
    }
  });
  expect(done.ok).toBe(true);
}

const refusal = (asked: Promise<unknown>): Promise<string> =>
  asked.then(
    () => 'it was answered',
    (error: Error) => error.message,
  );

describe.each(ways)('the backlog asked by %s', (way) => {
  test('is sized, drawn as a walk along the shelves, filled in, and told with a range; one undo takes the draw back', async () => {
    const { desk, client } = await opened(way);
    expect(await client.backlog.current()).toBeNull();
    const plan = await client.backlog.plan(wish);
    expect(plan).toMatchObject({ unsurveyed: 40, strata: 2 });
    // 1.645² · ¼ / 0.2² is 16.9; of forty books 12.1 are as good.
    expect(plan.size.endless).toBeCloseTo(16.9, 1);
    expect(plan.size.exact).toBeCloseTo(12.1, 1);
    expect(plan.books).toBe(13);

    const drawn = await client.backlog.draw(wish);
    expect(drawn).toMatchObject({ books: 40, drawn: 13, seen: 0, gone: 0, estimate: null, wish });
    const places = drawn.walk.map(({ place }) => place);
    expect(places).toEqual(places.toSorted());
    expect(await client.backlog.current()).toEqual(drawn);

    const ids = drawn.walk.map(({ bookId }) => bookId);
    survey(desk, ids.slice(0, 12));
    const partly = await client.backlog.current();
    expect(partly).toMatchObject({ seen: 12 });
    expect(partly?.remarks.join(' ')).toContain('not yet a fair picture');
    survey(desk, ids.slice(12));
    const told = await client.backlog.current();
    const { minutes, costMinor, hazards } = told!.estimate!;
    expect(minutes.low).toBeLessThan(minutes.likely);
    expect(minutes.high).toBeGreaterThan(minutes.likely);
    expect(costMinor?.likely).toBe(Math.round((minutes.likely / 60) * 3000));
    expect(hazards.low).toBeLessThanOrEqual(hazards.high);
    expect(told?.remarks.join(' ')).not.toContain('not yet a fair picture');

    const { base64, fileName } = await client.backlog.print();
    expect(fileName).toBe('survey-walk-2026-05-04.pdf');
    expect(Buffer.from(base64, 'base64').subarray(0, 5).toString()).toBe('%PDF-');
    const sheet = await client.backlog.sheet({ ids: ids.slice(0, 3) });
    expect(sheet.fileName).toBe('survey-sheet-2026-05-04.pdf');
    expect(Buffer.from(sheet.base64, 'base64').subarray(0, 5).toString()).toBe('%PDF-');
    expect(await refusal(client.backlog.sheet({ ids: ['nobody'] }))).toBe(
      'None of these books is on the shelf any more.',
    );
    await client.workshop.undo();
    await client.workshop.undo();
    await client.workshop.undo();
    expect(await client.backlog.current()).toBeNull();
    expect(await refusal(client.backlog.print())).toBe('No sample has been drawn yet.');
  });
});

test('a new sample takes the place of the old, and wishes that make no sense are refused in words', async () => {
  const { desk, client } = await opened('direct call');
  const first = await client.backlog.draw({ ...wish, by: 'nothing' });
  survey(
    desk,
    first.walk.map(({ bookId }) => bookId),
  );
  const second = await client.backlog.draw({ ...wish, by: 'place', margin: 0.1 });
  expect(second.books).toBe(40 - first.drawn);
  const before = new Set(first.walk.map(({ bookId }) => bookId));
  expect(second.walk.some(({ bookId }) => before.has(bookId))).toBe(false);
  expect(await client.backlog.current()).toEqual(second);
  expect(await refusal(client.backlog.plan({ ...wish, margin: 0 }))).toBe('Give a margin between 0.5 % and 50 %.');
  expect(await refusal(client.backlog.draw({ ...wish, confidence: 1 }))).toBe('Be between 50 % and 99.9 % sure.');
});
