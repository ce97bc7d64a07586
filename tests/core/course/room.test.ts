import { expect, test } from 'vitest';
import type { Learner, PracticeCopy } from '../../../core/course/eligible.ts';
import { underworked } from '../../../core/course/room.ts';

const person = (id: string, minutes: number, allergies: readonly string[] = []): Learner => ({
  id,
  name: id,
  level: 'journeyman',
  minutes,
  wishes: [],
  allergies,
  excused: [],
});
const copy = (id: string, minutes: number, rest: Partial<PracticeCopy> = {}): PracticeCopy => ({
  id,
  title: id,
  level: 'journeyman',
  minutes,
  teaches: [],
  touches: [],
  blocked: null,
  ...rest,
});

test('who has less than three fifths of their hours has too little, with the free copies that fit into the rest', () => {
  const own: Readonly<Record<string, readonly PracticeCopy[]>> = {
    Ada: [copy('a', 599)],
    Ben: [copy('b', 600)],
    Cy: [],
  };
  const free = [copy('x', 300), copy('y', 101), copy('z', 100), copy('paste', 50, { touches: ['wheat starch'] })];
  const people = [person('Ada', 1000, ['wheat starch']), person('Ben', 1000), person('Cy', 1000)];
  const found = underworked(people, ({ id }) => own[id] ?? [], free);
  // Ada has 401 minutes left and must not touch paste: 100 and 101 fit, 300 on top does not.
  expect(found.map(({ learner, minutes, has, fitting }) => [learner.id, minutes, has, fitting])).toEqual([
    ['Ada', 599, 1, 2],
    ['Cy', 0, 0, 4],
  ]);
});

test('a copy that may not be handed out or is two levels above is room for nobody', () => {
  const newcomer: Learner = { ...person('Ada', 1000), level: 'newcomer' };
  const free = [copy('mouldy', 10, { level: 'newcomer', blocked: 'Mould.' }), copy('hard', 10)];
  expect(underworked([newcomer], () => [], free)).toMatchObject([{ has: 0, fitting: 0 }]);
});
