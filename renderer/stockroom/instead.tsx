/** What would do instead of a material, said once and shown when it runs short. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { MaterialDetail, SubstituteLine } from '../../core/contract/stockroom.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { quantityWords } from './words.ts';

/** "Kraft, 80 g would do: 12 sheets on hand, 9 of them promised to nothing." */
export function WouldDo({ substitutes }: Readonly<{ substitutes: readonly SubstituteLine[] }>) {
  return substitutes.map(({ materialId, name, unit, onHand, spare, note }) => (
    <p key={materialId} className="would-do">
      <a href={addressOf('stockroom', materialId)}>{name}</a> would do: {quantityWords(onHand, unit)} on hand
      {spareWords(onHand, spare, unit)}
      {note !== '' && <span className="soft">. {note}</span>}
    </p>
  ));
}

function spareWords(onHand: number, spare: number, unit: SubstituteLine['unit']): string {
  if (spare <= 0) return ', all of it promised';
  const free = quantityWords(spare, unit);
  return free === quantityWords(onHand, unit) ? '' : `, ${free} of it promised to nothing`;
}

export function Instead({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { material, wouldDo } = detail;
  const stock = useQuery(ask.stockroom.list.queryOptions());
  const [chosen, setChosen] = useState('');
  const [note, setNote] = useState('');
  const save = useChange(client.stockroom.saveSubstitutes, ({ words }) => words);
  const said = wouldDo.map(({ materialId, note }) => ({ materialId, note }));
  const taken = new Set([material.id, ...said.map(({ materialId }) => materialId)]);
  const others = (stock.data?.lines ?? [])
    .map((line) => line.material)
    .filter(({ id }) => !taken.has(id))
    .toSorted((one, other) => Number(other.kind === material.kind) - Number(one.kind === material.kind));
  const keep = (substitutes: typeof said) => save.mutate({ materialId: material.id, substitutes });
  return (
    <details className="stock-more">
      <summary>
        Instead of it: {wouldDo.length === 0 ? 'nothing said' : wouldDo.map(({ name }) => name).join(', ')}
      </summary>
      <ul className="stock-list instead-list">
        {wouldDo.map((line) => (
          <li key={line.materialId}>
            <span>
              <WouldDo substitutes={[line]} />
            </span>
            <Button
              look="quiet"
              aria-label={`It would not: ${line.name}`}
              onClick={() => keep(said.filter(({ materialId }) => materialId !== line.materialId))}
            >
              It would not
            </Button>
          </li>
        ))}
      </ul>
      <form
        className="stock-form"
        aria-label="What would do instead"
        onSubmit={(event) => {
          event.preventDefault();
          keep([...said, { materialId: chosen, note: note.trim() }]);
          setChosen('');
          setNote('');
        }}
      >
        <div className="fields">
          <SelectField
            name="This would do"
            value={chosen}
            onChange={(event) => setChosen(event.target.value)}
            options={[
              { value: '', words: 'choose a material' },
              ...others.map(({ id, name }) => ({ value: id, words: name })),
            ]}
          />
          <TextField name="What to mind" value={note} onChange={(event) => setNote(event.target.value)} />
        </div>
        <Button type="submit" disabled={chosen === '' || save.isPending}>
          Keep
        </Button>
      </form>
      {save.error && <TroubleNotice error={save.error} />}
    </details>
  );
}
