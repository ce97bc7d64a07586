import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { testDesk } from '../test-desk.ts';
import { ask, ways } from './ways.ts';

/** What a question was refused with; fails when it was answered. */
async function refusal(asked: Promise<unknown>) {
  const error = await asked.then(
    () => 'it was answered',
    (reason: unknown) => reason,
  );
  expect(error).toMatchObject({ code: 'REFUSED', defined: true });
  return error as Error & { data: { field?: string } };
}

describe.each(ways)('the workshop asked by %s', (way) => {
  test('says that none is open, and where one could be made', async () => {
    const desk = testDesk();
    const { workshop } = await ask(way, desk);
    expect(await workshop.status()).toEqual({
      shell: 'browser',
      version: '0.0.0-test',
      open: null,
      suggestedFolder: desk.suggestedFolder,
      notOpened: null,
      undo: null,
      redo: null,
    });
    expect((await refusal(workshop.history({ limit: 5 }))).message).toContain('No workshop is open');
  });

  test('is made in a folder, is open then, and opens again', async () => {
    const desk = testDesk();
    const { workshop } = await ask(way, desk);
    const folder = join(desk.folder, 'Alder Yard');
    const made = await workshop.create({ folder, name: 'Alder Yard' });
    expect(made.open).toMatchObject({ name: 'Alder Yard', isDemo: false, books: 0 });
    expect(readdirSync(folder)).toContain('workshop.sqlite');
    expect((await workshop.open({ folder })).open?.folder).toBe(made.open?.folder);
    expect(await workshop.status()).toMatchObject({ open: { name: 'Alder Yard' } });
  });

  test('takes a change back and makes it again', async () => {
    const desk = testDesk();
    const { workshop } = await ask(way, desk);
    await workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
    const renamed = await workshop.setHabits({ name: 'Elm Yard' });
    expect(renamed.open?.name).toBe('Elm Yard');
    expect(renamed.undo).not.toBeNull();
    const { label } = await workshop.undo();
    expect(label).toBe(renamed.undo);
    expect(await workshop.status()).toMatchObject({ open: { name: 'Alder Yard' }, redo: label });
    await workshop.redo();
    expect((await workshop.status()).open?.name).toBe('Elm Yard');
    const lines = await workshop.history({ limit: 3 });
    expect(lines.map((line) => line.kind)).toEqual(['redo', 'undo', 'do']);
  });

  test('stays open when another folder is refused', async () => {
    const desk = testDesk();
    const { workshop } = await ask(way, desk);
    await workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
    const broken = join(desk.folder, 'broken');
    mkdirSync(broken);
    writeFileSync(join(broken, 'workshop.sqlite'), 'this is no database, it is a letter to the binder');
    for (const folder of [join(desk.folder, 'nowhere'), broken]) {
      const { message } = await refusal(workshop.open({ folder }));
      expect(message).toMatch(/^[A-Z].*\.$/);
    }
    expect((await workshop.status()).open?.name).toBe('Alder Yard');
    expect(desk.log.lines.filter((line) => /^\d/.test(line))).toEqual([]);
  });

  test('refuses a change that makes no sense, at its field', async () => {
    const desk = testDesk();
    const { workshop } = await ask(way, desk);
    await workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
    const wrong = await refusal(workshop.setHabits({ currency: 'euros' }));
    expect(wrong).toMatchObject({
      message: 'Use a three-letter currency code such as EUR.',
      data: { field: 'currency' },
    });
    expect((await workshop.status()).undo).toBeNull();
    expect((await refusal(workshop.undo())).message).toMatch(/\.$/);
  });
});
