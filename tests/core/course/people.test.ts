import { describe, expect, test } from 'vitest';
import { meals, needs } from '../../../core/course/guest.ts';
import { fillLetter, type LetterField, letterFields } from '../../../core/course/letter-text.ts';
import { courseMealsUsual, type Eater, mealLines, mealsOf } from '../../../core/course/meals.ts';
import { lackingCopies } from '../../../core/course/next-lot.ts';
import { inOrder, sittingsOn } from '../../../core/course/programme.ts';
import { levelFrom } from '../../../core/course/questionnaire.ts';
import { levelLines, operationLines } from '../../../core/course/report.ts';
import { placePeople, placingTrouble, type Room, type Sleeper } from '../../../core/course/residence.ts';
import { type Chance, chanceFrom } from '../../../core/schedule/random.ts';
import { dateOf, dayNumber } from '../../../core/stock/projection.ts';
import { loadSolver } from '../../../electron/engines/highs.ts';

const some = <Item>(items: readonly Item[], share: number, chance: Chance) => items.filter(() => chance() < share);

function inventedHouse(chance: Chance): Readonly<{ people: Sleeper[]; rooms: Room[] }> {
  const ids = Array.from({ length: 1 + Math.floor(chance() * 5) }, (_, index) => `p${index}`);
  const people = ids.map(
    (id): Sleeper => ({
      id,
      name: id,
      needs: some(needs, 0.2, chance),
      wish: chance() < 0.3 ? 'alone' : chance() < 0.5 ? 'share' : 'either',
      wishQuiet: chance() < 0.3,
      shareWith: some(ids, 0.2, chance).filter((other) => other !== id),
      notWith: some(ids, 0.15, chance).filter((other) => other !== id),
      kept: null,
    }),
  );
  const rooms = Array.from({ length: 1 + Math.floor(chance() * 3) }, (_, index) => ({
    id: `r${index}`,
    name: `r${index}`,
    beds: 1 + Math.floor(chance() * 3),
    stepFree: chance() < 0.6,
    ensuite: chance() < 0.6,
    quiet: chance() < 0.6,
  }));
  return { people, rooms };
}

/** Most people placed, of those ways the most needs looked after, and of those the most worth of wishes, by trying every room for everybody. */
function byForce(people: readonly Sleeper[], rooms: readonly Room[]): readonly [number, number, number] {
  let best: readonly [number, number, number] = [0, 0, 0];
  const walk = (index: number, placed: ReadonlyMap<string, string>) => {
    if (placingTrouble(people, rooms, placed).length > 0) return;
    if (index === people.length) {
      const value = [placed.size, needsOf(people, placed), worthOf(people, rooms, placed)] as const;
      const first = value.findIndex((each, at) => each !== best[at]);
      if (first >= 0 && (value[first] ?? 0) > (best[first] ?? 0)) best = value;
      return;
    }
    walk(index + 1, placed);
    for (const room of rooms) walk(index + 1, new Map([...placed, [people[index]?.id ?? '', room.id]]));
  };
  walk(0, new Map());
  return best;
}

function needsOf(people: readonly Sleeper[], placed: ReadonlyMap<string, string>): number {
  return people.reduce((sum, { id, needs: stated }) => sum + (placed.has(id) ? stated.length : 0), 0);
}

function worthOf(people: readonly Sleeper[], rooms: readonly Room[], placed: ReadonlyMap<string, string>): number {
  let worth = 0;
  for (const person of people) {
    const room = placed.get(person.id);
    if (room === undefined) continue;
    const beside = people.filter(({ id }) => id !== person.id && placed.get(id) === room);
    if (person.wishQuiet && rooms.find(({ id }) => id === room)?.quiet) worth += 1;
    if (person.wish === 'alone' && beside.length === 0) worth += 2;
    if (person.wish === 'share' && beside.length > 0) worth += 1;
    worth += 3 * beside.filter(({ id }) => person.shareWith.includes(id)).length;
  }
  return worth;
}

describe('beds', () => {
  test('are given to as many, by as many wishes, as trying every way finds, nobody against a need (25 houses, seeds 1 to 25)', async () => {
    const solve = await loadSolver();
    let short = 0;
    for (let seed = 1; seed <= 25; seed++) {
      const { people, rooms } = inventedHouse(chanceFrom(seed));
      const found = await placePeople(people, rooms, solve, 5);
      if (!found.ok) throw new Error(found.refusal.sentence);
      const placed = found.value.rooms;
      expect(placingTrouble(people, rooms, placed)).toEqual([]);
      expect([seed, placed.size, needsOf(people, placed), worthOf(people, rooms, placed)]).toEqual([
        seed,
        ...byForce(people, rooms),
      ]);
      expect(found.value.remarks.length > 0).toBe(placed.size < people.length);
      if (placed.size < people.length) short += 1;
    }
    expect(short).toBeGreaterThan(3);
  });

  test('kept by hand stay, and are refused where they stand against a need', async () => {
    const solve = await loadSolver();
    const one: Sleeper = {
      id: 'a',
      name: 'Ada',
      needs: [],
      wish: 'alone',
      wishQuiet: false,
      shareWith: [],
      notWith: [],
      kept: 'loft',
    };
    const rooms = [
      { id: 'loft', name: 'Loft', beds: 2, stepFree: false, ensuite: false, quiet: false },
      { id: 'hall', name: 'Hall', beds: 1, stepFree: true, ensuite: true, quiet: true },
    ];
    const kept = await placePeople([one, { ...one, id: 'b', name: 'Bo', kept: null }], rooms, solve, 5);
    expect(kept.ok && Object.fromEntries(kept.value.rooms)).toEqual({ a: 'loft', b: 'hall' });
    expect(await placePeople([{ ...one, needs: ['step-free'] }], rooms, solve, 5)).toMatchObject({
      ok: false,
      refusal: { sentence: 'A place kept by hand cannot stay: Loft is not step-free, which Ada needs.' },
    });
  });

  test('that cannot be had by all name a smallest set of people who stand in each other’s way', async () => {
    const solve = await loadSolver();
    const plain: Sleeper = {
      id: '',
      name: '',
      needs: [],
      wish: 'either',
      wishQuiet: false,
      shareWith: [],
      notWith: [],
      kept: null,
    };
    const people = [
      { ...plain, id: 'a', name: 'Ada', needs: ['step-free', 'own room'] as const },
      { ...plain, id: 'b', name: 'Bo', needs: ['step-free'] as const },
      { ...plain, id: 'c', name: 'Cy' },
    ];
    const rooms = [
      { id: 'h', name: 'Hall', beds: 2, stepFree: true, ensuite: false, quiet: false },
      { id: 'l', name: 'Loft', beds: 4, stepFree: false, ensuite: false, quiet: false },
    ];
    const found = await placePeople(people, rooms, solve, 5);
    expect(found.ok && found.value.remarks).toEqual([
      'Ada (step-free, a room of their own) and Bo (step-free) cannot all have a bed in these rooms without breaking what somebody needs; without any one of them the others of these could.',
    ]);
  });
});

describe('meals', () => {
  const invented = (chance: Chance): readonly Eater[] =>
    Array.from({ length: Math.floor(chance() * 12) }, (_, index) => {
      const from = dayNumber('2026-07-01') + Math.floor(chance() * 5);
      return {
        name: `p${index}`,
        diet: ['', 'Vegan', 'vegan ', 'no pork'][Math.floor(chance() * 4)] ?? '',
        foodAllergies: chance() < 0.4 ? ['walnuts'] : [],
        arrivesOn: dateOf(from),
        firstMeal: meals[Math.floor(chance() * 3)] ?? 'lunch',
        leavesOn: dateOf(from + Math.floor(chance() * 5)),
        lastMeal: meals[Math.floor(chance() * 3)] ?? 'lunch',
      };
    });

  test('add up: by diet to each meal, and over all meals to what each person takes (200 courses, seeds 1 to 200)', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const chance = chanceFrom(seed);
      const eaters = invented(chance);
      const served = courseMealsUsual.filter(() => chance() < 0.8);
      const lines = mealLines(eaters, served);
      for (const line of lines) expect(line.diets.reduce((sum, { people }) => sum + people, 0)).toBe(line.people);
      expect(lines.reduce((sum, { people }) => sum + people, 0)).toBe(
        eaters.reduce((sum, eater) => sum + mealsOf(eater, served), 0),
      );
      // Vegan, however it is written, is one diet.
      expect(lines.flatMap(({ diets }) => diets).every(({ diet }) => diet === diet.trim().toLowerCase())).toBe(true);
    }
  });

  test('never leave out what somebody who is there must not eat (200 courses, seeds 1 to 200)', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const eaters = invented(chanceFrom(seed));
      const lines = mealLines(eaters, courseMealsUsual);
      for (const eater of eaters.filter(({ foodAllergies }) => foodAllergies.length > 0)) {
        const told = lines.filter(({ without }) =>
          without.some(({ name, foods }) => name === eater.name && foods.includes('walnuts')),
        );
        expect(told).toHaveLength(mealsOf(eater, courseMealsUsual));
      }
    }
  });
});

describe('a letter', () => {
  const values = Object.fromEntries(Object.keys(letterFields).map((field) => [field, `<${field}>`])) as Record<
    LetterField,
    string
  >;

  test.each([
    ['Dear {name},', 'Dear <name>,'],
    ['{ Name }{starts}', '<name><starts>'],
    ['a {{brace} and } another', 'a {brace} and } another'],
    ['', ''],
  ])('%j is filled in as %j', (text, filled) => {
    expect(fillLetter(text, values)).toEqual({ ok: true, value: filled });
  });

  test('does not read again what was filled in', () => {
    expect(fillLetter('{name}', { ...values, name: '{fee} \\ $& <b>' })).toEqual({
      ok: true,
      value: '{fee} \\ $& <b>',
    });
  });

  test.each([
    ['one\ntwo {nmae}', 'There is no field {nmae}, named on line 2, at letter 5.'],
    ['{constructor}', 'There is no field {constructor}, named on line 1, at letter 1.'],
    ['Dear {name', 'A brace is opened on line 1, at letter 6 and not closed.'],
    ['{na\nme}', 'A brace is opened on line 1, at letter 1 and not closed.'],
  ])('%j is refused with the place', (text, start) => {
    const filled = fillLetter(text, values);
    expect(filled.ok ? '' : filled.refusal.sentence.slice(0, start.length)).toBe(start);
  });
});

test('a level follows from what was done before, by the rule shown', () => {
  expect(levelFrom({}, 0).level).toBe('newcomer');
  const three = { recase: 'with help', 'new endpapers': 'alone', 'make case': 'alone' } as const;
  expect(levelFrom(three, 2).level).toBe('newcomer');
  expect(levelFrom(three, 3).level).toBe('improver');
  expect(levelFrom({ resew: 'alone', 'reback in leather': 'with help' }, 99).level).toBe('newcomer');
  expect(levelFrom({ resew: 'alone', 'reback in leather': 'alone' }, 30).level).toBe('journeyman');
  expect(levelFrom({ 'no such thing': 'alone' }, 99).because).toBe(
    '0 of the hardest done alone, 0 beyond the first ones, 99 books mended.',
  );
});

test('talks are cut out of a day’s sittings, and never a minute of another day', () => {
  const day = [
    [540, 750],
    [810, 1020],
  ] as const;
  const talk = (from: number, minutes: number, onDay = 2) =>
    ({ kind: 'talk', title: '', day: onDay, fromMinute: from, minutes }) as const;
  expect(sittingsOn(2, day, [talk(600, 30)])).toEqual([
    [540, 600],
    [630, 750],
    [810, 1020],
  ]);
  expect(sittingsOn(2, day, [talk(700, 200), talk(540, 60)])).toEqual([
    [600, 700],
    [900, 1020],
  ]);
  expect(sittingsOn(1, day, [talk(600, 30)])).toEqual(day);
  expect(sittingsOn(2, day, [talk(0, 1440)])).toEqual([]);
});

test('what comes before is taught before, and a circle has no order', () => {
  const item = (operationId: string, ...after: string[]) => ({ operationId, after });
  expect(inOrder([item('c', 'b'), item('a'), item('b', 'a', 'elsewhere')])).toEqual(['a', 'b', 'c']);
  expect(inOrder([item('a', 'b'), item('b', 'a')])).toBeNull();
});

test('an operation with fewer copies than people is looked for in the next lot, by the damage that calls for it', () => {
  const lacking = lackingCopies(
    [
      { operationId: 'tighten hinges', required: true, copies: 2 },
      { operationId: 'tip in', required: false, copies: 1 },
    ],
    6,
  );
  expect(lacking).toMatchObject([{ operationId: 'tighten hinges', wanted: 6, copies: 2 }]);
  expect(lacking[0]?.lookFor).toMatch(/cloth case: (joints|hinges) (loose|failed adhesive) \(slight\)/);
});

test('minutes taken stand beside minutes planned, and the middle of all jobs is a level’s pace', () => {
  const sitting = (minutes: number, benchMinutes: number) =>
    ({ operationId: 'recase', level: 'newcomer', minutes, benchMinutes }) as const;
  const sittings = [sitting(30, 10), sitting(20, 10), sitting(90, 0), sitting(40, 40)];
  expect(operationLines(sittings)).toEqual([{ operationId: 'recase', times: 4, planned: 20 + 20 + 80, actual: 180 }]);
  expect(levelLines(sittings)).toEqual([{ level: 'newcomer', times: 3, planned: 120, actual: 90, pace: 2 }]);
});
