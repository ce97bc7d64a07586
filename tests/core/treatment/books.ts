import * as fc from 'fast-check';
import {
  type Book,
  bindings,
  completenesses,
  damages,
  type Finding,
  hazardKinds,
  hazardStates,
  parts,
  scarcities,
  uses,
} from '../../../core/book/book.ts';

/** An octavo in cloth of 1905, measured. */
export function book(changes: Partial<Book> = {}): Book {
  return {
    id: 'b1',
    shelfMark: null,
    title: 'A Walk by the Weir',
    author: '',
    imprint: '',
    dateText: '1905',
    yearFrom: 1905,
    yearTo: 1905,
    format: 'crown 8vo',
    heightMm: 196,
    widthMm: 132,
    thicknessMm: 34,
    pages: 320,
    pagesText: '320 p.',
    binding: 'cloth case',
    colour: 'red',
    pattern: null,
    lotId: null,
    placeId: null,
    fate: null,
    fateLocked: false,
    stage: 'surveyed',
    use: 'occasional reading',
    significance: 1,
    scarcity: 'common',
    completeness: 'complete',
    note: '',
    ...changes,
  };
}

export function found(
  part: Finding['part'],
  damage: Finding['damage'],
  severity: Finding['severity'],
  count: number | null = null,
): Finding {
  return { part, damage, severity, count, note: '' };
}

export const anyFinding = fc.record({
  part: fc.constantFrom(...parts),
  damage: fc.constantFrom(...damages),
  severity: fc.constantFrom(1 as const, 2 as const, 3 as const),
  count: fc.option(fc.integer({ min: -2, max: 6000 }), { nil: null }),
  note: fc.constant(''),
});

export const anyHazard = fc.record({
  kind: fc.constantFrom(...hazardKinds),
  state: fc.constantFrom(...hazardStates),
  reason: fc.constant(''),
  decision: fc.constant(''),
});

const size = (max: number) =>
  fc.option(fc.oneof(fc.double({ min: 1, max, noNaN: true }), fc.constantFrom(-5, 0, 0.01, Number.NaN, 1e9)), {
    nil: null,
  });

export const anyBook = fc
  .record({
    heightMm: size(700),
    widthMm: size(600),
    thicknessMm: size(200),
    pages: size(2000),
    format: fc.constantFrom('', '8vo', 'crown 8vo', 'oblong folio', 'nonsense', 'gr. in-8 raisin', '64mo'),
    yearFrom: fc.option(fc.integer({ min: 1450, max: 2000 }), { nil: null }),
    binding: fc.option(fc.constantFrom(...bindings), { nil: null }),
    colour: fc.constantFrom('', 'green', 'dark green', 'emerald green', 'yellow', 'red'),
    use: fc.constantFrom(...uses),
    significance: fc.constantFrom(0 as const, 1 as const, 2 as const, 3 as const),
    scarcity: fc.constantFrom(...scarcities),
    completeness: fc.constantFrom(...completenesses),
  })
  .map((some) => book({ ...some, yearTo: some.yearFrom }));
