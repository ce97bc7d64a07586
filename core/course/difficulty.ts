/**
 * How hard a copy is to learn on, 1 easy to 5 hard: the level of its steps, what cannot be taken back, a tutor beside, its size and its
 * paper. A judgement in points with each reason said; common practice, no source.
 */
import type { Book, Finding } from '../book/book.ts';
import { levels } from '../book/book.ts';
import { broughtLibrary, type Library } from '../treatment/library.ts';
import type { Step } from '../treatment/treatment.ts';
import { nameWith, ownNames } from './names.ts';
import { oneOf } from './pace.ts';

export type Difficulty = Readonly<{ points: number; reasons: readonly string[] }>;

const mostPoints = 5;
/** Below this height fingers are in the way; above the other a leaf needs two hands. Common practice, no source. */
const smallMm = 150;
const largeMm = 320;
const manySteps = 9;

export function difficultyOf(
  book: Book,
  findings: readonly Finding[],
  steps: readonly Step[],
  library: Library = broughtLibrary,
): Difficulty {
  const own = ownNames(library);
  const reasons: string[] = [];
  const rank = Math.max(0, ...steps.map((step) => levels.indexOf(step.level)));
  const hardest = steps.filter((step) => levels.indexOf(step.level) === rank).map((step) => step.operationId);
  if (rank > 0 && hardest[0] !== undefined)
    reasons.push(`${nameWith(own, hardest[0])} is ${oneOf(levels[rank] ?? 'journeyman')}’s work`);
  let points = 1 + rank;
  const add = (worth: number, reason: string) => {
    points += worth;
    reasons.push(reason);
  };
  const brittle = findings.find(({ damage, severity }) => damage === 'brittle' && severity >= 2);
  if (brittle) add(1, `${brittle.part === 'leaves' ? 'its paper is' : `the ${brittle.part} are`} brittle`);
  const cannot = steps.find((step) => library.byId(step.operationId)?.invasive);
  if (cannot && rank < 2) add(0.5, `${nameWith(own, cannot.operationId)} cannot be taken back`);
  if (steps.length >= manySteps) add(0.5, `it takes ${steps.length} steps in order`);
  if (book.heightMm !== null && book.heightMm < smallMm) add(0.5, `it is small (${book.heightMm} mm)`);
  if (book.heightMm !== null && book.heightMm > largeMm) add(0.5, `it is large (${book.heightMm} mm)`);
  return {
    points: Math.min(mostPoints, Math.round(points)),
    reasons: reasons.length === 0 ? ['nothing but first operations'] : reasons,
  };
}
