/** What the list is asked: words, filters and an order; and the two ways in for new books. */
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { type RefObject, useEffect, useId, useRef, useState } from 'react';
import { bindings, fates, levels, stages } from '../../core/book/book.ts';
import type { ShelfFilter, ShelfQuery } from '../../core/contract/shelf.ts';
import { hazardFilters, type ShelfColumn, type ShelfSort, shelfSorts } from '../../core/contract/shelf-words.ts';
import { ask } from '../app/client.ts';
import { goTo } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { Views } from './views.tsx';

type Props = Readonly<{
  query: ShelfQuery;
  total: number | null;
  field: RefObject<HTMLInputElement | null>;
  columns: readonly ShelfColumn[];
  onQuery: (query: ShelfQuery) => void;
  onColumns: (columns: readonly ShelfColumn[]) => void;
  /** The arrow down leaves the field for the list. */
  onDown: () => void;
}>;

export function Toolbar({ query, total, field, columns, onQuery, onColumns, onDown }: Props) {
  const { filter } = query;
  const filtered = query.words !== '' || Object.values(filter).some((value) => value !== undefined);
  return (
    <div className="toolbar">
      <div className="toolbar-line">
        <input
          ref={field}
          type="search"
          className="toolbar-search"
          aria-label="Search the shelf"
          placeholder="Search titles, marks, findings, lots, places"
          autoComplete="off"
          value={query.words}
          onChange={(event) => onQuery({ ...query, words: event.target.value })}
          onKeyDown={(event) => {
            if (event.key === 'ArrowDown' || event.key === 'Enter') {
              event.preventDefault();
              onDown();
            }
          }}
        />
        <span className="toolbar-total" role="status">
          {total === null ? '' : `${total.toLocaleString('en')} ${total === 1 ? 'book' : 'books'}`}
        </span>
        <span className="toolbar-ways">
          <Button onClick={() => goTo('shelf', 'new')}>New book</Button>
          <Button onClick={() => goTo('shelf', 'take-in')}>Take in a list</Button>
          <Button onClick={() => goTo('shelf', 'fates')}>Decide fates together</Button>
          <Button onClick={() => goTo('shelf', 'backlog')}>Size up the backlog</Button>
          <Button look="quiet" onClick={() => goTo('shelf', 'operations')}>
            Operations
          </Button>
          <Button look="quiet" onClick={() => goTo('shelf', 'places')}>
            Places and lots
          </Button>
        </span>
      </div>
      <div className="toolbar-line toolbar-filters">
        <Choice
          name="Order"
          value={query.sort}
          options={shelfSorts.map((sort) => [sort, sort])}
          onChange={(sort) => onQuery({ ...query, sort: (sort ?? 'attention') as ShelfSort })}
        />
        <Filters filter={filter} onFilter={(next) => onQuery({ ...query, filter: next })} />
        <Views query={query} columns={columns} onQuery={onQuery} onColumns={onColumns} />
        {filtered && (
          <Button look="quiet" onClick={() => onQuery({ ...query, words: '', filter: {} })}>
            Show all
          </Button>
        )}
      </div>
      <Upkeep />
    </div>
  );
}

/** While a long shelf is worked out anew, what stands in the list is what was known before. */
function Upkeep() {
  const { data } = useQuery({
    ...ask.operations.upkeep.queryOptions(),
    refetchInterval: (query) => ((query.state.data?.left ?? 0) > 0 ? 1000 : false),
  });
  const left = data?.left ?? 0;
  const queries = useQueryClient();
  const before = useRef(0);
  useEffect(() => {
    if (before.current > 0 && left === 0) void queries.invalidateQueries();
    before.current = left;
  }, [left, queries]);
  if (data === undefined || left === 0) return null;
  return (
    <p className="soft upkeep" role="status">
      Working the shelf out anew: {(data.of - left).toLocaleString('en')} of {data.of.toLocaleString('en')} books. The
      list shows what was known before.
    </p>
  );
}

function Filters({ filter, onFilter }: Readonly<{ filter: ShelfFilter; onFilter: (filter: ShelfFilter) => void }>) {
  const { data: lots } = useQuery(ask.shelf.lots.queryOptions());
  const { data: places } = useQuery(ask.shelf.places.queryOptions());
  const [more, setMore] = useState(false);
  const plain = (words: readonly string[]) => words.map((word) => [word, word] as const);
  const all: readonly (readonly [string, keyof ShelfFilter, readonly (readonly [string, string])[]])[] = [
    ['Fate', 'fate', plain([...fates, 'undecided'])],
    ['Stands', 'stage', plain(stages)],
    ['Hazard', 'hazard', plain(hazardFilters)],
    ['Binding', 'binding', plain(bindings)],
    ['Level', 'level', plain(levels)],
    ['Lot', 'lotId', lots?.map(({ id, name }) => [id, name]) ?? []],
    ['Place', 'placeId', places?.map(({ id, name }) => [id, name]) ?? []],
  ];
  const shown = all.filter(
    ([, key, options], at) => options.length > 0 && (more || at < always || filter[key] !== undefined),
  );
  return (
    <>
      {shown.map(([name, key, options]) => (
        <Choice
          key={key}
          name={name}
          value={filter[key]}
          options={options}
          any="any"
          onChange={(value) => {
            const { [key]: _, ...rest } = filter;
            onFilter(value === undefined ? rest : ({ ...rest, [key]: value } as ShelfFilter));
          }}
        />
      ))}
      <Button look="quiet" aria-expanded={more} onClick={() => setMore(!more)}>
        {more ? 'Fewer filters' : 'More filters'}
      </Button>
    </>
  );
}

/** The first filters of the list stand there always, the others when they are asked for or in use. */
const always = 3;

type ChoiceProps = Readonly<{
  name: string;
  value: string | undefined;
  options: readonly (readonly [string, string])[];
  /** The word for no choice; without it there is always one. */
  any?: string;
  onChange: (value: string | undefined) => void;
}>;

function Choice({ name, value, options, any, onChange }: ChoiceProps) {
  const id = useId();
  return (
    <span className={value === undefined || any === undefined ? 'choice' : 'choice choice-made'}>
      <label htmlFor={id}>{name}</label>
      <select
        id={id}
        value={value ?? ''}
        onChange={(event) => onChange(event.target.value === '' ? undefined : event.target.value)}
      >
        {any !== undefined && <option value="">{any}</option>}
        {options.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </span>
  );
}
