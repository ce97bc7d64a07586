/** A person's level from what they have done before. The rule is the workshop's own and is shown with its outcome; a person may overrule it. */
import type { Level } from '../book/book.ts';
import { broughtLibrary, type Library } from '../treatment/library.ts';
import type { Answers } from './guest.ts';
import { rankOf } from './pace.ts';

/** Asked of everybody: from what anyone can try to what takes years. */
export const asked: readonly string[] = [
  'surface clean',
  'mend tears',
  'tip in',
  'guard sections',
  'new endpapers',
  'recase',
  'make case',
  'reback in cloth',
  'resew',
  'round and back',
  'board reattachment',
  'reback in leather',
];

export const levelRule =
  'A journeyman has done two of the hardest operations alone and mended 30 books; an improver has done three operations beyond the first ones, with help or alone, and mended 3 books; everybody else is a newcomer. The workshop’s own rule, no source.';

const hardestAlone = 2;
const journeymansBooks = 30;
const beyondFirst = 3;
const improversBooks = 3;

/** The level by the rule, and why. Operations this bench does not know count for nothing. */
export function levelFrom(
  answers: Answers,
  booksDone: number,
  library: Library = broughtLibrary,
): Readonly<{ level: Level; because: string }> {
  const told = Object.entries(answers).flatMap(([id, answer]) => {
    const operation = library.byId(id);
    return operation === undefined || answer === 'never'
      ? []
      : [{ rank: rankOf(operation.level), alone: answer === 'alone' }];
  });
  const hardest = told.filter(({ rank, alone }) => rank >= rankOf('journeyman') && alone).length;
  const beyond = told.filter(({ rank }) => rank >= rankOf('improver')).length;
  const books = `${booksDone} ${booksDone === 1 ? 'book' : 'books'} mended`;
  const because = `${hardest} of the hardest done alone, ${beyond} beyond the first ones, ${books}.`;
  if (hardest >= hardestAlone && booksDone >= journeymansBooks) return { level: 'journeyman', because };
  if (beyond >= beyondFirst && booksDone >= improversBooks) return { level: 'improver', because };
  return { level: 'newcomer', because };
}
