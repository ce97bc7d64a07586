import { describe, expect, test } from 'vitest';
import { readCondition } from '../../../core/book/condition.ts';

/** `part damage severity count`, a finding each. */
function read(text: string): string[] {
  return readCondition(text).findings.map(({ part, damage, severity, count }) =>
    [part, damage, severity, count ?? ''].join(' ').trim(),
  );
}

describe('a condition in words', () => {
  test.each<[string, string[]]>([
    ['joints split, spine missing; foxed', ['joints split 2', 'spine missing 3', 'leaves foxed 2']],
    ['Boards rubbed, soiled and badly stained.', ['boards worn 2', 'boards dirty 2', 'boards stained 3']],
    ['split joints and missing spine', ['joints split 2', 'spine missing 3']],
    ['spine, corners and joints rubbed', ['spine worn 2', 'corners worn 2', 'joints worn 2']],
    ['spine ends frayed', ['spine frayed 1']],
    ['no spine; covers detached', ['spine missing 3', 'boards detached 3']],
    ['slightly shaken, 3 leaves torn', ['text block loose 1', 'leaves torn 2 3']],
    ['lacks 2 plates', ['plates missing 3 2']],
    ['front and rear joints cracked', ['joints split 2 2']],
    ['front board detached; rear board detached', ['boards detached 3 2']],
    ['3 cm of spine missing', ['spine missing 3']],
    ['red rotted calf; label gone', ['covering red rot 2', 'label missing 3']],
    ['several sections missing', ['leaves missing 3']],
    ['a section loose', ['sewing loose 2']],
    ['pp. 12-14 torn. Hinges weak', ['leaves torn 2', 'hinges loose 2']],
    ['spine faded badly', ['spine faded 3']],
    ['rear joint starting', ['joints split 1 1']],
    ['back board off', ['boards detached 3 1']],
    ['JOINTS SPLIT', ['joints split 2']],
  ])('“%s” is read as %j', (text, findings) => {
    expect(read(text)).toEqual(findings);
  });

  test.each(['not foxed', 'no foxing', 'without tears', 'sound', 'free from stains'])(
    '“%s” is no damage, and its words are kept',
    (text) => {
      expect(readCondition(text)).toEqual({ findings: [], rest: text });
    },
  );

  test('keeps what it does not understand beside what it does', () => {
    expect(readCondition('spine missing; smells of the sea, bookplate')).toEqual({
      findings: [{ part: 'spine', damage: 'missing', severity: 3, count: null, note: 'spine missing' }],
      rest: 'smells of the sea; bookplate',
    });
  });

  test('never loses a clause: each stands in a note or in the rest', () => {
    const clauses = ['joints split', 'smells', 'spine and corners', 'foxed', 'not stained', 'tight', 'two plates torn'];
    const { findings, rest } = readCondition(clauses.join('; '));
    const kept = [...findings.map(({ note }) => note), rest].join(' | ');
    for (const clause of clauses) expect(kept).toContain(clause);
  });

  test('of a hundred thousand characters is answered, and the tail kept in words', () => {
    const long = 'spine torn; '.repeat(9000);
    const { findings, rest } = readCondition(long);
    expect(findings).toHaveLength(1);
    expect(rest.length).toBeGreaterThan(90_000);
  });
});
