/** The Day-book: what was done, day by day, and the journal of every change beneath it. */

import { useQuery } from '@tanstack/react-query';
import { useDeferredValue, useState } from 'react';
import type { DayEntry } from '../../core/contract/daybook.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf, useRoute } from '../app/route.ts';
import { Button, LongField, TextField } from '../parts/controls.tsx';
import { EmptyRoom, TroubleNotice } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import './daybook.css';
import { TreatmentRecord } from './record.tsx';

const shown = 500;

export function DayBookRoom() {
  const { id } = useRoute();
  return id === null ? <Pages /> : <TreatmentRecord bookId={id} />;
}

function Pages() {
  const { timeZone } = useHabits();
  const list = useQuery(ask.daybook.list.queryOptions({ input: { limit: shown } }));
  if (list.error) return <TroubleNotice error={list.error} again={() => void list.refetch()} />;
  if (!list.data) return null;
  const { entries, byOperation, more } = list.data;
  const days = Map.groupBy(entries, (entry) => dayWords(entry.at, timeZone));
  return (
    <div className="daybook">
      <div className="daybook-pages">
        <Write />
        {entries.length === 0 && (
          <EmptyRoom title="Nothing is written yet">
            <p>
              Steps finished at the Bench write themselves down here with their minutes. What else was done can be typed
              above.
            </p>
          </EmptyRoom>
        )}
        {[...days].map(([day, members]) => (
          <Day key={day} day={day} entries={members} timeZone={timeZone} />
        ))}
        {more && <p className="soft">Older entries are kept; the newest {shown} are shown.</p>}
      </div>
      <aside className="daybook-side" aria-label="Sums and changes">
        {byOperation.length > 0 && (
          <section>
            <h2>Minutes by operation</h2>
            <table className="table">
              <thead>
                <tr>
                  <th scope="col">Operation</th>
                  <th scope="col" className="number">
                    Times
                  </th>
                  <th scope="col" className="number">
                    Altogether
                  </th>
                </tr>
              </thead>
              <tbody>
                {byOperation.map((row) => (
                  <tr key={row.operation}>
                    <td>{row.operation}</td>
                    <td className="number">{row.times}</td>
                    <td className="number">{minutesWords(row.minutes)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
        )}
        <Changes timeZone={timeZone} />
      </aside>
    </div>
  );
}

function Day({ day, entries, timeZone }: Readonly<{ day: string; entries: readonly DayEntry[]; timeZone: string }>) {
  const minutes = entries.reduce((sum, entry) => sum + (entry.minutes ?? 0), 0);
  return (
    <section>
      <h2 className="daybook-day">
        {day} {minutes > 0 && <span className="soft">{minutesWords(minutes)}</span>}
      </h2>
      <ul className="daybook-list">
        {entries.map((entry) => (
          <li key={entry.id}>
            <span className="soft">{clockWords(entry.at, timeZone)}</span>
            <div>
              {[entry.operation, entry.note].filter(Boolean).join('. ')}
              {entry.bookId !== null && (
                <>
                  {' · '}
                  <a className="daybook-book" href={addressOf('shelf', entry.bookId)}>
                    {entry.book}
                  </a>{' '}
                  <a
                    className="small"
                    href={addressOf('day-book', entry.bookId)}
                    aria-label={`Record of ${entry.book}`}
                  >
                    Record
                  </a>
                </>
              )}
            </div>
            <span className="number">{entry.minutes === null ? '' : minutesWords(entry.minutes)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Something the bench clock did not see. */
function Write() {
  const [note, setNote] = useState('');
  const [minutes, setMinutes] = useState('');
  const [words, setWords] = useState('');
  const [book, setBook] = useState<Readonly<{ id: string; title: string }> | null>(null);
  const add = useChange(client.daybook.add, () => 'Written down.');
  const trouble = add.error ? readTrouble(add.error) : null;
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  const looking = useDeferredValue(words.trim());
  const books = useQuery({
    ...ask.daybook.books.queryOptions({ input: { words: looking } }),
    enabled: book === null && looking.length > 1,
  });

  return (
    <form
      className="daybook-write"
      onSubmit={(event) => {
        event.preventDefault();
        const count = minutes.trim() === '' ? null : Number(minutes);
        add.mutate(
          { bookId: book?.id ?? null, minutes: count, note: note.trim() },
          {
            onSuccess: () => {
              setNote('');
              setMinutes('');
              setWords('');
              setBook(null);
            },
          },
        );
      }}
    >
      <LongField
        name="What was done"
        value={note}
        onChange={(event) => setNote(event.target.value)}
        trouble={at('note')}
      />
      <div className="fields">
        <TextField
          name="Minutes"
          inputMode="numeric"
          value={minutes}
          onChange={(event) => setMinutes(event.target.value)}
          trouble={at('minutes')}
        />
        <TextField
          name="Book, if it is about one"
          value={book?.title ?? words}
          onChange={(event) => {
            setBook(null);
            setWords(event.target.value);
          }}
        />
      </div>
      {book === null && looking.length > 1 && (books.data?.length ?? 0) > 0 && (
        <ul className="daybook-found" aria-label="Books found">
          {books.data?.slice(0, 6).map((one) => (
            <li key={one.id}>
              <Button look="quiet" onClick={() => setBook(one)}>
                {one.title}
              </Button>
            </li>
          ))}
        </ul>
      )}
      {trouble && trouble.field === undefined && <TroubleNotice error={add.error} />}
      <Button look="main" type="submit" disabled={add.isPending}>
        Write it down
      </Button>
    </form>
  );
}

/** Every change, undone ones too: nothing is lost. */
function Changes({ timeZone }: Readonly<{ timeZone: string }>) {
  const history = useQuery(ask.workshop.history.queryOptions({ input: { limit: 100 } }));
  if (!history.data) return null;
  return (
    <section>
      <h2>The last hundred changes</h2>
      <ul className="daybook-changes">
        {history.data.map((line) => (
          <li key={line.seq}>
            <span className="soft">
              {dayWords(line.at, timeZone)} {clockWords(line.at, timeZone)}
            </span>{' '}
            {line.kind === 'undo' ? 'Undone: ' : line.kind === 'redo' ? 'Done again: ' : ''}
            {line.label}
          </li>
        ))}
      </ul>
    </section>
  );
}
