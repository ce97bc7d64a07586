/** What happened: how many came in, how many were here already, how many were left, and the way back. */
import { useEffect, useRef } from 'react';
import type { TakenIn } from '../../../core/contract/takein.ts';
import { Button } from '../../parts/controls.tsx';
import { Notice } from '../../parts/notices.tsx';
import { questionOf, startOver, useList } from './list-state.ts';
import { SaveBadRows } from './mend.tsx';
import { capital, rowsInWords } from './words.ts';

export function Done({ done, onDone }: Readonly<{ done: TakenIn; onDone: () => void }>) {
  const list = useList();
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const bad = done.left - list.leave.length;
  return (
    <section aria-labelledby="takein-done">
      <h2 id="takein-done" ref={heading} tabIndex={-1}>
        {done.added === 1 ? 'One book is in' : `${done.added} books are in`}
      </h2>
      <Notice kind="settled">
        <p>
          Each has been assessed and stands on the shelf in its order. Undo (Ctrl+Z) takes them all out again, with the
          lots and places made for them.
        </p>
        {done.skipped > 0 && <p>{capital(rowsInWords(done.skipped))} of books that were here already skipped.</p>}
        {list.leave.length > 0 && <p>{capital(rowsInWords(list.leave.length))} left out as you chose.</p>}
        {bad > 0 && <p>{capital(rowsInWords(bad))} could not be taken in.</p>}
      </Notice>
      <div className="actions">
        <Button
          look="main"
          onClick={() => {
            startOver();
            onDone();
          }}
        >
          See the shelf
        </Button>
        {bad > 0 && <SaveBadRows question={questionOf(list)} words="Save the rows to mend as a file" />}
        <Button look="quiet" onClick={startOver}>
          Take in another list
        </Button>
      </div>
    </section>
  );
}
