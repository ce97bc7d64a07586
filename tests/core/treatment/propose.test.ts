import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Book, Finding } from '../../../core/book/book.ts';
import { operationById, operations } from '../../../core/treatment/library.ts';
import { propose } from '../../../core/treatment/propose.ts';
import type { Proposal, Step } from '../../../core/treatment/treatment.ts';
import { anyBook, anyFinding, anyHazard, book, found } from './books.ts';

function ids(proposal: Proposal): readonly string[] {
  return proposal.steps.map((step) => step.operationId);
}

function idsFor(findings: readonly Finding[], changes: Partial<Book> = {}): readonly string[] {
  return ids(propose(book(changes), findings, []));
}

function step(proposal: Proposal, id: string): Step {
  const one = proposal.steps.find((each) => each.operationId === id);
  if (one === undefined) throw new Error(`no ${id} in ${ids(proposal).join(', ')}`);
  return one;
}

describe('a proposal follows the published repairs', () => {
  test.each<[string, readonly Finding[], Partial<Book>, readonly string[]]>([
    [
      'a sewn block out of a good case is recased: free, poultice and scrape, new endsheets, line, case in (Indiana University Libraries)',
      [found('text block', 'detached', 3)],
      {},
      ['take out of case', 'remove old linings', 'new endpapers', 'reline', 'recase'],
    ],
    [
      'attachment broken at both hinges, case good: recase (Indiana University Libraries)',
      [found('hinges', 'detached', 3)],
      {},
      ['take out of case', 'remove old linings', 'new endpapers', 'reline', 'recase'],
    ],
    [
      'a worn-out case with a sound sewn block gets a new one: as recasing, then boards, cloth, casing in (Indiana University Libraries)',
      [found('covering', 'missing', 3), found('hinges', 'split', 3)],
      {},
      ['take out of case', 'remove old linings', 'new endpapers', 'reline', 'make case', 'recase'],
    ],
    [
      'a torn spine is lifted, the new cloth goes under, the old spine is pasted down on it (Indiana University Libraries, inside method)',
      [found('spine', 'torn', 3)],
      {},
      ['lift spine cloth', 'reback in cloth', 'lay down spine'],
    ],
    [
      'with the old spine gone the new one goes on and gets a label, and nothing is laid down (Indiana University Libraries, inside method)',
      [found('spine', 'missing', 3)],
      {},
      ['reback in cloth', 'new label'],
    ],
    [
      'cloth too brittle to lift stays on its board and the new cloth goes over it (Indiana University Libraries, outside method)',
      [found('spine', 'brittle', 3)],
      {},
      ['lift spine cloth', 'reback over cloth', 'lay down spine'],
    ],
    [
      'a leather spine is lifted, the back cleaned, lined and given a hollow before the new leather (Zaehnsdorf 1890: one on, two off)',
      [found('spine', 'torn', 3)],
      { binding: 'half leather' },
      ['lift spine leather', 'remove old linings', 'reline', 'hollow', 'reback in leather', 'lay down spine'],
    ],
    [
      'loose hinges are tightened, level 1 (University of Arkansas Libraries)',
      [found('hinges', 'loose', 1)],
      {},
      ['tighten hinges'],
    ],
    [
      'ten loose leaves are tipped in (Collections Care Section, General Manual, 2015)',
      [found('leaves', 'loose', 2, 10)],
      {},
      ['tip in'],
    ],
    [
      'a torn leaf is mended and then tipped in, in this order (Collections Care Section, General Manual, 2015)',
      [found('leaves', 'loose', 1, 1), found('leaves', 'torn', 1, 1)],
      {},
      ['mend tears', 'tip in'],
    ],
    [
      'endpapers past mending are replaced, level 2 (University of Arkansas Libraries)',
      [found('endpapers', 'torn', 3)],
      {},
      ['new endpapers'],
    ],
    [
      'broken sewing: sew, then round and back, headband, super, case in (order of Vaughn 1914 and Adam 1903)',
      [found('sewing', 'broken', 3), found('headbands', 'missing', 2)],
      {},
      [
        'take out of case',
        'remove old linings',
        'take down',
        'guard sections',
        'resew',
        'new endpapers',
        'round and back',
        'headbands',
        'reline',
        'recase',
      ],
    ],
    [
      'mould is dried apart before it is cleaned off (CCAHA, Managing a Mold Infestation)',
      [found('leaves', 'mould', 2)],
      {},
      ['isolate for mould', 'clean off mould'],
    ],
    [
      'powdering leather is consolidated and goes into a jacket (bookarts list, June 1999)',
      [found('covering', 'red rot', 2)],
      { binding: 'full leather' },
      ['consolidate red rot', 'polyester jacket'],
    ],
    [
      'boards off a leather book go back on (common practice, no source)',
      [found('boards', 'detached', 2)],
      { binding: 'half leather' },
      ['board reattachment', 'tissue joint'],
    ],
  ])('%s', (_title, findings, changes, expected) => {
    const bench = idsFor(findings, changes).filter((id) => !['tone', 'final clean'].includes(id));
    expect(bench).toEqual(expected);
  });

  test('eleven loose leaves are not tipped in: at most ten in one place (Collections Care Section, General Manual, 2015)', () => {
    const steps = idsFor([found('leaves', 'loose', 2, 11)]);
    expect(steps).not.toContain('tip in');
    expect(steps).toContain('resew');
  });

  test('nothing is tipped into brittle paper: check that the block is not brittle (Collections Care Section, General Manual, 2015)', () => {
    const proposal = propose(book(), [found('leaves', 'loose', 1, 1), found('text block', 'brittle', 2)], []);
    expect(ids(proposal)).toEqual(['phase box']);
    expect(proposal.remarks.join(' ')).toMatch(/brittle/i);
  });

  test.each([
    ['tighten hinges', 1, 14],
    ['tip in', 1, 15],
    ['mend tears', 1, 15],
    ['reback in cloth', 15, 120],
    ['reback over cloth', 15, 120],
    ['new endpapers', 15, 120],
    ['recase', 15, 120],
    ['make case', 15, 120],
  ])(
    '%s takes the published band of minutes, %i to %i (University of Arkansas Libraries, ARL levels 1 and 2; CCS 2015)',
    (id, from, to) => {
      const minutes = operationById(id)?.minutes;
      expect(minutes?.low).toBeGreaterThanOrEqual(from);
      expect(minutes?.high).toBeLessThanOrEqual(to);
    },
  );

  test.each(['resew', 'clean leaves'])(
    '%s of a whole book is level 3, two hours and more (University of Arkansas Libraries)',
    (id) => {
      expect(operationById(id)?.minutes.low).toBeGreaterThanOrEqual(120);
    },
  );

  test('a tipped leaf is three hours under weight (Leather for Libraries 1905)', () => {
    expect(step(propose(book(), [found('leaves', 'loose', 1)], []), 'tip in').wait).toMatchObject({
      minutes: 180,
      held: 'weights',
    });
  });

  test('a poultice of 10 to 20 minutes stands on the back before it is scraped (Indiana University Libraries)', () => {
    expect(operationById('remove old linings')?.wait?.minutes).toBe(20);
  });
});

describe('a proposal does the least that will do', () => {
  test('a recased book has no hinge tightened first', () => {
    expect(idsFor([found('hinges', 'loose', 1), found('text block', 'detached', 3)])).not.toContain('tighten hinges');
  });

  test('headbands alone do not open a back', () => {
    const proposal = propose(book(), [found('headbands', 'missing', 3)], []);
    expect(ids(proposal)).toEqual([]);
    expect(proposal.remarks.join(' ')).toMatch(/headbands are left/i);
  });

  test('foxing is left to a conservator, and said', () => {
    const proposal = propose(book(), [found('leaves', 'foxed', 3)], []);
    expect(proposal.steps).toEqual([]);
    expect(proposal.minutes).toEqual({ low: 0, likely: 0, high: 0 });
    expect(proposal.remarks.join(' ')).toMatch(/foxing/i);
  });

  test('a slightly split joint of a book read daily gets cloth where tissue would do for another', () => {
    const split = [found('joints', 'split', 1)];
    expect(idsFor(split)).toContain('tissue joint');
    expect(ids(propose(book(), split, [], { use: 'daily reading' }))).toContain('rejoint');
  });

  test('a book for display is boxed, not resewn', () => {
    expect(idsFor([found('sewing', 'broken', 3)], { use: 'display' })).toEqual(['phase box']);
  });

  test('more corners and larger books take longer', () => {
    const one = propose(book(), [found('corners', 'broken', 3, 1)], []).minutes.likely;
    expect(propose(book(), [found('corners', 'broken', 3, 4)], []).minutes.likely).toBeGreaterThan(one);
    const folio = book({ heightMm: 380, widthMm: 250, thicknessMm: 60, pages: 800 });
    const sewing = [found('sewing', 'broken', 3)];
    expect(propose(folio, sewing, []).minutes.likely).toBeGreaterThan(propose(book(), sewing, []).minutes.likely);
  });
});

describe('a proposal keeps people and rare books from harm', () => {
  test('a rare book is boxed and a conservator is asked', () => {
    const proposal = propose(book({ scarcity: 'rare' }), [found('sewing', 'broken', 3)], []);
    expect(ids(proposal)).toEqual(['phase box']);
    expect(proposal.remarks.join(' ')).toMatch(/accredited conservator/);
  });

  test('a book of outstanding significance says to ask first', () => {
    expect(propose(book({ significance: 3 }), [found('hinges', 'loose', 1)], []).remarks.join(' ')).toMatch(
      /accredited conservator/,
    );
  });

  test('a confirmed arsenical green book is only bagged and labelled', () => {
    const hazard = { kind: 'arsenical green', state: 'confirmed', reason: '', decision: 'seen' } as const;
    expect(ids(propose(book(), [found('spine', 'torn', 3)], [hazard]))).toEqual(['bag and label']);
  });

  test('a suspected pigment puts gloves and a caution beside every step that handles the covering', () => {
    const hazard = { kind: 'lead or chromium pigment', state: 'raised', reason: '', decision: '' } as const;
    const proposal = propose(book(), [found('spine', 'torn', 3), found('leaves', 'torn', 1)], [hazard]);
    for (const one of proposal.steps) {
      const warned = one.cautions.some((caution) => caution.danger === 'pigment');
      expect(warned).toBe(operationById(one.operationId)?.onCovering);
      expect(one.needs.some((need) => need.kind === 'nitrile gloves')).toBe(warned);
    }
    expect(proposal.remarks.join(' ')).toMatch(/nothing is begun/);
  });

  test.each(['raised', 'confirmed'] as const)(
    'under a %s pigment nothing is cleaned dry and no caution speaks of a brush but to forbid it',
    (state) => {
      const hazard = { kind: 'lead or chromium pigment', state, reason: '', decision: '' } as const;
      const findings = [found('boards', 'dirty', 2), found('covering', 'torn', 2), found('spine', 'torn', 3)];
      expect(ids(propose(book(), findings, []))).toContain('surface clean');
      const proposal = propose(book(), findings, [hazard]);
      expect(ids(proposal)).not.toContain('surface clean');
      expect(ids(proposal)).not.toContain('final clean');
      for (const { sentence } of proposal.steps.flatMap((one) => one.cautions)) {
        expect(sentence).not.toMatch(/with a soft brush/);
      }
      expect(proposal.remarks.join(' ')).toMatch(/not cleaned dry/);
      expect(ids(propose(book(), [found('boards', 'dirty', 1)], [hazard]))).toEqual(['bag and label']);
      expect(ids(propose(book(), findings, [{ ...hazard, state: 'cleared' }]))).toContain('surface clean');
    },
  );

  test('solvent steps stand under the hood with their caution', () => {
    const proposal = propose(book({ binding: 'full leather' }), [found('covering', 'red rot', 1)], []);
    const consolidated = step(proposal, 'consolidate red rot');
    expect(consolidated.tools).toContain('extraction hood');
    expect(consolidated.cautions.map((caution) => caution.danger)).toContain('solvent');
  });

  test('a rotten leather spine is not lifted', () => {
    const steps = idsFor([found('spine', 'torn', 3), found('covering', 'red rot', 3)], { binding: 'full leather' });
    expect(steps).not.toContain('lift spine leather');
    expect(steps).toContain('phase box');
  });
});

describe('what was not measured', () => {
  test('is taken from the usual size of the format, and said', () => {
    const proposal = propose(
      book({ heightMm: null, widthMm: null, thicknessMm: null }),
      [found('spine', 'torn', 3)],
      [],
    );
    expect(proposal.remarks.join(' ')).toMatch(/usual size of a crown 8vo is taken, 191 × 127 mm/);
    expect(proposal.remarks.join(' ')).toMatch(/taken from 320 pages/);
  });

  test('is a typical octavo where not even the format is known', () => {
    const nothing = book({ heightMm: null, widthMm: null, thicknessMm: null, pages: null, format: '', binding: null });
    const remarks = propose(nothing, [found('hinges', 'loose', 1)], []).remarks.join(' ');
    expect(remarks).toMatch(/typical octavo is taken, 195 × 130 mm/);
    expect(remarks).toMatch(/a cloth case is taken/);
  });
});

describe('for any book and any findings (1,000 random surveys)', () => {
  const survey = fc.tuple(anyBook, fc.array(anyFinding, { maxLength: 9 }), fc.array(anyHazard, { maxLength: 3 }));
  const settings = { seed: 20261125, numRuns: 1000 };

  test('no step comes before one it depends on, and none lacks the one it needs', () => {
    fc.assert(
      fc.property(survey, ([any, findings, hazards]) => {
        const order = ids(propose(any, findings, hazards));
        expect(new Set(order).size).toBe(order.length);
        const spineGone = findings.some((finding) => finding.part === 'spine' && finding.damage === 'missing');
        for (const [place, id] of order.entries()) {
          const operation = operationById(id);
          if (operation === undefined) throw new Error(`unknown operation ${id}`);
          const earlier = new Set(order.slice(0, place));
          for (const before of operation.after) if (order.includes(before)) expect(earlier).toContain(before);
          for (const choices of operation.requires) {
            const opensCover = choices.length > 1 && choices.includes('take out of case');
            if (opensCover && (any.binding === 'unbound' || spineGone)) continue;
            expect(choices.some((choice) => earlier.has(choice))).toBe(true);
          }
        }
      }),
      settings,
    );
  });

  test('totals are those of the steps, nothing is negative or not a number, and every step says why', () => {
    fc.assert(
      fc.property(survey, ([any, findings, hazards]) => {
        const proposal = propose(any, findings, hazards);
        expect(JSON.stringify(proposal)).not.toMatch(/NaN|Infinity|null(?!,"working"|}|,"tools")|undefined/);
        const { minutes } = proposal;
        expect(minutes.low).toBeLessThanOrEqual(minutes.likely);
        expect(minutes.likely).toBeLessThanOrEqual(minutes.high);
        const sums = { low: 0, high: 0, wait: 0 };
        const used = new Map<string, number>();
        for (const each of proposal.steps) {
          expect(each.why.length).toBeGreaterThan(3);
          expect(each.minutes.low).toBeGreaterThan(0);
          expect(each.minutes.low).toBeLessThanOrEqual(each.minutes.likely);
          expect(each.minutes.likely).toBeLessThanOrEqual(each.minutes.high);
          sums.low += each.minutes.low;
          sums.high += each.minutes.high;
          sums.wait += each.wait?.minutes ?? 0;
          for (const need of each.needs) {
            expect(need.quantity).toBeGreaterThan(0);
            used.set(need.kind, (used.get(need.kind) ?? 0) + need.quantity);
            if (need.cut)
              expect(need.quantity).toBeCloseTo((need.cut.heightMm * need.cut.widthMm * need.cut.count) / 1e6, 4);
          }
        }
        expect(minutes.low).toBeGreaterThanOrEqual(sums.low - 1);
        expect(minutes.high).toBeLessThanOrEqual(sums.high + 1);
        expect(proposal.waitMinutes).toBe(sums.wait);
        expect(proposal.needs.length).toBe(used.size);
        for (const need of proposal.needs) expect(need.quantity).toBeCloseTo(used.get(need.kind) ?? -1, 3);
      }),
      settings,
    );
  });

  test('every operation of the library is proposed for some survey', () => {
    const proposed = new Set<string>();
    fc.assert(
      fc.property(survey, ([any, findings, hazards]) => {
        for (const id of ids(propose(any, findings, hazards))) proposed.add(id);
      }),
      { ...settings, numRuns: 2500 },
    );
    expect(operations.map((operation) => operation.id).filter((id) => !proposed.has(id))).toEqual([]);
  });

  test('the same survey gives the same proposal', () => {
    fc.assert(
      fc.property(survey, ([any, findings, hazards]) => {
        expect(propose(any, findings, hazards)).toEqual(propose(any, findings, hazards));
      }),
      { ...settings, numRuns: 200 },
    );
  });
});
