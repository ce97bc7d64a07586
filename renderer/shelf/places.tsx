/** Where the books stand, as a tree that can be changed; and the lots they came in, with what each cost. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { LotDetails, PlaceNode } from '../../core/contract/shelving.ts';
import { readNumber } from '../../core/units/numbers.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { goTo } from '../app/route.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { Refusal } from '../parts/refusal.ts';
import { SavedText } from '../parts/saved.tsx';
import './places.css';

export function PlacesAndLots() {
  const places = useQuery(ask.shelving.places.queryOptions());
  const lots = useQuery(ask.shelving.lots.queryOptions());
  const error = places.error ?? lots.error;
  if (error !== null) return <TroubleNotice error={error} />;
  return (
    <div className="keeping">
      <header className="keeping-head">
        <h2>Places and lots</h2>
        <Button look="quiet" onClick={() => goTo('shelf')}>
          Back to the shelf
        </Button>
      </header>
      <section aria-label="Places">
        <h3>Places</h3>
        <p className="soft">
          A place may be in another: a shelf in a case, a case in a room, books in a box. Moved, it takes all that is in
          it along.
        </p>
        <Branch all={places.data ?? []} parentId={null} />
        <AddPlace parentId={null} />
      </section>
      <section aria-label="Lots">
        <h3>Lots</h3>
        {lots.data?.length === 0 && <p className="soft">No lot yet: name one when a book is put in.</p>}
        {lots.data?.map((lot) => (
          <Lot key={lot.id} lot={lot} />
        ))}
      </section>
    </div>
  );
}

function Branch({ all, parentId }: Readonly<{ all: readonly PlaceNode[]; parentId: string | null }>) {
  const here = all.filter((node) => node.parentId === parentId);
  if (here.length === 0) return null;
  return (
    <ul className="place-branch">
      {here.map((node) => (
        <li key={node.id}>
          <Node node={node} all={all} />
          <Branch all={all} parentId={node.id} />
        </li>
      ))}
    </ul>
  );
}

function Node({ node, all }: Readonly<{ node: PlaceNode; all: readonly PlaceNode[] }>) {
  const [open, setOpen] = useState(false);
  const save = useChange(client.shelving.savePlace, () => 'The place is changed. Ctrl+Z takes it back.');
  const remove = useChange(client.shelving.removePlace, () => 'The place is removed. Ctrl+Z brings it back.');
  const error = save.error ?? remove.error;
  return (
    <div className="place-node">
      <span>
        {node.name}{' '}
        <span className="soft">
          {node.within} {node.within === 1 ? 'book' : 'books'}
        </span>
      </span>
      <Button look="quiet" aria-expanded={open} aria-label={`Change ${node.name}`} onClick={() => setOpen(!open)}>
        {open ? 'Done' : 'Change'}
      </Button>
      {open && (
        <div className="fields place-fields">
          <SavedText
            name="Name"
            value={node.name}
            keep={async (name) => {
              await save.mutateAsync({ id: node.id, name });
            }}
          />
          <SelectField
            name="In"
            value={node.parentId ?? ''}
            options={[
              { value: '', words: 'nothing: it stands by itself' },
              ...all.filter(({ id }) => id !== node.id).map((one) => ({ value: one.id, words: pathOf(one, all) })),
            ]}
            onChange={(event) => save.mutate({ id: node.id, parentId: event.target.value || null })}
          />
          <AddPlace parentId={node.id} />
          <Button look="harm" onClick={() => remove.mutate({ id: node.id })}>
            Remove {node.name}
          </Button>
        </div>
      )}
      {error !== null && (
        <p className="field-trouble" role="alert">
          {readTrouble(error).sentence}
        </p>
      )}
    </div>
  );
}

function pathOf(node: PlaceNode, all: readonly PlaceNode[]): string {
  const path = [node.name];
  let above = all.find(({ id }) => id === node.parentId);
  while (above !== undefined && path.length < 20) {
    path.unshift(above.name);
    const { parentId } = above;
    above = all.find(({ id }) => id === parentId);
  }
  return path.join(' › ');
}

function AddPlace({ parentId }: Readonly<{ parentId: string | null }>) {
  const [name, setName] = useState('');
  const add = useChange(client.shelving.addPlace, () => null);
  return (
    <form
      className="place-add"
      onSubmit={(event) => {
        event.preventDefault();
        if (name.trim() !== '') add.mutate({ parentId, name }, { onSuccess: () => setName('') });
      }}
    >
      <TextField
        name={parentId === null ? 'A new place' : 'A new place in it'}
        value={name}
        trouble={add.error === null ? undefined : readTrouble(add.error).sentence}
        onChange={(event) => setName(event.target.value)}
      />
      <Button type="submit" disabled={name.trim() === ''}>
        Add
      </Button>
    </form>
  );
}

function Lot({ lot }: Readonly<{ lot: LotDetails }>) {
  const { currency } = useHabits();
  const remove = useChange(client.shelving.removeLot, () => 'The lot is removed. Ctrl+Z brings it back.');
  const change = useChange(client.shelving.saveLot);
  const keep = async (patch: Omit<Parameters<typeof client.shelving.saveLot>[0], 'id'>) => {
    await change.mutateAsync({ id: lot.id, ...patch });
  };
  const format = new Intl.NumberFormat('en', { style: 'currency', currency });
  const unit = 10 ** (format.resolvedOptions().maximumFractionDigits ?? 2);
  return (
    <fieldset className="lot">
      <legend>
        {lot.name}{' '}
        <span className="soft">
          {lot.books} {lot.books === 1 ? 'book' : 'books'}
          {lot.perBookMinor !== null && `, ${format.format(lot.perBookMinor / unit)} each`}
        </span>
      </legend>
      <div className="fields">
        <SavedText name="Name" value={lot.name} keep={(name) => keep({ name })} />
        <SavedText
          name="Came on (YYYY-MM-DD)"
          value={lot.acquiredOn ?? ''}
          keep={(day) => keep({ acquiredOn: day.trim() === '' ? null : day.trim() })}
        />
        <SavedText
          name={`Cost of all, ${currency}`}
          value={lot.costMinor === null ? '' : `${lot.costMinor / unit}`}
          keep={(typed) => {
            if (typed.trim() === '') return keep({ costMinor: null });
            const read = readNumber(typed.trim());
            if (!read.ok) throw new Refusal('This is not an amount; write 120 or 120.50.');
            return keep({ costMinor: Math.round(read.value * unit) });
          }}
        />
        <SavedText name="Note" value={lot.note} keep={(note) => keep({ note })} />
      </div>
      {lot.books === 0 && (
        <Button look="harm" onClick={() => remove.mutate({ id: lot.id })}>
          Remove the lot {lot.name}
        </Button>
      )}
    </fieldset>
  );
}
