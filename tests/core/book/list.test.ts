import { describe, expect, test } from 'vitest';
import { checkList, type KnownBook } from '../../../core/book/check-list.ts';
import { checkMapping, likelyUnit, listFields, looksLikeHeadings, proposeColumns } from '../../../core/book/columns.ts';
import { readRow } from '../../../core/book/list.ts';
import type { LengthUnit } from '../../../core/units/lengths.ts';

/** Reads one row given as heading → cell. */
function row(cells: Readonly<Record<string, string>>, defaultUnit: LengthUnit = 'mm') {
  const headings = Object.keys(cells);
  const columns = proposeColumns(headings, []);
  const reading = {
    mapping: columns.map(({ field }) => field),
    units: columns.map(({ unit }) => unit),
    headings,
    defaultUnit,
  };
  return readRow(Object.values(cells), reading);
}

describe('the columns of a list', () => {
  test.each([
    ['Shelfmark', 'shelf mark'],
    ['Call No.', 'shelf mark'],
    ['  TITLE ', 'title'],
    ['Author(s)', 'author'],
    ['Publisher', 'imprint'],
    ['Année', 'date'],
    ['Year of publication', 'date'],
    ['H x W x T', 'size'],
    ['Dimensions (cm)', 'size'],
    ['Ht.', 'height'],
    ['Höhe', 'height'],
    ['Width in mm', 'width'],
    ['pp.', 'pages'],
    ['Bound in', 'binding'],
    ['Cloth color', 'colour'],
    ['Cloth grain', 'grain'],
    ["What's wrong / damage", 'condition'],
    ['Box', 'lot'],
    ['Where kept', 'place'],
    ['To do', 'fate'],
    ['Paid', 'price'],
  ])('“%s” holds the %s', (heading, field) => {
    expect(proposeColumns([heading], [])[0]?.field).toBe(field);
  });

  test('every field is found by its own name', () => {
    const columns = proposeColumns(listFields, []);
    expect(columns.map(({ field, sureness }) => [field, sureness])).toEqual(listFields.map((field) => [field, 'sure']));
  });

  test('a field is given to one column, the surest; the note may have several', () => {
    const columns = proposeColumns(['Title of series', 'Title', 'Notes', 'Remarks', 'Reason', 'Line'], []);
    expect(columns.map(({ field }) => field)).toEqual([null, 'title', 'note', 'note', null, null]);
  });

  test('a column with a heading that says nothing is known by its cells', () => {
    const rows = [
      ['1852', '225 x 143'],
      ['MDCCCLII', '9 x 6'],
      ['c. 1850', '200x130 mm'],
    ];
    const columns = proposeColumns(['Column 1', 'Column 2'], rows);
    expect(columns.map(({ field }) => field)).toEqual(['date', 'size']);
  });

  test('a first row that is a book is not taken for headings', () => {
    expect(looksLikeHeadings(['A1', 'The Silent Ferryman', '1852', '225 x 143'])).toBe(false);
    expect(looksLikeHeadings(['Mark', 'Title', 'Year'])).toBe(true);
  });

  test.each<[string, LengthUnit]>([
    ['225', 'mm'],
    ['22,5', 'cm'],
    ['9', 'in'],
  ])('bare heights of %s are likely in %s', (height, unit) => {
    const columns = proposeColumns(['Height'], []);
    expect(likelyUnit(columns, [[height], [height]])).toBe(unit);
  });

  test('a mapping without a title, or with a field twice, is refused in words', () => {
    expect(checkMapping(['author', null])).toMatchObject({ ok: false, refusal: { field: 'title' } });
    expect(checkMapping(['title', 'date', 'date'])).toMatchObject({ ok: false, refusal: { field: 'date' } });
    expect(checkMapping(['title', 'note', 'note']).ok).toBe(true);
  });
});

describe('a row of a list', () => {
  test('is read as people write it', () => {
    const { book, troubles } = row({
      Mark: ' A 12 ',
      Title: 'The  Silent   Ferryman',
      Year: 'MDCCCLII',
      Size: '22,5 x 14,3 x 3 cm',
      Format: 'crown 8vo',
      pp: 'viii, 312',
      Binding: "publisher's dark green diaper cloth gilt",
      Condition: 'joints split, spine missing; foxed',
      'To do': 'mend',
    });
    expect(troubles).toEqual([]);
    expect(book).toMatchObject({
      shelfMark: 'A 12',
      title: 'The Silent Ferryman',
      dateText: 'MDCCCLII',
      yearFrom: 1852,
      yearTo: 1852,
      heightMm: 225,
      widthMm: 143,
      thicknessMm: 30,
      format: 'crown 8vo',
      pages: 320,
      binding: 'cloth case',
      colour: 'dark green',
      pattern: 'diaper',
      fate: 'restore',
      fateLocked: true,
      stage: 'surveyed',
    });
    expect(book.findings).toHaveLength(3);
  });

  test('keeps a title of 10,000 characters whole', () => {
    const title = 'x'.repeat(10_000);
    expect(row({ Title: title })).toMatchObject({ book: { title }, troubles: [] });
  });

  test('takes the unit of the heading before the list’s own', () => {
    const { book } = row({ Title: 'x', 'Height (cm)': '22,5', 'Width (in)': '5 5/8', Thickness: '30' });
    expect(book).toMatchObject({ heightMm: 225, thicknessMm: 30 });
    expect(book.widthMm).toBeCloseTo(142.875);
  });

  test.each([
    ['Size', '-225 x 143', 'more than nothing'],
    ['Size', 'about so big', 'not a size'],
    ['Size', '2250 x 1430', 'units'],
    ['Height', '22.5', 'units'],
    ['Height', '-3', 'more than nothing'],
    ['Year', '9999', '1450'],
    ['Year', '31.2.1850x', 'not a date'],
    ['Mark', 'x'.repeat(201), 'longer than 200'],
    ['Author', 'x'.repeat(20_001), 'longer than 20,000'],
    ['Notes', 'x'.repeat(100_001), 'longer than 100,000'],
    ['Title', '  ', 'no title'],
    ['Title', '?', 'no title'],
  ])('%s “%s” is a trouble of that cell: %s', (heading, cell, reason) => {
    const cells = heading === 'Title' ? { Title: cell } : { Title: 'x', [heading]: cell };
    const { troubles } = row(cells);
    expect(troubles).toHaveLength(1);
    expect(troubles[0]?.reason).toContain(reason);
    expect(troubles[0]?.column).toBe(heading === 'Title' ? 0 : 1);
  });

  test.each(['', '-', '?', 'n/a', 'unknown', '…'.replace('…', '–')])('“%s” is a blank, not a trouble', (cell) => {
    const { book, troubles } = row({ Title: 'x', Size: cell, Year: cell, pp: cell, Binding: cell });
    expect(troubles).toEqual([]);
    expect(book).toMatchObject({ heightMm: null, yearFrom: null, pages: null, binding: null, note: '' });
  });

  test('n.d. is no date, and stays as written', () => {
    expect(row({ Title: 'x', Year: 'n.d.' })).toMatchObject({
      book: { dateText: 'n.d.', yearFrom: null },
      troubles: [],
    });
  });

  test('words it does not know go into the note, none is dropped', () => {
    const { book, keptInWords } = row({
      Title: 'x',
      Binding: 'sailcloth over tin',
      Grain: 'crocodile',
      Fate: 'ask Ottoline',
      Matters: 'dear to me',
      Paid: '£3',
      Condition: 'smells of the sea',
      Year: 'early in the old Queen’s time',
      Notes: 'six woodcuts',
    });
    for (const words of [
      'sailcloth',
      'crocodile',
      'ask Ottoline',
      'dear to me',
      '£3',
      'smells of the sea',
      'old Queen',
    ]) {
      expect(book.note).toContain(words);
    }
    expect(book.note.startsWith('six woodcuts')).toBe(true);
    expect(keptInWords).toEqual(expect.arrayContaining(['grain', 'fate', 'significance', 'date']));
  });

  test.each([
    ['half calf', 'half leather'],
    ['hf. morocco', 'half leather'],
    ['½ roan', 'half leather'],
    ['qtr cloth', 'quarter cloth'],
    ['1/4 green calf', 'quarter leather'],
    ['orig. cloth', 'cloth case'],
    ['bds', 'paper boards'],
    ['limp vellum', 'vellum'],
    ['sheep', 'full leather'],
    ['wraps', 'paper wrappers'],
    ['disbound', 'unbound'],
  ])('“%s” is %s', (words, binding) => {
    expect(row({ Title: 'x', Binding: words }).book.binding).toBe(binding);
  });
});

describe('the rows of a list together', () => {
  const headings = ['Mark', 'Title', 'Author', 'Year', 'Size'];
  const reading = {
    mapping: proposeColumns(headings, []).map(({ field }) => field),
    units: headings.map(() => null),
    headings,
    defaultUnit: 'mm' as const,
  };
  const known = (change: Partial<KnownBook> = {}): KnownBook => ({
    id: 'k',
    shelfMark: 'A1',
    title: 'The Drover',
    author: 'M. Vangrave',
    yearFrom: 1852,
    yearTo: 1852,
    heightMm: 225,
    widthMm: 143,
    ...change,
  });
  const check = (cells: readonly string[][], books: readonly KnownBook[] = []) =>
    checkList(
      cells.map((row, index) => ({ line: index + 2, cells: row })),
      reading,
      books,
    );

  test('a shelf mark used twice is a trouble of the later row, naming the earlier line', () => {
    const { good, bad } = check([
      ['A1', 'x', '', '', ''],
      ['A1', 'y', '', '', ''],
    ]);
    expect(good).toHaveLength(1);
    expect(bad).toMatchObject([{ line: 3, troubles: [{ field: 'shelf mark' }] }]);
    expect(bad[0]?.troubles[0]?.reason).toContain('line 2');
  });

  test('a book with the mark and title of one in the workshop is that one', () => {
    const { duplicates } = check([['A1', 'the drover!', '', '', '']], [known()]);
    expect(duplicates).toMatchObject([{ line: 2, known: { id: 'k' } }]);
  });

  test('a mark of the workshop on another book is a trouble, not a duplicate', () => {
    const { duplicates, bad } = check([['A1', 'Mosses', 'S. Plashett', '1901', '']], [known()]);
    expect(duplicates).toEqual([]);
    expect(bad[0]?.troubles[0]?.reason).toContain('The Drover');
  });

  test('without two marks, the same title, author, date and size to 2 mm are the same book', () => {
    const book = ['', 'The Drover', 'M. Vangrave', '1852', '224 x 144'];
    expect(check([book], [known()]).duplicates).toHaveLength(1);
    expect(check([book], [known({ heightMm: 235 })]).good).toHaveLength(1);
    expect(check([book], [known({ yearFrom: 1853 })]).good).toHaveLength(1);
  });

  test('two marks that differ are two copies', () => {
    expect(check([['A2', 'The Drover', 'M. Vangrave', '1852', '225 x 143']], [known()]).good).toHaveLength(1);
  });
});
