import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { book, material } from '../../../electron/store/schema.ts';
import { findAnything, searchQuestion } from '../../../electron/store/search.ts';
import type { Workshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got, newWorkshop, reopened } from './folders.ts';

const titlesOf = (workshop: Workshop, words: string) =>
  findAnything(workshop.db, words)
    .map(({ title }) => title)
    .sort();

describe('finding', () => {
  test('takes the beginnings of words in any order, accents and capitals aside', () => {
    const workshop = newWorkshop();
    workshop.write('Take in', (change) => {
      change.insert(book, bookDraft('Les Misérables', { author: 'Hugo, Victor', shelfMark: 'F-12/3' }));
      change.insert(book, bookDraft('The Miser’s Daughter', { author: 'Ainsworth', colour: 'plum' }));
    });
    expect(titlesOf(workshop, 'MISERA')).toEqual(['Les Misérables']);
    expect(titlesOf(workshop, 'misér')).toEqual(['Les Misérables', 'The Miser’s Daughter']);
    expect(titlesOf(workshop, 'vic mis')).toEqual(['Les Misérables']);
    expect(titlesOf(workshop, 'F-12/3')).toEqual(['Les Misérables']);
    expect(titlesOf(workshop, 'f 12')).toEqual(['Les Misérables']);
    expect(titlesOf(workshop, 'plu ains')).toEqual(['The Miser’s Daughter']);
    expect(titlesOf(workshop, 'iser')).toEqual([]);
    expect(titlesOf(workshop, '  — ')).toEqual([]);
  });

  test('takes whatever a person types without a complaint (seed 3)', () => {
    const workshop = newWorkshop();
    workshop.write('Take in', (change) => change.insert(book, bookDraft('AND OR NOT NEAR')));
    const hostile = fc.constantFrom(
      '"',
      "'",
      '*',
      '^',
      ':',
      '(',
      ')',
      '-',
      'NEAR(',
      'AND',
      'OR',
      'title:',
      '{a b}',
      '\0',
      '%',
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(hostile, fc.string({ unit: 'binary' }))), (pieces) => {
        for (const gap of ['', ' ']) expect(Array.isArray(findAnything(workshop.db, pieces.join(gap)))).toBe(true);
      }),
      { seed: 3, numRuns: 300 },
    );
    expect(titlesOf(workshop, 'AND NOT')).toEqual(['AND OR NOT NEAR']);
    expect(searchQuestion('say "hi"')).toBe('"say"* AND """hi"""*');
  });

  test('follows changes, removals, undo and a restart, and a file that was compacted', () => {
    let workshop = newWorkshop();
    const [a, b] = got(
      workshop.write('Take in', (change) =>
        ['Alpha', 'Beta', 'Gamma'].map((title) => change.insert(book, bookDraft(title))),
      ),
    ) as [string, string];
    workshop.write('Rename', (change) => change.update(book, b, { title: 'Bravo' }));
    expect([titlesOf(workshop, 'beta'), titlesOf(workshop, 'bravo')]).toEqual([[], ['Bravo']]);
    workshop.undo();
    expect([titlesOf(workshop, 'beta'), titlesOf(workshop, 'bravo')]).toEqual([['Beta'], []]);
    workshop.write('Remove', (change) => change.remove(book, a));
    expect(titlesOf(workshop, 'alpha')).toEqual([]);
    workshop.raw.pragma('query_only = OFF');
    workshop.raw.exec('VACUUM');
    workshop = reopened(workshop);
    expect([titlesOf(workshop, 'beta'), titlesOf(workshop, 'gam')]).toEqual([['Beta'], ['Gamma']]);
    workshop.undo();
    expect(titlesOf(workshop, 'alpha')).toEqual(['Alpha']);
  });

  test('finds materials by name, kind, colour and place', () => {
    const workshop = newWorkshop();
    workshop.write('Buy', (change) => {
      const kraft = {
        kind: 'kraft paper',
        unit: 'sheet',
        packMillionths: 1,
        packPriceMinor: 1,
        supplier: '',
        leadDays: 1,
      };
      change.insert(material, { name: 'Kraft 90 g', ...kraft, colour: 'brûn', place: 'Plan chest', note: '' });
    });
    expect(titlesOf(workshop, 'chest BRUN')).toEqual(['Kraft 90 g']);
  });
});
