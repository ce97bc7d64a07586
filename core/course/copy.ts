/** A book of the shelf as a practice copy: what its treatment teaches, how hard that is, what a learner's skin would meet. */
import type { Book, Hazard } from '../book/book.ts';
import { blocks } from '../book/hazards.ts';
import { totals } from '../treatment/totals.ts';
import type { Step } from '../treatment/treatment.ts';
import type { PracticeCopy } from './eligible.ts';

/** `steps` are what is still to do on it. A book with nothing to do teaches nothing and is not handed out. */
export function practiceCopy(book: Book, hazards: readonly Hazard[], steps: readonly Step[]): PracticeCopy {
  const { level, minutes, needs } = totals(steps);
  return {
    id: book.id,
    title: book.title,
    level,
    minutes: minutes.likely,
    teaches: [...new Set(steps.map((step) => step.operationId))],
    touches: [...new Set([...needs.map((need) => need.kind), ...hazards.map((hazard) => hazard.kind)])],
    blocked: blocks(hazards, 'student') ?? (steps.length === 0 ? 'Nothing on it is left to do.' : null),
  };
}

/** Part of a course's hours that goes to waiting for a tutor or a press, tidying and tea. Common practice, no source. */
const lostShare = 0.15;

/** Minutes each person has for work of their own, of so many teaching minutes less demonstrations. */
export function ownMinutes(teachingMinutes: number, demonstrationMinutes: number): number {
  return Math.max(0, Math.floor((teachingMinutes - demonstrationMinutes) * (1 - lostShare)));
}
