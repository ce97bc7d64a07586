/** The Shelf: the spines as they would stand, the list in its order, and beside it everything of the book that is open. */
import { useQueryClient } from '@tanstack/react-query';
import { memo, useEffect, useRef, useState } from 'react';
import type { ShelfQuery, ShelfRow } from '../../core/contract/shelf.ts';
import { ask, client } from '../app/client.ts';
import { useStatus } from '../app/queries.ts';
import { goTo, useRoute } from '../app/route.ts';
import { type Spine, SpineBand } from '../drawings/spines.tsx';
import { Beside } from '../parts/beside.tsx';
import { Button } from '../parts/controls.tsx';
import { EmptyRoom, TroubleNotice } from '../parts/notices.tsx';
import { SizeUpBacklog } from './backlog/backlog.tsx';
import { BookPane } from './book-pane.tsx';
import { BulkBar } from './bulk-bar.tsx';
import { DecideFates } from './fates/fates.tsx';
import { NewBook } from './new-book.tsx';
import { Operations } from './operations/operations.tsx';
import { PlacesAndLots } from './places.tsx';
import { useRows } from './rows.ts';
import { ShelfList } from './shelf-list.tsx';
import './shelf.css';
import { useWidth } from '../parts/width.ts';
import { TakeIn } from './takein/take-in.tsx';
import { Toolbar } from './toolbar.tsx';
import { usualColumns } from './views.tsx';

const whole: ShelfQuery = { words: '', filter: {}, sort: 'attention' };

export function ShelfRoom() {
  const { id } = useRoute();
  const [query, setQuery] = useState(whole);
  const [columns, setColumns] = useState(usualColumns);
  const [marked, setMarked] = useState<ReadonlySet<string>>(new Set());
  const { data: status } = useStatus();
  const list = useRows(query);
  const { from } = list.shown;
  const standing = useAtRest(useSame(list.total === 0 ? none : list.ask(from, from + mostSpines)));
  const searchField = useRef<HTMLInputElement>(null);
  const listFocus = useRef<() => void>(() => {});

  if (id === 'take-in') return <TakeIn onDone={() => goTo('shelf')} />;
  if (id === 'fates') return <DecideFates />;
  if (id === 'backlog') return <SizeUpBacklog />;
  if (id === 'operations') return <Operations />;
  if (id === 'places') return <PlacesAndLots />;
  const empty = status?.open?.books === 0 && list.total === 0 && query === whole;
  if (list.error !== null && list.total === null) return <TroubleNotice error={list.error} />;
  const details = id === null ? null : id === 'new' ? <NewBook /> : <BookPane key={id} id={id} query={query} />;
  return (
    <Beside details={details} label={id === 'new' ? 'A new book' : 'The book'}>
      {empty ? (
        <EmptyShelf />
      ) : (
        <div className="shelf">
          <Toolbar
            query={query}
            total={list.total}
            field={searchField}
            onQuery={(next) => {
              setQuery(next);
              setMarked(new Set());
            }}
            columns={columns}
            onColumns={setColumns}
            onDown={() => listFocus.current()}
          />
          <Band rows={standing} current={id} />
          <ShelfList
            query={query}
            list={list}
            columns={columns}
            current={id}
            marked={marked}
            onMarked={setMarked}
            onType={(typed) => {
              setQuery((before) => ({ ...before, words: before.words + typed }));
              searchField.current?.focus();
            }}
            focusRef={listFocus}
          />
          {/* Below the list: above it, the rows would move away from under the hand that marks the next one. */}
          {marked.size > 0 && <BulkBar ids={[...marked]} onDone={() => setMarked(new Set())} />}
        </div>
      )}
    </Beside>
  );
}

function EmptyShelf() {
  return (
    <EmptyRoom title="The shelf is empty">
      <p>
        Here the books will stand in the order they deserve attention, each with the reason, the hazards to look at
        first, and the treatment that would put it right.
      </p>
      <div className="actions">
        <Button look="main" onClick={() => goTo('shelf', 'take-in')}>
          Take in a list
        </Button>
        <Button onClick={() => goTo('shelf', 'new')}>Put in a book</Button>
        <DemoButton />
      </div>
    </EmptyRoom>
  );
}

function DemoButton() {
  const queries = useQueryClient();
  const [error, setError] = useState<unknown>(null);
  async function open(): Promise<void> {
    try {
      const status = await client.workshop.openDemo();
      queries.clear();
      queries.setQueryData(ask.workshop.status.queryKey(), status);
    } catch (thrown) {
      setError(thrown);
    }
  }
  return (
    <>
      <Button look="quiet" onClick={open}>
        Open the demo workshop instead
      </Button>
      {error !== null && <TroubleNotice error={error} />}
    </>
  );
}

type BandProps = Readonly<{ rows: readonly ShelfRow[]; current: string | null }>;

const none: readonly ShelfRow[] = [];

/** More than fit across any window. */
const mostSpines = 150;

/** The spines from the first book that the list shows on; drawn when the list has been. */
const Band = memo(function Band({ rows, current }: BandProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  return (
    <div className="shelf-band" ref={box}>
      {width > 0 && (
        <SpineBand
          spines={rows.map(knownSpine)}
          current={current}
          width={width}
          label="Spines, drawn to one scale in the order of the list"
          onOpen={(id) => goTo('shelf', id)}
        />
      )}
    </div>
  );
});

/** A pause after which the list counts as still. Common practice, no source. */
const restMs = 200;

/** The rows once they have stopped changing: no need to draw spines anew while words are typed or the list is flying past. */
function useAtRest(rows: readonly ShelfRow[]): readonly ShelfRow[] {
  const [rested, setRested] = useState(rows);
  useEffect(() => {
    const timer = setTimeout(() => setRested(rows), restMs);
    return () => clearTimeout(timer);
  }, [rows]);
  return rested.length === 0 ? rows : rested;
}

/** The same array for as long as it holds the same rows. */
function useSame(rows: readonly ShelfRow[]): readonly ShelfRow[] {
  const [kept, setKept] = useState(rows);
  const same = kept.length === rows.length && kept.every((row, at) => row === rows[at]);
  if (!same) setKept(rows);
  return same ? kept : rows;
}

const spines = new WeakMap<ShelfRow, Spine>();

/** The same spine for the same row, so that it is not drawn anew. */
function knownSpine(row: ShelfRow): Spine {
  const known = spines.get(row) ?? spineOf(row);
  spines.set(row, known);
  return known;
}

function spineOf(row: ShelfRow): Spine {
  const { id, title, binding, colour, pattern, heightMm, thicknessMm } = row;
  const said = [row.author, row.dateText, row.hazardOpen ? 'hazard undecided' : ''].filter((words) => words !== '');
  const unmeasured = heightMm === null || thicknessMm === null ? ', not measured' : '';
  const name = `${[title, ...said].join(', ')}${unmeasured}`;
  return { id, title, name, binding, colour, pattern, heightMm, thicknessMm, warned: row.hazardOpen };
}
