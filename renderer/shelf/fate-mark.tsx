import type { Fate } from '../../core/book/book.ts';

/** Restore: a loop of thread. Practice: a pencil. Salvage: a piece cut out. Clean only: strokes of a brush. Leave: a line. */
const drawn: Readonly<Record<Fate, string>> = {
  restore: 'M2 11C6 11 9 9 9 6S5 3 5 6s4 5 9 5',
  practice: 'M3 13l1-3.5L11 2.5l2.5 2.5L6.5 12ZM9.5 4l2.5 2.5',
  salvage: 'M2 2.5H14V9H9V13.5H2ZM11 11.5h3v2.5h-3Z',
  'clean only': 'M3 3.5h9M4 7.5h9M3 11.5h7',
  leave: 'M3 8h10',
};

/** A small drawn mark beside the word for a fate; all of one stroke weight. */
export function FateMark({ fate }: Readonly<{ fate: Fate }>) {
  return (
    <svg className="mark mark-fate" viewBox="0 0 16 16" aria-hidden="true">
      <path d={drawn[fate]} />
    </svg>
  );
}
