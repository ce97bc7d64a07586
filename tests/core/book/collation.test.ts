import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  compareCopy,
  listGatherings,
  pagesDisagree,
  parseCollation,
  readStatement,
  totalsOf,
} from '../../../core/book/collation.ts';
import {
  type Change,
  type Collation,
  type Part,
  printCollation,
  type Signature,
} from '../../../core/book/collation-notation.ts';
import type { Result } from '../../../core/result.ts';

const seed = 20_261_125;

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}
const leaves = (formula: string) => totalsOf(must(parseCollation(formula))).leaves;
const names = (formula: string) =>
  listGatherings(must(parseCollation(formula))).flatMap((gathering) => gathering.leaves);

describe('published statements', () => {
  test.each([
    ['A-D6', 24, 48, 'Folger handout'],
    ['8°: A4 B-O8', 108, 216, 'Massachusetts Historical Society, Nov 2013'],
    [
      'F°: πA6(πA1+1 πA5+1.2) A-2B6 2C2 a-g6 χ2g8 h-v6 x4 "gg3.4"(±"gg3") ¶-2¶6 3¶1 2a-2f6 2g2 "Gg6" 2h6 2k-3b6',
      454,
      908,
      'Shakespeare 1623, Folger collation statement',
    ],
    [
      'F°: π2 πA4 A-Y6 Z4 2B-2Z6 *3A-*3D6 *3E8 3A-4B6 4C2',
      458,
      916,
      'Shakespeare 1685, G. Dawson, Studies in Bibliography 4',
    ],
    ['π1[=B2] A8 [B]2(-B2)', 10, 20, 'DCRM-L 2012'],
    [
      '8°: A8 a8 B-I8 K8 L-R8 S8 T-2M8 2N4 3A8 3a4 3B-3F8',
      344,
      688,
      'Massachusetts Historical Society, Oct 2013, added up',
    ],
  ])('%s has %d leaves, %d pages (%s)', (formula, count, pages) => {
    expect(totalsOf(must(parseCollation(formula)))).toMatchObject({ leaves: count, pages });
  });

  test('each part of the First Folio adds up as its statement does (Folger)', () => {
    const parts: readonly (readonly [string, number])[] = [
      ['πA6(πA1+1 πA5+1.2)', 9],
      ['A-2B6', 150],
      ['2C2', 2],
      ['a-g6', 42],
      ['χ2g8', 8],
      ['h-v6', 78],
      ['x4', 4],
      ['"gg3.4"(±"gg3")', 2],
      ['¶-2¶6', 12],
      ['3¶1', 1],
      ['2a-2f6', 36],
      ['2g2', 2],
      ['"Gg6"', 6],
      ['2h6', 6],
      ['2k-3b6', 96],
    ];
    for (const [formula, count] of parts) expect([formula, leaves(formula)]).toEqual([formula, count]);
  });

  test('A4 B-O8 agrees with its paging [8] 1-205 [3] (Massachusetts Historical Society, Nov 2013)', () => {
    expect(must(readStatement('8°: A4 B-O8 ; 108 leaves, pp. [8] 1-205 [3]')).disagreements).toEqual([]);
  });

  test('a semicolon within the formula does not begin the paging', () => {
    const statement = must(readStatement('8°: A-C8; D4; pp. 56'));
    expect(statement).toMatchObject({ totals: { leaves: 28 }, disagreements: [] });
  });

  test('a formula at fault is refused for its first fault, whatever follows', () => {
    expect(readStatement('8°: A-C; pp. 56')).toMatchObject({
      ok: false,
      refusal: { sentence: expect.stringContaining('character 8') },
    });
  });

  test('[2] [1-3] 4-17 [18] agrees with the formula it was given with (DCRM-L 2012)', () => {
    const statement = must(readStatement('π1[=B2] A8 [B]2(-B2) [$4 signed]; 10 leaves, pp. [2] [1-3] 4-17 [18]'));
    expect(statement.disagreements).toEqual([]);
    expect(statement.collation.signing).toBe('$4 signed');
  });

  test('345 leaves were printed for a book whose formula has 344; ours differs and says so (Massachusetts Historical Society, Oct 2013)', () => {
    const statement = must(
      readStatement(
        '8°: A8 a8 B-I8 K8 L-R8 S8 T-2M8 2N4 3A8 3a4 3B-3F8; 345 leaves, pp. [32] 1-544 [545-552]; 2[24] 1-78 [79]',
      ),
    );
    expect(statement.totals.leaves).toBe(344);
    expect(statement.disagreements[0]).toBe('345 leaves are stated, but the formula adds up to 344.');
    expect(statement.disagreements[1]).toMatch(/paging adds up to 687, one less: the last page may be blank/);
  });
});

describe('the rules of the notation (Bowers 1949; Gaskell 1972, pp. 328-331; STCV manual)', () => {
  test.each([
    ['a gathering and its leaves', 'A⁸', 8],
    ['figures on the line', 'A8', 8],
    ['figures after a caret', 'A^8', 8],
    ['a range', 'A-D4', 16],
    ['a range with a dash and raised figures', 'A–D⁴', 16],
    ['the alphabet of 23 letters', 'A-Z8', 23 * 8],
    ['no J between I and K', 'I-K8', 16],
    ['no U or W between T and X', 'T-X8', 24],
    ['doubled letters as 2A', '2A-2C4', 12],
    ['doubled letters as Aa', 'Aa-Cc4', 12],
    ['doubled letters as AA', 'AA-CC4', 12],
    ['trebled letters', '3A-3B6', 12],
    ['trebled letters as Aaa', 'Aaa-Bbb6', 12],
    ['fourfold letters', '4A-4B6', 12],
    ['a range over the end of the alphabet', '2K-3B6', 16 * 6],
    ['a range over a whole alphabet', 'A-2B6', 25 * 6],
    ['small letters', 'a-c4', 12],
    ['two sizes in turn', 'A-F8/4', 36],
    ['two sizes in turn, the smaller first', 'A-F4/8', 36],
    ['two sizes in turn, the last turn broken off', 'A-G8/4', 44],
    ['three sizes in turn', 'A-F6/8/8', 44],
    ['two sizes in turn, then the same again', 'A-F8/4 G8', 44],
    ['an unsigned gathering before', 'π4 A-B8', 20],
    ['an unsigned gathering within', 'A8 χ2 B8', 18],
    ['more unsigned gatherings', 'π4 2π2 A8', 14],
    ['unsigned gatherings spelled out', 'pi4 A8 chi2', 14],
    ['a single unsigned leaf', 'π1 A8', 9],
    ['disjunct unsigned leaves', 'π1,2 A8', 10],
    ['conjugate unsigned leaves', 'π1.2 A8', 10],
    ['a series repeated before', 'πA4 A8', 12],
    ['a series repeated within', 'A-C8 χB4', 28],
    ['a series repeated, with a raised figure', 'A-C⁸ ²A-²C⁴', 36],
    ['a series repeated, with a caret', 'A-C8 ^2A-^2C4', 36],
    ['printers’ signs', '*4 †2 ¶4 §2', 12],
    ['a doubled sign', '*-3*4', 12],
    ['a sign before a letter', '*A-*C4', 12],
    ['an inferred gathering', '[A]4 B8', 12],
    ['an inferred range', '[A-C]4', 12],
    ['a range inferred at both ends', '[A]-[C]4', 12],
    ['a signature in parentheses', '(a)4 (b)4 A8', 16],
    ['a leaf put in', 'A8(A4+1)', 9],
    ['a leaf put in, with spaces', 'A8 (A4 + 1)', 9],
    ['two conjugate leaves put in', 'A8(A4+1.2)', 10],
    ['two disjunct leaves put in', 'A8(A4+1,2)', 10],
    ['a signed leaf put in', 'A8(A4+*A5)', 9],
    ['a signed leaf put in, quoted', 'A8(A4+"A5")', 9],
    ['an unsigned leaf put in and named', 'A8(A4+χ1)', 9],
    ['a gathering put in', 'π2(π1+A⁸)', 10],
    ['a gathering put in, after a caret', 'pi^2(pi1+A^8)', 10],
    ['a leaf put in at the end', 'A8(+1)', 9],
    ['leaves put in at two places', 'A6(A1+1 A5+1.2)', 9],
    ['a leaf taken away', 'A8(-A8)', 7],
    ['a leaf taken away, with a minus sign', 'A8(−A8)', 7],
    ['two leaves taken away', 'A8(-A1,8)', 6],
    ['conjugate leaves taken away', 'A8(-A4.5)', 6],
    ['leaves taken away by a range', 'A8(-A3-6)', 4],
    ['leaves taken away, each by itself', 'A8(-A1 -A8)', 6],
    ['a leaf taken away without its letter', 'A8(-8)', 7],
    ['a leaf taken from one of a range', 'A-C8(-B8)', 23],
    ['a cancel', 'A8(±A3)', 8],
    ['a conjugate pair cancelled', 'A8(±A4.5)', 8],
    ['a cancel of more leaves than it takes the place of', 'A8(A4±χ1.2)', 9],
    ['the same written as loss and gain', 'A8(-A4+χ1.2)', 9],
    ['what is the last gathering’s own leaf used before', 'π1[=D4] A-C4 D4(-D4)', 16],
    ['leaves named in quotation marks', 'A8 "B3.4"', 10],
    ['a gathering named in quotation marks', 'A8 “Bb⁶”', 14],
    ['older lists’ “in eights”', 'A-C in 8s', 24],
    ['a leaf said to be blank', 'A8(A8 blank)', 8],
    ['a leaf said to be blank, after a space', 'A8 (A1,8 blank)', 8],
    ['a blank leaf taken away', 'A8(-A8, blank)', 7],
    ['commas between', 'A4, B8, C4', 16],
    ['a statement of signing', 'A-C8 [$4 (-A1) signed]', 24],
    ['a format before', '12°: A-C12', 36],
    ['twelves in eights and fours', '12mo: A-B8/4', 12],
  ])('%s: %s', (_, formula, count) => {
    expect(leaves(formula)).toBe(count);
  });

  test.each([
    ['A4 B8 C4 D8 E4 F8', 'A-F4/8'],
    ['A8 B4 C8 D4 E8 F4 G8', 'A-F8/4 G8'],
  ])('%s is %s (STCV manual; DCRM-L, Sept 2019)', (spelled, short) => {
    expect(names(short)).toEqual(names(spelled));
  });

  test('26 letters are counted when asked for', () => {
    expect(totalsOf(must(parseCollation('A-Z8', 26))).leaves).toBe(26 * 8);
  });

  test('leaves are named in reading order, with losses, insertions and cancels in their places', () => {
    expect(names('π1 A4(A2+1.2 −A4 ±A3) B2')).toEqual(['π1', 'A1', 'A2', 'A2+1', 'A2+2', '±A3', 'B1', 'B2']);
    expect(names('2a2(-2a1+χ1.2)')).toEqual(['χ1', 'χ2', '2a2']);
  });

  test('sheets are the leaves over what a sheet of that format gives', () => {
    expect(totalsOf(must(parseCollation('8°: A-C8 D4'))).sheets).toBe(3.5);
    expect(totalsOf(must(parseCollation('A-C8'))).sheets).toBeUndefined();
  });

  test('an odd gathering is remarked on', () => {
    expect(totalsOf(must(parseCollation('A7'))).remarks).toHaveLength(1);
    expect(totalsOf(must(parseCollation('A8(-A8)'))).remarks).toEqual([]);
  });
});

describe('a malformed formula gets the place and what was expected', () => {
  test.each([
    ['', 1, 'a signature'],
    ['A', 2, 'the number of leaves after A'],
    ['A-', 3, 'a signature'],
    ['A-D', 4, 'the number of leaves'],
    ['D-A4', 2, 'a range that goes forwards'],
    ['A-b4', 2, 'a range within one series'],
    ['A-W4', 2, 'no W at the ends'],
    ['A4B8', 3, 'a space before the next signature'],
    ['A0', 2, 'a number of leaves from 1'],
    ['A4 B999', 5, 'a number of leaves from 1'],
    ['A8/', 4, 'the number of leaves'],
    ['A8(', 4, 'a closing parenthesis'],
    ['A8()', 4, 'a change'],
    ['A8(A3)', 6, '+ or ±'],
    ['A8(-)', 5, 'a signature'],
    ['A8(-A)', 6, 'the number of a leaf'],
    ['A8(A4+2)', 7, 'unsigned leaves numbered from 1'],
    ['A8(-A3.2)', 6, 'each after the one before'],
    ['[A4', 3, 'a closing bracket'],
    ['A4 [=B', 5, 'a signature'],
    ['A4[=B', 6, 'a closing bracket'],
    ['"gg3.4', 7, 'a closing quotation mark'],
    ['2Aa4', 1, 'either 2A or Aa'],
    ['AB4', 2, 'the number of leaves'],
    ['9°9: A4', 1, 'a format'],
    ['A4 ; B4 ?', 10, 'the number of leaves'],
    ['1A4', 1, '2 to 30'],
    ['A4 [$4 signed', 14, 'a closing bracket'],
  ])('%j at character %d: %s', (formula, place, wanted) => {
    const read = parseCollation(formula);
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.refusal.sentence).toContain(`At character ${place}`);
    expect(read.refusal.sentence).toContain(wanted);
  });

  test.each([
    ['A8(-B3)', /not in A⁸/],
    ['A8(-A9)', /no such leaf/],
    ['A-C8(-3)', /not in A–C⁸/],
    ['A-C8(+1)', /after which leaf/],
    ['A8(-A3 -A3)', /taken out twice/],
    ['A8(±A3 -A3)', /taken out twice/],
    ['A-B8/4(-B5)', /no such leaf/],
  ])('%s names what is not there', (formula, sentence) => {
    const read = parseCollation(formula);
    expect(!read.ok && read.refusal.sentence).toMatch(sentence);
  });

  test(`10,000 random strings never stop or hang the parser, and what is read adds up, seed ${seed}`, () => {
    const bits = fc.constantFrom(
      ...'A B Z a W J π χ pi chi 2 3 8 4 ² ⁸ ⁴ ^ / - – ( ) [ ] [= [$ " “ ” + ± − , . ; : ¶ * 8° F° in s'.split(' '),
      ' ',
    );
    const nearly = fc.constantFrom(
      ' ',
      ' A8',
      ' B-D4',
      ' 2A8/4',
      '(-A3)',
      '(±A1)',
      '(A2+1)',
      ' π2',
      '²',
      ' χB4',
      ' [C]4',
      '[=B2]',
      '–',
      '"gg3.4"',
      ')',
    );
    let understood = 0;
    const text = fc.oneof(
      { weight: 2, arbitrary: fc.array(nearly, { minLength: 1, maxLength: 6 }).map((parts) => parts.join('')) },
      { weight: 2, arbitrary: fc.array(bits, { maxLength: 24 }).map((parts) => parts.join('')) },
      { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 60 }) },
    );
    fc.assert(
      fc.property(text, (formula) => {
        const read = parseCollation(formula);
        if (!read.ok) {
          if (!/\.$/.test(read.refusal.sentence)) throw new Error(read.refusal.sentence);
          return;
        }
        understood++;
        const { leaves: count } = totalsOf(read.value);
        if (!Number.isInteger(count) || count < 0) throw new Error(`${count} leaves`);
        const again = must(parseCollation(printCollation(read.value)));
        if (totalsOf(again).leaves !== count) throw new Error(printCollation(read.value));
      }),
      { seed, numRuns: 10_000 },
    );
    expect(understood).toBeGreaterThan(500);
  });

  test('very long input is answered at once', () => {
    for (const text of [
      'A8 '.repeat(2000),
      '('.repeat(3000),
      'A'.repeat(3000),
      '2'.repeat(3000),
      `A8(${'-A1,'.repeat(900)})`,
    ]) {
      expect(parseCollation(text).ok).toBe(false);
    }
  });
});

describe('printing and reading', () => {
  const prefix = fc.constantFrom('', '', '', 'π', 'χ', '*', '2', '3');
  const letter = fc.constantFrom(...'ABCDEFGHIKLMNOPQRSTVXYZabcdefghiklmnopqrstvxyz');
  const plain: fc.Arbitrary<Signature> = fc
    .record({ prefix, times: fc.integer({ min: 1, max: 4 }), base: letter })
    .map((one) => ({ ...one, inferred: false, style: 'plain' as const }));
  const marked: fc.Arbitrary<Signature> = fc
    .record({ times: fc.integer({ min: 1, max: 3 }), base: fc.constantFrom('π', 'χ', '¶', '*', '†') })
    .map((one) => ({ ...one, prefix: '', inferred: false, style: 'plain' as const }));
  const size = fc.integer({ min: 2, max: 12 });

  function changesTo(signature: Signature, leafCount: number): fc.Arbitrary<readonly Change[]> {
    const named = { ...signature, inferred: false };
    return fc.uniqueArray(fc.integer({ min: 1, max: leafCount }), { maxLength: 3 }).chain((numbers) =>
      fc.tuple(
        ...numbers.map((number): fc.Arbitrary<Change> => {
          const leaf = { signature: named, numbers: [number], joined: ',' as const };
          const bare = { kind: 'leaves' as const, signature: undefined, numbers: [1, 2], joined: '.' as const };
          return fc.constantFrom<Change>(
            { kind: 'removed', leaves: leaf },
            { kind: 'cancelled', leaves: leaf },
            { kind: 'blank', leaves: leaf },
            { kind: 'inserted', after: leaf, what: bare },
            { kind: 'replaced', leaves: leaf, by: bare },
            { kind: 'inserted', after: leaf, what: { kind: 'gathering', signature: named, size: 4 } },
          );
        }),
      ),
    );
  }
  const single: fc.Arbitrary<Part> = fc
    .tuple(fc.oneof(plain, marked), size, fc.boolean(), fc.option(fc.constantFrom('B2', '2C4'), { nil: undefined }))
    .chain(([signature, leafCount, inferred, printedAs]) =>
      changesTo(signature, leafCount).map((changes) => ({
        from: { ...signature, inferred },
        to: { ...signature, inferred },
        made: { kind: 'gatherings' as const, sizes: [leafCount] },
        changes,
        printedAs,
      })),
    );
  const range: fc.Arbitrary<Part> = fc
    .tuple(plain, fc.integer({ min: 1, max: 3 }), fc.array(size, { minLength: 1, maxLength: 3 }))
    .map(([signature, further, sizes]) => ({
      from: signature,
      to: { ...signature, times: signature.times + further },
      made: { kind: 'gatherings' as const, sizes },
      changes: [],
      printedAs: undefined,
    }));
  const collation: fc.Arbitrary<Collation> = fc.record({
    fold: fc.constantFrom(undefined, '8vo' as const, 'folio' as const, '12mo' as const),
    parts: fc.array(fc.oneof(single, range), { minLength: 1, maxLength: 8 }),
    signing: fc.constantFrom(undefined, '$4 signed'),
    alphabet: fc.constant(23 as const),
  });

  test(`a printed collation is read back the same, seed ${seed}`, () => {
    fc.assert(
      fc.property(collation, (made) => {
        expect(must(parseCollation(printCollation(made)))).toEqual(made);
      }),
      { seed, numRuns: 500 },
    );
  });

  test(`the leaves are the sizes and insertions less the losses, seed ${seed}`, () => {
    fc.assert(
      fc.property(collation, (made) => {
        let count = 0;
        for (const { from, to, made: how, changes } of made.parts) {
          const gatherings = from === to || from.times === to.times ? 1 : (to.times - from.times) * 23 + 1;
          if (how.kind === 'gatherings') {
            for (let place = 0; place < gatherings; place++) count += how.sizes[place % how.sizes.length] ?? 0;
          }
          for (const change of changes) {
            if (change.kind === 'removed') count -= 1;
            if (change.kind === 'replaced') count += 1;
            if (change.kind === 'inserted') count += change.what.kind === 'gathering' ? 4 : 2;
          }
        }
        expect(totalsOf(made).leaves).toBe(count);
        expect(listGatherings(made).flatMap((gathering) => gathering.leaves)).toHaveLength(count);
      }),
      { seed, numRuns: 300 },
    );
  });

  test(`the same book written on the line, raised and after carets is the same, seed ${seed}`, () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom('A', '2B', 'π', '3c'), size), { minLength: 1, maxLength: 5 }),
        (parts) => {
          const onLine = parts.map(([name, count]) => `${name}${count}`).join(' ');
          const caret = parts.map(([name, count]) => `${name}^${count}`).join(' ');
          expect(parseCollation(caret)).toEqual(parseCollation(onLine));
        },
      ),
      { seed },
    );
  });
});

describe('a copy', () => {
  const ideal = must(parseCollation('8°: π2 A-C8'));

  test('that is whole lacks nothing', () => {
    expect(compareCopy(ideal, must(parseCollation('π2 A8 B-C8')))).toEqual({ missing: [], extra: [] });
  });

  test('is told what it lacks and has besides, leaf by leaf', () => {
    expect(compareCopy(ideal, must(parseCollation('π1 A8(-A3.6) B8(B2+1) C8')))).toEqual({
      missing: ['π2', 'A3', 'A6'],
      extra: ['B2+1'],
    });
  });

  test('whose paging is short is told by how much', () => {
    const totals = totalsOf(ideal);
    expect(pagesDisagree(totals, { pages: 52, leaves: 26 })).toEqual([]);
    expect(pagesDisagree(totals, { pages: 48, leaves: 24 })[0]).toMatch(/4 less/);
    expect(pagesDisagree(totals, undefined)).toEqual([]);
  });
});
