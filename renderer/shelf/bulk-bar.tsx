/** One change to all marked books. */
import { useState } from 'react';
import { type Fate, fates, type Stage, stages } from '../../core/book/book.ts';
import type { BookPatch } from '../../core/contract/shelf.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { Labels } from './labels.tsx';

type Props = Readonly<{ ids: readonly string[]; onDone: () => void }>;

type What = 'fate' | 'stage' | 'place' | 'lot';

export function BulkBar({ ids, onDone }: Props) {
  const [what, setWhat] = useState<What>('fate');
  const [value, setValue] = useState('');
  const [labels, setLabels] = useState(false);
  const save = useChange(
    client.shelf.saveMany,
    ({ changed }) => `${changed.toLocaleString('en')} books changed. Ctrl+Z takes it back.`,
  );
  const remove = useChange(
    client.shelf.remove,
    ({ removed }) => `${removed.toLocaleString('en')} books removed. Ctrl+Z brings them back.`,
  );
  const sheet = useChange(client.backlog.sheet);
  const error = save.error ?? remove.error ?? sheet.error;
  const options = what === 'fate' ? ['not decided', ...fates] : what === 'stage' ? stages : null;
  const chosen = value === '' ? (options?.[0] ?? '') : value;
  return (
    <section className="bulk" aria-label="Marked books">
      <strong>{ids.length.toLocaleString('en')} marked</strong>
      <SelectField
        name="Change"
        value={what}
        options={[
          { value: 'fate', words: 'fate' },
          { value: 'stage', words: 'where it stands' },
          { value: 'place', words: 'place' },
          { value: 'lot', words: 'lot' },
        ]}
        onChange={(event) => {
          setWhat(event.target.value as What);
          setValue('');
        }}
      />
      {options === null ? (
        <TextField name="To" value={value} onChange={(event) => setValue(event.target.value)} />
      ) : (
        <SelectField
          name="To"
          value={chosen}
          options={options.map((word) => ({ value: word, words: word }))}
          onChange={(event) => setValue(event.target.value)}
        />
      )}
      <Button
        look="main"
        disabled={save.isPending}
        onClick={() => save.mutate({ ids: [...ids], patch: patchOf(what, chosen) }, { onSuccess: onDone })}
      >
        Change all {ids.length.toLocaleString('en')}
      </Button>
      <Button
        look="harm"
        disabled={remove.isPending}
        onClick={() => remove.mutate({ ids: [...ids] }, { onSuccess: onDone })}
      >
        Remove
      </Button>
      <Button disabled={sheet.isPending} onClick={() => sheet.mutate({ ids: [...ids] }, { onSuccess: saveFile })}>
        Survey sheet
      </Button>
      <Button onClick={() => setLabels(true)}>Labels</Button>
      <Button look="quiet" onClick={onDone}>
        Unmark
      </Button>
      {labels && <Labels ids={ids} onClose={() => setLabels(false)} />}
      {error !== null && (
        <p className="field-trouble" role="alert">
          {readTrouble(error).sentence}
        </p>
      )}
    </section>
  );
}

function patchOf(what: What, value: string): Pick<BookPatch, What> {
  if (what === 'fate') return { fate: value === 'not decided' ? null : (value as Fate) };
  if (what === 'stage') return { stage: value as Stage };
  return what === 'place' ? { place: value } : { lot: value };
}
