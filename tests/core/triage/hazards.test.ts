import { describe, expect, test } from 'vitest';
import type { Book, HazardKind } from '../../../core/book/book.ts';
import { blocks, raiseHazards } from '../../../core/book/hazards.ts';
import { book, found } from '../treatment/books.ts';

function kinds(changes: Partial<Book>): readonly HazardKind[] {
  return raiseHazards(book(changes), []).map((hazard) => hazard.kind);
}

describe('pigments are raised by date, covering and colour (Poison Book Project, Winterthur and University of Delaware)', () => {
  test.each<[string, Partial<Book>, readonly HazardKind[]]>([
    [
      'emerald green cloth of 1857, the first one found',
      { yearFrom: 1857, yearTo: 1857, colour: 'emerald green' },
      ['arsenical green'],
    ],
    ['green cloth of 1850', { yearFrom: 1850, yearTo: 1850, colour: 'green' }, ['arsenical green']],
    [
      'bright green paper boards of about 1845',
      { yearFrom: 1840, yearTo: 1850, colour: 'Bright Green', binding: 'paper boards' },
      ['arsenical green'],
    ],
    ['green cloth with no date', { yearFrom: null, yearTo: null, colour: 'green' }, ['arsenical green']],
    [
      'green cloth, binding not described',
      { yearFrom: 1855, yearTo: 1855, colour: 'green', binding: null },
      ['arsenical green'],
    ],
    [
      'dark green cloth of 1874, perhaps chrome yellow and blue',
      { yearFrom: 1874, yearTo: 1874, colour: 'dark green' },
      ['lead or chromium pigment'],
    ],
    ['yellow cloth of 1880', { yearFrom: 1880, yearTo: 1880, colour: 'yellow' }, ['lead or chromium pigment']],
    ['green cloth of 1925', { yearFrom: 1925, yearTo: 1925, colour: 'green' }, []],
    ['green leather of 1855', { yearFrom: 1855, yearTo: 1855, colour: 'green', binding: 'full leather' }, []],
    ['brown cloth of 1855', { yearFrom: 1855, yearTo: 1855, colour: 'brown' }, []],
  ])('%s', (_what, changes, expected) => {
    expect(kinds(changes)).toEqual(expected);
  });
});

test('mould, insects and red rot are raised once each wherever the survey found them', () => {
  const findings = [
    found('leaves', 'mould', 1),
    found('boards', 'mould', 3),
    found('spine', 'insects', 1),
    found('covering', 'red rot', 2),
  ];
  expect(raiseHazards(book(), findings).map((hazard) => hazard.kind)).toEqual(['mould', 'insects', 'red rot']);
});

test('every raised hazard names where its rule is from and what to do until somebody has looked', () => {
  const findings = [found('leaves', 'mould', 1), found('spine', 'insects', 1), found('covering', 'red rot', 2)];
  const raised = [
    ...raiseHazards(book({ yearFrom: 1855, yearTo: 1855, colour: 'green' }), findings),
    ...raiseHazards(book({ yearFrom: 1880, yearTo: 1880, colour: 'yellow' }), []),
  ];
  expect(raised).toHaveLength(5);
  for (const hazard of raised) {
    expect(hazard.state).toBe('raised');
    expect(hazard.reason).toMatch(/\(.+\)/);
    expect(hazard.reason).toMatch(/Until somebody has looked:/);
  }
});

describe('what a hazard stands in the way of', () => {
  const purposes = ['plan', 'student', 'salvage'] as const;
  const mould = { kind: 'mould', reason: '', decision: '' } as const;

  test('undecided, of everything', () => {
    for (const purpose of purposes) expect(blocks([{ ...mould, state: 'raised' }], purpose)).toMatch(/mould/);
  });
  test('cleared, or none, of nothing', () => {
    for (const purpose of purposes) {
      expect(blocks([{ ...mould, state: 'cleared' }], purpose)).toBeNull();
      expect(blocks([], purpose)).toBeNull();
    }
  });
  test('confirmed, of students always, of salvage where pieces would carry it, of planning not', () => {
    const confirmed = [{ ...mould, state: 'confirmed' as const }];
    expect(blocks(confirmed, 'student')).toMatch(/Confirmed mould/);
    expect(blocks(confirmed, 'salvage')).not.toBeNull();
    expect(blocks(confirmed, 'plan')).toBeNull();
    expect(blocks([{ kind: 'red rot', state: 'confirmed', reason: '', decision: '' }], 'salvage')).toBeNull();
  });
  test('one cleared does not hide another undecided', () => {
    expect(
      blocks(
        [
          { ...mould, state: 'cleared' },
          { kind: 'insects', state: 'raised', reason: '', decision: '' },
        ],
        'plan',
      ),
    ).toMatch(/insects/);
  });
});
