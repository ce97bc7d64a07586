import { expect, test } from 'vitest';
import { doingAt, teacherName, teachersIn } from '../../../core/course/moment.ts';

const task = (id: string, kind: string, startAt: number, endAt: number, more: object = {}) => ({
  id,
  kind,
  personId: 'ada' as string | null,
  startAt,
  endAt,
  heldUntil: null as number | null,
  tools: [] as readonly string[],
  ...more,
});

const tasks = [
  task('show', 'demonstration', 0, 20, { personId: null, tools: ['tutor 1'] }),
  task('clean', 'hands', 20, 60, { tools: ['tutor 1', 'bench'] }),
  task('press', 'pressing', 60, 90, { heldUntil: 200, tools: ['press'] }),
  task('sew', 'hands', 80, 220, { tools: ['helper 1'] }),
  task('mend', 'hands', 20, 50, { personId: 'ben', tools: ['tutor 1'] }),
];
const hours = [
  { from: 0, to: 100 },
  { from: 200, to: 300 },
];
const at = (moment: number) =>
  doingAt(tasks, hours, ['ada', 'ben', 'tutor 1', 'press'], moment, (id) => id === 'ada' || id === 'ben').map(
    ({ who, now, waiting, next }) => [who, now.map(({ id }) => id), waiting.map(({ id }) => id), next?.id ?? null],
  );

test('at any moment each person, tutor and press is at what the week has for them, and hands rest outside of hours', () => {
  expect(at(10).slice(0, 3)).toEqual([
    ['ada', ['show'], [], 'clean'],
    ['ben', ['show'], [], 'mend'],
    ['tutor 1', ['show'], [], 'clean'],
  ]);
  expect(at(30)).toEqual([
    ['ada', ['clean'], [], 'sew'],
    ['ben', ['mend'], [], null],
    ['tutor 1', ['clean', 'mend'], [], null],
    ['press', [], [], null],
  ]);
  expect(at(60)[0]).toEqual(['ada', [], ['press'], 'sew']);
  // A long step pauses at night, and the press holds its book until somebody is there.
  expect(at(150)).toEqual([
    ['ada', [], ['press'], null],
    ['ben', [], [], null],
    ['tutor 1', [], [], null],
    ['press', [], ['press'], null],
  ]);
  expect(at(210)[0]).toEqual(['ada', ['sew'], [], null]);
  expect(at(220)[0]).toEqual(['ada', [], [], null]);
});

test('tutors come before helpers, by number, and one alone has none', () => {
  const many = [task('a', 'hands', 0, 1, { tools: ['helper 1', 'tutor 10', 'tutor 2', 'press 1'] })];
  const found = teachersIn(many);
  expect(found).toEqual(['tutor 2', 'tutor 10', 'helper 1']);
  expect(found.map((id) => teacherName(id, found))).toEqual(['Tutor 2', 'Tutor 10', 'Helper']);
});
