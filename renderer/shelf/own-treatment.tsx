/** A treatment put together by hand: steps put in order, added and taken out, worked out as they stand, kept under a name. */
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { minutesWords, rangeWords } from '../../core/units/durations.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Caution, TroubleNotice } from '../parts/notices.tsx';
import './ways.css';

type Props = Readonly<{
  bookId: string;
  start: readonly string[];
  stopped: boolean;
  onAgree: (operations: readonly string[]) => void;
  onClose: () => void;
}>;

export function OwnTreatment({ bookId, start, stopped, onAgree, onClose }: Props) {
  const [ids, setIds] = useState(start);
  const { data: listed = [] } = useQuery(ask.operations.list.queryOptions());
  const { data: made, error } = useQuery({
    ...ask.operations.compose.queryOptions({ input: { bookId, operations: [...ids] } }),
    enabled: ids.length > 0,
    placeholderData: keepPreviousData,
  });
  const names = new Map(listed.map(({ operation }) => [operation.id, operation.name]));
  const steps = new Map(made?.steps.map((step) => [step.operationId, step]));
  const move = (from: number, to: number) =>
    setIds(ids.map((id, at) => (at === from ? (ids[to] ?? id) : at === to ? (ids[from] ?? id) : id)));
  return (
    <section aria-label="A treatment of your own" ref={bringIntoView}>
      <h4>A treatment of your own</h4>
      {ids.length === 0 && <p className="soft">No step yet: add one, or begin from a treatment you kept.</p>}
      <ol className="own-steps">
        {ids.map((id, at) => {
          const name = names.get(id) ?? id;
          const step = error === null ? steps.get(id) : undefined;
          return (
            <li key={id} className="own-step">
              <span className="own-step-name">{name}</span>
              <span className="soft">{step !== undefined && rangeWords(step.minutes.low, step.minutes.high)}</span>
              <span>
                <Button look="quiet" aria-label={`${name} sooner`} disabled={at === 0} onClick={() => move(at, at - 1)}>
                  ↑
                </Button>
                <Button
                  look="quiet"
                  aria-label={`${name} later`}
                  disabled={at === ids.length - 1}
                  onClick={() => move(at, at + 1)}
                >
                  ↓
                </Button>
                <Button
                  look="quiet"
                  aria-label={`Take out ${name}`}
                  onClick={() => setIds(ids.filter((other) => other !== id))}
                >
                  Take out
                </Button>
              </span>
            </li>
          );
        })}
      </ol>
      <div className="fields">
        <SelectField
          name="Add a step"
          value=""
          options={[
            { value: '', words: 'choose an operation' },
            ...listed
              .filter(({ operation }) => !ids.includes(operation.id))
              .map(({ operation }) => ({ value: operation.id, words: operation.name })),
          ]}
          onChange={(event) => {
            const added = event.target.value;
            // It goes where the bench's order would have it.
            const rank = new Map(listed.map(({ operation }, place) => [operation.id, place]));
            const before = ids.findIndex((id) => (rank.get(id) ?? 0) > (rank.get(added) ?? 0));
            const at = before < 0 ? ids.length : before;
            if (added !== '') setIds([...ids.slice(0, at), added, ...ids.slice(at)]);
          }}
        />
        <Kept onUse={setIds} />
      </div>
      {ids.length > 0 && error !== null && (
        <p className="field-trouble" role="alert">
          {readTrouble(error).sentence}
        </p>
      )}
      {ids.length > 0 && error === null && made !== undefined && (
        <>
          <p>
            <strong>{rangeWords(made.minutes.low, made.minutes.high)}</strong> of hand-work
            {made.waitMinutes > 0 && <>; {minutesWords(made.waitMinutes)} of drying and pressing</>}.
          </p>
          {made.keeps.length > 0 && (
            <p>
              <strong>Stays original:</strong> {made.keeps.join('; ')}.
            </p>
          )}
          {made.cautions.map(({ sentence }) => (
            <Caution key={sentence} sentence={sentence} />
          ))}
        </>
      )}
      <div className="actions">
        <Button look="main" disabled={ids.length === 0 || error !== null || stopped} onClick={() => onAgree(ids)}>
          Agree to my own treatment
        </Button>
        <Button look="quiet" onClick={onClose}>
          Give it up
        </Button>
        <a href={addressOf('shelf', 'operations')}>Operations of this bench</a>
      </div>
      <Keep ids={ids} />
    </section>
  );
}

/** It opens below all there is to say about the other ways, often out of sight. */
function bringIntoView(section: HTMLElement | null): void {
  section?.scrollIntoView({ block: 'nearest' });
}

/** Treatments kept under a name, to begin from. */
function Kept({ onUse }: Readonly<{ onUse: (operations: readonly string[]) => void }>) {
  const { data: own = [] } = useQuery(ask.operations.ownTreatments.queryOptions());
  if (own.length === 0) return null;
  return (
    <SelectField
      name="Begin from one you kept"
      value=""
      options={[{ value: '', words: 'choose a treatment' }, ...own.map(({ id, name }) => ({ value: id, words: name }))]}
      onChange={(event) => {
        const chosen = own.find(({ id }) => id === event.target.value);
        if (chosen !== undefined) onUse(chosen.operations);
      }}
    />
  );
}

function Keep({ ids }: Readonly<{ ids: readonly string[] }>) {
  const [name, setName] = useState('');
  const keep = useChange(client.operations.keepTreatment, (kept) => `“${kept.name}” is kept for other books.`);
  return (
    <div className="fields">
      <TextField name="Keep it under a name" value={name} onChange={(event) => setName(event.target.value)} />
      <div className="actions">
        <Button
          disabled={ids.length === 0 || name.trim() === '' || keep.isPending}
          onClick={() => keep.mutate({ name, operations: [...ids] }, { onSuccess: () => setName('') })}
        >
          Keep for other books
        </Button>
      </div>
      {keep.error !== null && <TroubleNotice error={keep.error} />}
    </div>
  );
}
