/** The fate a single book suggests by itself, for the list. The fates of all books together are weighed in `fates.ts`. */
import type { Book, Fate, Finding, Hazard } from '../book/book.ts';
import { blocks } from '../book/hazards.ts';
import type { Proposal } from '../treatment/treatment.ts';

const cleaning: ReadonlySet<string> = new Set([
  'surface clean',
  'clean leaves',
  'final clean',
  'polyester jacket',
  'bag and label',
  'phase box',
]);

/** More than five hours is the highest level of bench time (Duke University Libraries, level 4). */
const veryLongMinutes = 300;

/** The fate by simple rules, first that fits, with its reason. A decided fate stays. */
export function suggestFate(
  book: Book,
  findings: readonly Finding[],
  proposal: Proposal,
  hazards: readonly Hazard[],
): Readonly<{ fate: Fate; reason: string }> {
  if (book.fateLocked && book.fate !== null) return { fate: book.fate, reason: 'Decided by you.' };
  const stop = blocks(hazards, 'plan');
  if (stop !== null) return { fate: 'leave', reason: stop };
  if (!isSurveyed(book, findings)) return { fate: 'leave', reason: 'Survey it first: nothing is known of its damage.' };
  if (findings.length === 0) return { fate: 'leave', reason: 'Nothing was found that wants mending.' };
  if (proposal.steps.length === 0) return { fate: 'leave', reason: 'Nothing here is to be treated on this bench.' };
  const cleanOnly = proposal.steps.every((step) => cleaning.has(step.operationId));
  if (cleanOnly) return { fate: 'clean only', reason: 'Nothing is needed but cleaning and a cover.' };

  const ordinary = book.significance === 0 && (book.scarcity === 'common' || book.scarcity === 'unknown');
  const long = proposal.minutes.likely > veryLongMinutes;
  if (mayBreak(book, hazards) && long && book.completeness === 'incomplete') {
    return { fate: 'salvage', reason: 'Common, incomplete, and more than five hours of work.' };
  }
  if (ordinary && book.use === 'teaching' && blocks(hazards, 'student') === null) {
    return { fate: 'practice', reason: 'Common, of no particular significance, and kept for teaching.' };
  }
  if (ordinary && long) {
    return blocks(hazards, 'student') === null && book.scarcity === 'common'
      ? { fate: 'practice', reason: 'Common, and more than five hours of work: worth more as a copy to learn on.' }
      : { fate: 'leave', reason: 'More than five hours of work for a book of no particular significance.' };
  }
  return { fate: 'restore', reason: 'Its damage can be put right on this bench.' };
}

/** Whether anybody has looked: of a waiting book without findings nothing is known, neither its fate nor its hand-work. */
export function isSurveyed({ stage }: Pick<Book, 'stage'>, findings: readonly unknown[]): boolean {
  return stage !== 'waiting' || findings.length > 0;
}

/** A book that may be broken for its pieces: never one that is rare, scarce, complete, unknown or dangerous, nor one that matters. */
export function mayBreak(book: Book, hazards: readonly Hazard[]): boolean {
  return (
    book.scarcity === 'common' &&
    book.completeness === 'incomplete' &&
    book.significance === 0 &&
    blocks(hazards, 'salvage') === null
  );
}
