import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { alternatives, compose } from '../../../core/treatment/compose.ts';
import { broughtLibrary, libraryWith, operations } from '../../../core/treatment/library.ts';
import type { Operation } from '../../../core/treatment/operation.ts';
import { checkOperation, newOperationId } from '../../../core/treatment/own-operation.ts';
import { propose } from '../../../core/treatment/propose.ts';
import { anyBook, anyFinding, book, found } from './books.ts';

const anyFindings = fc.array(anyFinding, { maxLength: 6 });
const hinge = [found('hinges', 'split', 2), found('joints', 'split', 3)];

function own(changes: Partial<Operation> & Pick<Operation, 'id' | 'name'>): Operation {
  return {
    version: 1,
    level: 'newcomer',
    minutes: { low: 5, likely: 8, high: 12 },
    grows: null,
    atMost: 1,
    wait: null,
    tools: [],
    attention: 'none',
    needs: [],
    cautions: [],
    source: 'own practice',
    requires: [],
    after: [],
    keeps: null,
    onCovering: false,
    invasive: false,
    ...changes,
  };
}

describe('a treatment put together by a person', () => {
  test('is the proposal itself where it is left as proposed', () => {
    const proposed = propose(book(), hinge, []);
    const ids = proposed.steps.map(({ operationId }) => operationId);
    const made = compose(book(), hinge, [], ids);
    expect(made.ok && made.value.steps.map((step) => [step.operationId, step.minutes, step.needs])).toEqual(
      proposed.steps.map((step) => [step.operationId, step.minutes, step.needs]),
    );
  });

  test('is refused, with the names, where a step stands before what must come first or without it', () => {
    expect(compose(book(), [], [], ['reline'])).toMatchObject({
      ok: false,
      refusal: {
        sentence: expect.stringMatching(/“Reline the back.*” cannot be done without “Remove old linings.*” before it/),
      },
    });
    expect(compose(book(), [], [], ['reline', 'take out of case', 'remove old linings'])).toMatchObject({
      ok: false,
      refusal: { sentence: expect.stringMatching(/“Remove old linings.*” must come before “Reline the back/) },
    });
    expect(compose(book(), [], [], ['press', 'press'])).toMatchObject({ ok: false });
    expect(compose(book(), [], [], ['wave a wand'])).toMatchObject({ ok: false });
  });

  test('is refused on a rare book where it cannot be taken back, and on a book bound in emerald green', () => {
    const rare = book({ scarcity: 'rare' });
    expect(compose(rare, hinge, [], ['rejoint'])).toMatchObject({
      ok: false,
      refusal: { sentence: expect.stringContaining('conservator') },
    });
    const green = [{ kind: 'arsenical green', state: 'confirmed', reason: '', decision: '' }] as const;
    expect(compose(book(), hinge, green, ['mend hinge'])).toMatchObject({ ok: false });
  });

  test('never holds a step before what it depends on, for random orders of random operations (seed 5)', () => {
    const ids = operations.map(({ id }) => id);
    fc.assert(
      fc.property(
        anyBook,
        anyFindings,
        fc.shuffledSubarray(ids, { minLength: 1, maxLength: 9 }),
        (one, findings, order) => {
          const made = compose(one, findings, [], order);
          if (!made.ok) return;
          const place = new Map(made.value.steps.map(({ operationId }, at) => [operationId, at]));
          expect([...place.keys()]).toEqual(order);
          for (const [id, at] of place) {
            const operation = broughtLibrary.byId(id);
            for (const before of operation?.after ?? []) expect(place.get(before) ?? -1).toBeLessThan(at);
            for (const choices of operation?.requires ?? []) {
              const there = choices.flatMap((choice) => place.get(choice) ?? []);
              if (there.length > 0) expect(Math.min(...there)).toBeLessThan(at);
            }
          }
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });
});

describe('the ways of treating a book', () => {
  test('begin with leaving it alone, go from less to more on a split joint, and end with a new case', () => {
    const ways = alternatives(book(), hinge, []);
    expect(ways.map(({ key }) => key)).toEqual(['leave', 'make safe', 'proposed', 'further', 'new case']);
    expect(ways[0]).toMatchObject({ proposal: { steps: [], minutes: { likely: 0 } }, answers: { answered: 0, of: 2 } });
    // A new case gives up the most, whatever its hours.
    const hours = ways.slice(0, 4).map(({ proposal }) => proposal.minutes.likely);
    expect(hours.toSorted((one, other) => one - other)).toEqual(hours);
    expect(ways.find(({ key }) => key === 'proposed')?.answers).toEqual({ answered: 2, of: 2 });
    expect(ways.find(({ key }) => key === 'new case')?.givesUp).toContain('the case comes off for good');
  });

  test('can each be agreed to as it stands, and none breaks a rare book (seed 6)', () => {
    fc.assert(
      fc.property(anyBook, anyFindings, (one, findings) => {
        for (const { proposal } of alternatives(one, findings, [])) {
          const ids = proposal.steps.map(({ operationId }) => operationId);
          if (ids.length > 0) expect(compose(one, findings, [], ids)).toMatchObject({ ok: true });
          if (one.scarcity !== 'rare') continue;
          expect(ids.filter((id) => broughtLibrary.byId(id)?.invasive)).toEqual([]);
        }
      }),
      { seed: 6, numRuns: 150 },
    );
  });
});

describe('an operation of the workshop’s own', () => {
  test('is called for by the findings it names, and stands where what it follows lets it', () => {
    const wax = own({
      id: 'wax the boards',
      name: 'Wax the boards',
      after: ['surface clean'],
      calledBy: [{ part: 'boards', damage: 'worn', from: 2, to: 3 }],
      keeps: 'the boards as they are',
    });
    const library = libraryWith([wax]);
    if (!library.ok) throw new Error(library.refusal.sentence);
    const dirty = [found('boards', 'dirty', 1), found('boards', 'worn', 2)];
    const steps = propose(book(), dirty, [], { library: library.value }).steps.map(({ operationId }) => operationId);
    expect(steps.indexOf('wax the boards')).toBeGreaterThan(steps.indexOf('surface clean'));
    expect(propose(book(), dirty, [], { library: library.value }).keeps).toContain('the boards as they are');
    const slight = propose(book(), [found('boards', 'worn', 1)], [], { library: library.value }).steps;
    expect(slight.map(({ operationId }) => operationId)).not.toContain('wax the boards');
  });

  test('stands in for one the program brings, with its own version and minutes', () => {
    const brought = broughtLibrary.byId('mend tears') as Operation;
    const library = libraryWith([{ ...brought, version: 7, grows: null, minutes: { low: 2, likely: 3, high: 4 } }]);
    if (!library.ok) throw new Error(library.refusal.sentence);
    const step = propose(book(), [found('leaves', 'torn', 1, 1)], [], { library: library.value }).steps[0];
    expect(step).toMatchObject({
      operationId: 'mend tears',
      operationVersion: 7,
      minutes: { low: 2, likely: 3, high: 4 },
    });
  });

  test('is refused in a circle, naming those in it', () => {
    const brought = broughtLibrary.byId('surface clean') as Operation;
    const circle = { ...brought, version: 2, after: ['press'] };
    const press = { ...(broughtLibrary.byId('press') as Operation), after: ['surface clean'] };
    const refused = libraryWith([circle, press]);
    expect(refused).toMatchObject({
      ok: false,
      refusal: { sentence: expect.stringMatching(/“Press”.*“Surface clean.*|“Surface clean.*“Press”/) },
    });
  });

  test('needs a caution beside a tool that can hurt, and times in order', () => {
    const check = (changes: Partial<Operation>) =>
      checkOperation(own({ id: 'x', name: 'X', ...changes }), broughtLibrary, []);
    expect(check({})).toMatchObject({ ok: true });
    expect(check({ tools: ['board shear'] })).toMatchObject({ ok: false, refusal: { field: 'cautions' } });
    const sentence = 'Guard and clamp stay on, nobody beside the blade.';
    expect(check({ tools: ['board shear'], cautions: [{ danger: 'board shear', sentence }] }).ok).toBe(true);
    expect(check({ tools: ['board shear'], cautions: [{ danger: 'dust', sentence }] }).ok).toBe(false);
    expect(check({ minutes: { low: 9, likely: 8, high: 12 } })).toMatchObject({ refusal: { field: 'minutes' } });
    expect(check({ after: ['nothing known'] })).toMatchObject({ refusal: { field: 'after' } });
    expect(check({ name: 'press' })).toMatchObject({ refusal: { field: 'name' } });
    expect(newOperationId('Oil  the Hinges', (id) => id === 'oil the hinges')).toBe('oil the hinges 2');
  });

  test('that the program brings would all pass the same check', () => {
    for (const operation of operations)
      expect(checkOperation(operation, broughtLibrary, []), operation.id).toMatchObject({ ok: true });
  });
});
