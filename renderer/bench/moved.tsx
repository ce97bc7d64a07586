/** What moved when the rest was planned around a change, in words; undo takes all of it back at once. */
import type { Moved } from '../../core/contract/bench.ts';
import { useUndo } from '../app/undo.ts';
import { Button } from '../parts/controls.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import type { Doings } from './doings.ts';

/** The rest waits behind one tap, so that the picture stays in sight. */
const firstShown = 6;

export function MovedList({
  doings,
  planId,
  timeZone,
}: Readonly<{ doings: Doings; planId: string; timeZone: string }>) {
  const step = useUndo();
  const { moved, closeMoved } = doings;
  if (moved === null || moved.planId !== planId) return null;
  const at = (instant: number) => `${weekdayOf(instant, timeZone)} ${clockWords(instant, timeZone)}`;
  return (
    <section className="moved" aria-label="What moved">
      <div className="actions moved-head">
        <h3>{moved.words}</h3>
        <span className="soft">
          {moved.moves.length === 0
            ? 'Nothing else had to move.'
            : `${moved.moves.length} ${moved.moves.length === 1 ? 'step' : 'steps'} moved:`}
        </span>
        <Button onClick={() => step(false)}>Take it back</Button>
        <Button look="quiet" onClick={closeMoved}>
          Close
        </Button>
      </div>
      <Moves moves={moved.moves.slice(0, firstShown)} at={at} />
      {moved.moves.length > firstShown && (
        <details>
          <summary>{moved.moves.length - firstShown} more</summary>
          <Moves moves={moved.moves.slice(firstShown)} at={at} />
        </details>
      )}
    </section>
  );
}

function Moves({ moves, at }: Readonly<{ moves: readonly Moved[]; at: (instant: number) => string }>) {
  if (moves.length === 0) return null;
  return (
    <ul>
      {moves.map((move) => (
        <li key={`${move.bookId} ${move.label}`}>
          <span className="book-name">{move.book}</span>: {lower(move.label)}{' '}
          <span className="moved-times">
            {at(move.from)} → {at(move.to)}
          </span>
        </li>
      ))}
    </ul>
  );
}

function weekdayOf(instant: number, timeZone: string): string {
  return dayWords(instant, timeZone).split(/[ ,]/)[0] ?? '';
}

function lower(label: string): string {
  return label.charAt(0).toLowerCase() + label.slice(1);
}
