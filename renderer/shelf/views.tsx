/** Ways of looking at the list kept under names, and which columns it shows. */
import { useQuery } from '@tanstack/react-query';
import { useId, useState } from 'react';
import type { ShelfQuery } from '../../core/contract/shelf.ts';
import { type ShelfColumn, shelfColumns } from '../../core/contract/shelf-words.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';

export const usualColumns: readonly ShelfColumn[] = ['why here', 'hand-work', 'fate', 'stands'];

type Props = Readonly<{
  query: ShelfQuery;
  columns: readonly ShelfColumn[];
  onQuery: (query: ShelfQuery) => void;
  onColumns: (columns: readonly ShelfColumn[]) => void;
}>;

export function Views({ query, columns, onQuery, onColumns }: Props) {
  const id = useId();
  const { data: views = [] } = useQuery(ask.shelving.views.queryOptions());
  const [open, setOpen] = useState(false);
  const current = views.find(
    (view) =>
      JSON.stringify([view.query.words, view.query.sort, Object.entries(view.query.filter).toSorted()]) ===
        JSON.stringify([query.words, query.sort, Object.entries(query.filter).toSorted()]) &&
      view.columns.join() === columns.join(),
  );
  return (
    <>
      {views.length > 0 && (
        <span className={current === undefined ? 'choice' : 'choice choice-made'}>
          <label htmlFor={id}>View</label>
          <select
            id={id}
            value={current?.id ?? ''}
            onChange={(event) => {
              const view = views.find((one) => one.id === event.target.value);
              if (view === undefined) return;
              onQuery(view.query);
              onColumns(shelfColumns.filter((column) => view.columns.includes(column)));
            }}
          >
            <option value="">as set</option>
            {views.map((view) => (
              <option key={view.id} value={view.id}>
                {view.name}
              </option>
            ))}
          </select>
        </span>
      )}
      <Button look="quiet" aria-expanded={open} onClick={() => setOpen(!open)}>
        Columns and views
      </Button>
      {open && <Choices query={query} columns={columns} current={current?.id ?? null} onColumns={onColumns} />}
    </>
  );
}

type ChoicesProps = Omit<Props, 'onQuery'> & Readonly<{ current: string | null }>;

function Choices({ query, columns, current, onColumns }: ChoicesProps) {
  const [name, setName] = useState('');
  const save = useChange(client.shelving.saveView, (view) => `The view “${view.name}” is kept.`);
  const remove = useChange(client.shelving.removeView, () => 'The view is removed. Ctrl+Z brings it back.');
  const error = save.error ?? remove.error;
  return (
    <fieldset className="view-choices">
      <legend className="visually-hidden">Columns and views</legend>
      <span className="view-columns">
        {shelfColumns.map((column) => (
          <label key={column}>
            <input
              type="checkbox"
              checked={columns.includes(column)}
              onChange={(event) =>
                onColumns(shelfColumns.filter((one) => (one === column ? event.target.checked : columns.includes(one))))
              }
            />
            {column}
          </label>
        ))}
      </span>
      <TextField name="Keep this view as" value={name} onChange={(event) => setName(event.target.value)} />
      <Button
        disabled={name.trim() === '' || save.isPending}
        onClick={() => save.mutate({ name, query, columns: [...columns] }, { onSuccess: () => setName('') })}
      >
        Keep view
      </Button>
      {current !== null && (
        <Button look="quiet" onClick={() => remove.mutate({ id: current })}>
          Remove this view
        </Button>
      )}
      {error !== null && (
        <p className="field-trouble" role="alert">
          {readTrouble(error).sentence}
        </p>
      )}
    </fieldset>
  );
}
