import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { damages, parts, type Severity } from '../../../core/book/book.ts';
import { findingInWords, readFinding } from '../../../core/book/finding-words.ts';

function read(text: string) {
  const found = readFinding(text);
  return found.ok ? found.value : found.refusal.sentence;
}

describe('a finding written short', () => {
  test.each([
    ['joints split 2 x2: front, from the head', 'joints split, marked, 2: front, from the head'],
    ['joint split', 'joints split, marked'],
    ['split joint 3', 'joints split, severe'],
    ['spi miss 3', 'spine missing, severe'],
    ['te bl detached', 'text block detached, marked'],
    ['leaves torn x14 1', 'leaves torn, slight, 14'],
    ['plates foxed slight', 'plates foxed, slight'],
    ['spine lining failed 3', 'spine lining failed adhesive, severe'],
    ['cov red rot', 'covering red rot, marked'],
    ['text mould severe: lower edge: still damp', 'text block mould, severe: lower edge: still damp'],
    ['corners worn 4x', 'corners worn, marked, 4'],
  ])('%s is %s', (short, words) => {
    const found = readFinding(short);
    expect(found.ok ? findingInWords(found.value) : found.refusal.sentence).toBe(words);
  });

  test('that could be several things is refused with what they are', () => {
    expect(read('co worn')).toBe('“co” could be corners or covering.');
    expect(read('joints fa')).toBe('“fa” could be faded or failed adhesive.');
  });

  test('without its damage asks for it', () => {
    expect(read('joints')).toBe('What is wrong with the joints?');
    expect(read('')).toBe('Write a part and its damage, such as “joints split 2”.');
    expect(read('windows broken')).toContain('is not a part and a damage known here');
  });

  test('is read back from its own words, for every part, damage, grade and count', () => {
    const finding = fc.record({
      part: fc.constantFrom(...parts),
      damage: fc.constantFrom(...damages),
      severity: fc.constantFrom<Severity>(1, 2, 3),
      count: fc.option(fc.integer({ min: 1, max: 9999 })),
      note: fc.constantFrom('', 'front', 'see p. 12'),
    });
    fc.assert(
      fc.property(finding, (one) => {
        const count = one.count === null ? '' : ` x${one.count}`;
        expect(read(`${one.part} ${one.damage} ${one.severity}${count}: ${one.note}`)).toEqual(one);
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
