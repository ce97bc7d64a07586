/** Invented courses of any size: people of all levels with wishes and allergies, copies that teach a handful of operations each. */
import { levels } from '../../../core/book/book.ts';
import type { AllocationProblem } from '../../../core/course/allocation-model.ts';
import type { Learner, PracticeCopy } from '../../../core/course/eligible.ts';
import type { Chance } from '../../../core/schedule/random.ts';

export type Size = Readonly<{
  people: number;
  copies: number;
  operations: number;
  /** One operation is taught by fewer copies than there are people. */
  scarce?: boolean;
  /** Chances that a copy teaches an operation; by default about half, as treatments of worn books do. */
  teaching?: number;
  copiesEach?: readonly [number, number];
  spares?: number;
}>;

const touched = ['wheat starch', 'PVA adhesive', 'leather', 'Japanese tissue', 'methylcellulose'];

export function inventedCourse(size: Size, chance: Chance): AllocationProblem {
  const pick = <Item>(from: readonly Item[]): Item => from[Math.floor(chance() * from.length)] as Item;
  const operations = Array.from({ length: size.operations }, (_, index) => `operation ${index}`);
  const learners = Array.from(
    { length: size.people },
    (_, index): Learner => ({
      id: `person ${index}`,
      name: `Person ${index}`,
      level: pick(levels),
      minutes: 1950,
      wishes: operations.filter(() => chance() < 0.12),
      excused: [],
      allergies: chance() < 0.15 ? [pick(touched)] : [],
    }),
  );
  const copies = Array.from({ length: size.copies }, (_, index): PracticeCopy => {
    const teaches = operations.filter(() => chance() < (size.teaching ?? 0.5));
    return {
      id: `copy ${index}`,
      title: `Copy ${index}`,
      level: pick(levels),
      minutes: 60 + Math.round(teaches.length * 25 + chance() * 90),
      teaches: size.scarce && index % 9 > 0 ? teaches.filter((id) => id !== operations[0]) : teaches,
      touches: touched.filter(() => chance() < 0.25),
      blocked: chance() < 0.04 ? 'Possible mould.' : null,
    };
  });
  return {
    learners,
    copies,
    required: operations,
    syllabus: operations,
    copiesEach: size.copiesEach ?? [2, 4],
    spares: size.spares ?? 3,
    rules: [],
  };
}
