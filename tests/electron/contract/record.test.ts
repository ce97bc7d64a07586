import { describe, expect, test } from 'vitest';
import { book } from '../../../electron/store/schema.ts';
import { bookDraft } from '../store/folders.ts';
import { testDesk } from '../test-desk.ts';
import { ask, ways } from './ways.ts';

describe.each(ways)('a treatment record asked for by %s', (way) => {
  test('keeps what a person says, reads as it will be printed, and is taken back field by field', async () => {
    const desk = testDesk();
    const client = await ask(way, desk);
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
    const written = desk.place.workshop!.write('Take in', (change) => change.insert(book, bookDraft('Rambles')));
    if (!written.ok) throw new Error(written.refusal.sentence);
    const bookId = written.value;
    const kept = [{ what: 'Old mull', where: 'Envelope 3' }];
    await client.record.save({ bookId, changes: { kept } });
    const { words, document } = await client.record.save({ bookId, changes: { conditionAfter: 'Sound.' } });
    expect(words).toMatchObject({ kept, conditionAfter: 'Sound.', signedOn: null });
    const after = document.sections.find(({ title }) => title === 'Condition after treatment');
    expect(after?.parts).toEqual([{ kind: 'words', words: 'Sound.' }]);
    expect(await client.workshop.undo()).toEqual({ label: 'Write the condition after in the record of “Rambles”' });
    expect((await client.record.open({ bookId })).words).toMatchObject({ kept, conditionAfter: '' });
    const late = client.record.save({ bookId, changes: { signedOn: 'yesterday' } });
    await expect(late).rejects.toMatchObject({ code: 'REFUSED', data: { field: 'changes.signedOn' } });
  });
});
