/** Everything of one book, in the order in which it is decided: its hazards, its fate, why it stands where it does, survey, treatment. */

import { keepPreviousData, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { BookOpened, ShelfQuery } from '../../core/contract/shelf.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useHabits, useStatus } from '../app/queries.ts';
import { addressOf, goTo } from '../app/route.ts';
import { say } from '../app/say.ts';
import { Clamped } from '../parts/clamped.tsx';
import { Button } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { Measure } from '../parts/measure.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { Photographs } from '../parts/photographs.tsx';
import { dayWords, shortened } from '../parts/words.ts';
import './book-pane.css';
import { Description } from './description.tsx';
import { FateChoice } from './fate-choice.tsx';
import { Hazards } from './hazards.tsx';
import { Measures } from './measures.tsx';
import { Survey } from './survey.tsx';
import { Treatment } from './treatment.tsx';
import { Why } from './why.tsx';

type Props = Readonly<{ id: string; query: ShelfQuery }>;

export function BookPane({ id, query }: Props) {
  const opened = useQuery({ ...ask.shelf.book.queryOptions({ input: { id } }), placeholderData: keepPreviousData });
  const { data, error } = opened;
  if (error !== null) {
    return (
      <div className="pane">
        <Close />
        <TroubleNotice error={error} again={() => void opened.refetch()} />
      </div>
    );
  }
  if (data === undefined) return null;
  return (
    <article className="pane">
      <Head opened={data} query={query} />
      <nav className="pane-parts" aria-label="Parts of this pane">
        {paneParts.map(([key, words]) => (
          <Button key={key} look="quiet" onClick={() => document.getElementById(key)?.scrollIntoView()}>
            {words}
          </Button>
        ))}
      </nav>
      <Facts opened={data} />
      {data.hazards.length > 0 && <Hazards opened={data} />}
      <FateChoice opened={data} />
      <Why opened={data} />
      <Survey opened={data} />
      <Treatment opened={data} />
      <Measures opened={data} />
      <section className="pane-part" id="pane-photographs">
        <Photographs heading="Photographs" subject={{ kind: 'book', bookId: data.book.id }} />
        <p>
          <a href={addressOf('day-book', data.book.id)}>Its treatment record</a>
        </p>
      </section>
      <Description opened={data} />
      <Entries opened={data} />
      <Remove opened={data} />
    </article>
  );
}

const paneParts = [
  ['pane-fate', 'Fate'],
  ['pane-survey', 'Survey'],
  ['pane-treatment', 'Treatment'],
  ['pane-measures', 'Measures'],
  ['pane-photographs', 'Photographs'],
  ['pane-description', 'Description'],
] as const;

export function Close() {
  return (
    <Button look="quiet" className="pane-close" onClick={() => goTo('shelf')} aria-keyshortcuts="Escape">
      Close <kbd>Esc</kbd>
    </Button>
  );
}

function Head({ opened, query }: Readonly<{ opened: BookOpened; query: ShelfQuery }>) {
  const { book, rank } = opened;
  const books = useStatus().data?.open?.books ?? 0;
  return (
    <header className="pane-head">
      <div className="pane-top">
        <span className="soft small">
          {book.shelfMark !== null && <b>{book.shelfMark} · </b>}
          {ordinal(rank)} of {books.toLocaleString('en')} · {book.stage}
        </span>
        <Next id={book.id} query={query} />
        <Close />
      </div>
      <h2>
        <Clamped words={book.title} />
      </h2>
      <p className="pane-author">
        {[shortened(book.author), shortened(book.imprint), book.imprint.includes(book.dateText) ? '' : book.dateText]
          .filter(Boolean)
          .join(', ')}
      </p>
    </header>
  );
}

/** To the book before and after in the list, for whoever goes through it one by one. */
function Next({ id, query }: Readonly<{ id: string; query: ShelfQuery }>) {
  async function step(by: number): Promise<void> {
    try {
      const at = await client.shelf.position({ ...query, id });
      if (at === null || at + by < 0) return;
      const { rows } = await client.shelf.list({ ...query, offset: at + by, limit: 1 });
      const [row] = rows;
      if (row === undefined) say('This is the last book of the list.');
      else goTo('shelf', row.id);
    } catch (error) {
      say(readTrouble(error).sentence);
    }
  }
  return (
    <>
      <Button look="quiet" aria-label="The book before" onClick={() => step(-1)}>
        ↑
      </Button>
      <Button look="quiet" aria-label="The next book" onClick={() => step(1)}>
        ↓
      </Button>
    </>
  );
}

function Facts({ opened }: Readonly<{ opened: BookOpened }>) {
  const { book, place, lot } = opened;
  const covering = [
    book.binding ?? 'binding not described',
    book.colour,
    book.pattern === null ? '' : `${book.pattern} grain`,
  ];
  const sizes = [
    ['Height', book.heightMm],
    ['Width', book.widthMm],
    ['Thickness', book.thicknessMm],
  ] as const;
  return (
    <dl className="pane-facts">
      <div>
        <dt>Covering</dt>
        <dd>{covering.filter(Boolean).join(', ')}</dd>
      </div>
      {book.format !== '' && (
        <div>
          <dt>Format</dt>
          <dd>{book.format}</dd>
        </div>
      )}
      {sizes.map(([name, mm]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{mm === null ? <span className="soft">not measured</span> : <Measure mm={mm} />}</dd>
        </div>
      ))}
      {(place !== '' || lot !== '') && (
        <div>
          <dt>Place</dt>
          <dd>
            {place === '' ? <span className="soft">none yet</span> : place}
            {lot !== '' && <span className="soft"> · from {lot}</span>}
          </dd>
        </div>
      )}
    </dl>
  );
}

function Entries({ opened }: Readonly<{ opened: BookOpened }>) {
  const { timeZone } = useHabits();
  if (opened.entries.length === 0) return null;
  return (
    <section className="pane-part">
      <h3>What was done</h3>
      <ul className="pane-entries">
        {opened.entries.map((entry) => (
          <li key={entry.id}>
            <span className="soft">{dayWords(entry.at, timeZone)}</span> {entry.words}
            {entry.minutes !== null && <span className="soft"> · {minutesWords(entry.minutes)}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Remove({ opened }: Readonly<{ opened: BookOpened }>) {
  const queries = useQueryClient();
  const [asking, setAsking] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const { book } = opened;
  async function remove(): Promise<void> {
    try {
      await client.shelf.remove({ ids: [book.id] });
      goTo('shelf');
      say(`“${shortened(book.title)}” is off the shelf. Ctrl+Z brings it back.`);
      void queries.invalidateQueries();
    } catch (thrown) {
      setError(thrown);
    }
  }
  return (
    <section className="pane-part">
      <Button look="harm" onClick={() => setAsking(true)}>
        Remove this book
      </Button>
      {asking && (
        <Dialog title="Remove this book?" onClose={() => setAsking(false)}>
          <p>
            “{shortened(book.title)}” goes off the shelf with its findings, hazards and agreed treatment. Undo brings
            all of it back.
          </p>
          {error !== null && <TroubleNotice error={error} />}
          <div className="actions">
            <Button look="harm" onClick={remove}>
              <Mark kind="harm" /> Remove it
            </Button>
            <Button onClick={() => setAsking(false)}>Keep it</Button>
          </div>
        </Dialog>
      )}
    </section>
  );
}

function ordinal(rank: number): string {
  const tens = rank % 100;
  const ending = tens >= 11 && tens <= 13 ? 'th' : (['th', 'st', 'nd', 'rd'][rank % 10] ?? 'th');
  return `${rank.toLocaleString('en')}${ending}`;
}
