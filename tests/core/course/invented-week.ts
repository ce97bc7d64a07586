/** An invented course week of any size: people of all levels, copies with real operations, presses and teachers. */
import { levels } from '../../../core/book/book.ts';
import type { CourseFrame, CourseWork, Demonstration } from '../../../core/course/timetable.ts';
import type { BenchTool } from '../../../core/schedule/bench-week.ts';
import type { Chance } from '../../../core/schedule/random.ts';
import { operations } from '../../../core/treatment/library.ts';
import { measuresOf } from '../../../core/treatment/measures.ts';
import { stepOf } from '../../../core/treatment/operation.ts';
import { toolKinds } from '../../../core/treatment/treatment.ts';
import { book } from '../treatment/books.ts';

export type WeekSize = Readonly<{
  people: number;
  days: number;
  copies: number;
  presses: number;
  tutors: number;
  helpers: number;
}>;

const day = 1440;
/** Common operations of a first course, in the order in which they are done on a book. */
const taught = [
  'surface clean',
  'mend tears',
  'guard sections',
  'tip in',
  'tighten hinges',
  'corner repair',
  'recase',
  'reline',
];

export function inventedWeek(size: WeekSize, chance: Chance) {
  const pick = <Item>(from: readonly Item[]): Item => from[Math.floor(chance() * from.length)] as Item;
  const sittings = Array.from({ length: size.days + 14 }, (_, index) => index * day).flatMap((midnight) => [
    { from: midnight + 540, to: midnight + 750 },
    { from: midnight + 810, to: midnight + 1050 },
  ]);
  const frame: CourseFrame = {
    teaching: sittings,
    days: Array.from({ length: size.days }, (_, index) => index * day + 540),
    end: (size.days - 1) * day + 1050,
    now: 0,
    tutors: size.tutors,
    helpers: size.helpers,
    benches: size.people,
  };
  const people = Array.from({ length: size.people }, (_, index) => ({
    id: `p${index}`,
    name: `Person ${index + 1}`,
    level: pick(levels),
  }));
  const known = operations.filter(({ id }) => taught.includes(id));
  const works = people.flatMap(({ id, name, level }): CourseWork[] =>
    Array.from({ length: size.copies }, (_, copy) => {
      const chosen = known.filter(() => chance() < 0.45);
      const steps = (chosen.length > 0 ? chosen : [pick(known)]).map((operation) =>
        stepOf(operation, measuresOf(book()), 1, 'invented', { cautions: [], needs: [] }),
      );
      return { personId: id, name, level, copyId: `${id} copy ${copy}`, title: `Copy ${copy + 1}`, steps };
    }),
  );
  const demonstrations: readonly Demonstration[] = known.map(({ id, name }) => ({
    operationId: id,
    name,
    minutes: 25,
  }));
  const tools: readonly BenchTool[] = toolKinds.map((kind) => ({
    id: `the ${kind}`,
    kind,
    name: `the ${kind}`,
    capacity: kind === 'nipping press' ? 1 : kind === 'weights' ? 2 * size.people : 4,
  }));
  const morePresses = Array.from({ length: Math.max(0, size.presses - 1) }, (_, index): BenchTool => {
    const id = `nipping press ${index + 2}`;
    return { id, kind: 'nipping press', name: id, capacity: 1 };
  });
  return { frame, people, works, demonstrations, tools: [...tools, ...morePresses] };
}
