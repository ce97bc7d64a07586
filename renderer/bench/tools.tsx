/** Presses and tools, each with its places: what the plan may use. */
import { useState } from 'react';
import type { Tool } from '../../core/contract/bench.ts';
import { type ToolKind, toolKinds } from '../../core/treatment/treatment.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';

export function Tools({ tools }: Readonly<{ tools: readonly Tool[] }>) {
  const [editing, setEditing] = useState<Tool | 'new' | null>(null);
  const remove = useChange(client.bench.removeTool, ({ name }) => `Removed ${name}.`);
  return (
    <section className="tools" aria-label="Tools">
      <div className="table-scroll">
        <table className="table">
          <thead>
            <tr>
              <th scope="col">Tool</th>
              <th scope="col">Kind</th>
              <th scope="col" className="number">
                Places
              </th>
              <th scope="col">Note</th>
              <th scope="col">
                <span className="visually-hidden">Change</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {tools.map((tool) => (
              <tr key={tool.id}>
                <td>{tool.name}</td>
                <td>{tool.kind}</td>
                <td className="number">{tool.capacity}</td>
                <td className="soft">{tool.note}</td>
                <td>
                  <span className="actions">
                    <Button look="quiet" aria-label={`Change ${tool.name}`} onClick={() => setEditing(tool)}>
                      Change
                    </Button>
                    <Button
                      look="quiet"
                      aria-label={`Remove ${tool.name}`}
                      onClick={() => remove.mutate({ id: tool.id })}
                    >
                      Remove
                    </Button>
                  </span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {remove.error && <TroubleNotice error={remove.error} />}
      {editing ? (
        <ToolForm
          key={editing === 'new' ? 'new' : editing.id}
          tool={editing === 'new' ? null : editing}
          onDone={() => setEditing(null)}
        />
      ) : (
        <Button onClick={() => setEditing('new')}>Add a tool</Button>
      )}
    </section>
  );
}

function ToolForm({ tool, onDone }: Readonly<{ tool: Tool | null; onDone: () => void }>) {
  const [kind, setKind] = useState<ToolKind>(tool?.kind ?? 'nipping press');
  const [name, setName] = useState(tool?.name ?? '');
  const [places, setPlaces] = useState(String(tool?.capacity ?? 1));
  const [note, setNote] = useState(tool?.note ?? '');
  const save = useChange(client.bench.saveTool, (saved) => `Kept ${saved.name}.`);
  const trouble = save.error ? readTrouble(save.error) : null;
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        const capacity = places.trim() === '' ? Number.NaN : Number(places);
        save.mutate({ ...(tool ? { id: tool.id } : {}), kind, name, capacity, note }, { onSuccess: onDone });
      }}
    >
      <div className="fields">
        <SelectField
          name="Kind"
          value={kind}
          onChange={(event) => setKind(event.target.value as ToolKind)}
          options={toolKinds.map((value) => ({ value, words: value }))}
        />
        <TextField name="Name" value={name} onChange={(event) => setName(event.target.value)} trouble={at('name')} />
        <TextField
          name="Places"
          inputMode="numeric"
          value={places}
          onChange={(event) => setPlaces(event.target.value)}
          trouble={at('capacity')}
        />
        <TextField name="Note" value={note} onChange={(event) => setNote(event.target.value)} trouble={at('note')} />
      </div>
      {save.error && trouble?.field === undefined && <TroubleNotice error={save.error} />}
      <div className="actions tools-actions">
        <Button look="main" type="submit">
          Keep
        </Button>
        <Button onClick={onDone}>Cancel</Button>
      </div>
    </form>
  );
}
