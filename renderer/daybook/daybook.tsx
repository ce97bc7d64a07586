/** The Day-book: what was done, day by day, and the journal of every change beneath it. */

import { useQuery } from '@tanstack/react-query';
import { useDeferredValue, useState } from 'react';
import { minutesWords } from '../../core/units/durations.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { useRoute } from '../app/route.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { EmptyRoom, TroubleNotice } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import { Day } from './day.tsx';
import { Period } from './period.tsx';
import { Uses } from './uses.tsx';
import './daybook.css';
import { TreatmentRecord } from './record.tsx';

const shown = 500;

export function DayBookRoom() {
  const { id } = useRoute();
  return id === null ? <Pages /> : <TreatmentRecord bookId={id} />;
}

function Pages() {
  const { timeZone } = useHabits();
  const [view, setView] = useState<'days' | 'period'>('days');
  const list = useQuery(ask.daybook.list.queryOptions({ input: { limit: shown } }));
  if (list.error) return <TroubleNotice error={list.error} again={() => void list.refetch()} />;
  if (!list.data) return null;
  const { entries, byOperation, more, used } = list.data;
  const today = isoDay(Date.now(), timeZone);
  const isos = [...new Set([...entries, ...used].map(({ at }) => isoDay(at, timeZone)))].sort().reverse();
  const entriesOn = Map.groupBy(entries, (entry) => isoDay(entry.at, timeZone));
  const usedOn = Map.groupBy(used, (line) => isoDay(line.at, timeZone));
  return (
    <div className="daybook">
      <div className="daybook-pages">
        <div className="actions">
          <Button
            aria-pressed={view === 'days'}
            look={view === 'days' ? 'main' : 'plain'}
            onClick={() => setView('days')}
          >
            Day by day
          </Button>
          <Button
            aria-pressed={view === 'period'}
            look={view === 'period' ? 'main' : 'plain'}
            onClick={() => setView('period')}
          >
            A period
          </Button>
        </div>
        {view === 'period' ? (
          <Period today={today} />
        ) : (
          <>
            <Uses />
            <Write today={today} />
            {entries.length === 0 && used.length === 0 && (
              <EmptyRoom title="Nothing is written yet">
                <p>
                  Steps finished at the Bench write themselves down here with their minutes. What else was done can be
                  typed above.
                </p>
              </EmptyRoom>
            )}
            {isos.map((iso) => (
              <Day
                key={iso}
                day={dayWords(iso, timeZone)}
                entries={entriesOn.get(iso) ?? []}
                used={usedOn.get(iso) ?? []}
              />
            ))}
            {more && <p className="soft">Older entries are kept; the newest {shown} are shown.</p>}
          </>
        )}
      </div>
      <aside className="daybook-side" aria-label="Sums and changes">
        {view === 'days' && byOperation.length > 0 && (
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

/** The plain date of an instant where the workshop is. */
function isoDay(at: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(at);
}

/** Something the bench clock did not see. */
function Write({ today }: Readonly<{ today: string }>) {
  const [on, setOn] = useState(today);
  const [operationId, setOperationId] = useState('');
  const operations = useQuery(ask.daybook.operations.queryOptions());
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
          { bookId: book?.id ?? null, minutes: count, note: note.trim(), on, operationId: operationId || null },
          {
            onSuccess: () => {
              setNote('');
              setMinutes('');
              setWords('');
              setBook(null);
              setOperationId('');
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
          name="Day"
          type="date"
          max={today}
          value={on}
          onChange={(event) => setOn(event.target.value)}
          trouble={at('on')}
        />
        <SelectField
          name="Operation"
          value={operationId}
          onChange={(event) => setOperationId(event.target.value)}
          options={[
            { value: '', words: 'none of the list' },
            ...(operations.data ?? []).map(({ id, name }) => ({ value: id, words: name })),
          ]}
          trouble={at('operationId')}
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
