/** An operation as a form: what it is, its minutes and how they grow, waiting, tools, materials, cautions, and what comes before it. */
import { type FormEvent, useState } from 'react';
import { damages, type Level, levels, parts } from '../../../core/book/book.ts';
import type { ListedOperation } from '../../../core/contract/operations.ts';
import { type MeasureName, measureNames, measureWords, type Operation } from '../../../core/treatment/operation.ts';
import {
  type Attention,
  attentions,
  type Danger,
  dangers,
  type ToolKind,
  toolKinds,
} from '../../../core/treatment/treatment.ts';
import { client, readTrouble } from '../../app/client.ts';
import { useChange } from '../../app/queries.ts';
import { Button, LongField, SelectField, TextField } from '../../parts/controls.tsx';
import { Choice, Figure, Part } from './fields.tsx';
import { MaterialRules } from './material-rules.tsx';

type Draft = Omit<Operation, 'id' | 'version'>;

const blank: Draft = {
  name: '',
  level: 'newcomer',
  minutes: { low: 5, likely: 10, high: 20 },
  grows: null,
  atMost: 1,
  wait: null,
  tools: [],
  attention: 'none',
  needs: [],
  cautions: [],
  source: 'own practice',
  requires: [],
  after: [],
  keeps: null,
  onCovering: false,
  invasive: false,
};

type Props = Readonly<{ operation: Operation | null; all: readonly ListedOperation[]; onDone: () => void }>;

export function OperationForm({ operation, all, onDone }: Props) {
  const [draft, setDraft] = useState<Draft>(operation ?? blank);
  const save = useChange(client.operations.save, ({ version }) => `Kept as version ${version}. Ctrl+Z takes it back.`);
  const trouble = save.error === null ? null : readTrouble(save.error);
  const set = (patch: Partial<Draft>) => setDraft((before) => ({ ...before, ...patch }));
  const at = (field: string) => (trouble?.field?.split('.').includes(field) ? trouble.sentence : undefined);
  const { minutes, grows, wait } = draft;

  function keep(event: FormEvent): void {
    event.preventDefault();
    const { id: _, version: __, ...written } = draft as Operation;
    const input = { id: operation?.id ?? null, operation: structuredClone(written) } as Parameters<
      typeof client.operations.save
    >[0];
    save.mutate(input, { onSuccess: onDone });
  }

  return (
    <form className="operations" onSubmit={keep}>
      <Part name="What it is">
        <div className="operation-line">
          <TextField
            name="Name"
            value={draft.name}
            trouble={at('name')}
            onChange={(event) => set({ name: event.target.value })}
          />
          <Choice name="For" value={draft.level} words={levels} onChange={(level) => set({ level: level as Level })} />
          <Choice
            name="A tutor is"
            value={draft.attention}
            words={attentions}
            onChange={(attention) => set({ attention: attention as Attention })}
          />
          <TextField
            name="Source of steps and times"
            value={draft.source}
            trouble={at('source')}
            onChange={(event) => set({ source: event.target.value })}
          />
        </div>
        <div className="operation-line">
          <TextField
            name="Original material that stays by it"
            value={draft.keeps ?? ''}
            onChange={(event) => set({ keeps: event.target.value === '' ? null : event.target.value })}
          />
          <Check name="It touches the covering" on={draft.onCovering} onChange={(onCovering) => set({ onCovering })} />
          <Check
            name="It cannot be undone without trace"
            on={draft.invasive}
            onChange={(invasive) => set({ invasive })}
          />
        </div>
      </Part>
      <Part name="Minutes of hand-work">
        <div className="operation-line">
          {(['low', 'likely', 'high'] as const).map((point) => (
            <Figure
              key={point}
              name={{ low: 'Shortest', likely: 'Usual', high: 'Longest' }[point]}
              value={minutes[point]}
              onChange={(value) => set({ minutes: { ...minutes, [point]: value } })}
            />
          ))}
          <SelectField
            name="They grow with"
            value={grows?.by ?? ''}
            options={[
              { value: '', words: 'nothing' },
              ...measureNames.map((name) => ({ value: name, words: measureWords[name] })),
            ]}
            onChange={(event) => {
              const by = event.target.value as MeasureName | '';
              set({ grows: by === '' ? null : { from: grows?.from ?? 1, fixedShare: grows?.fixedShare ?? 0.5, by } });
            }}
          />
          {grows !== null && (
            <>
              <Figure
                name="Minutes are meant for"
                value={grows.from}
                onChange={(from) => set({ grows: { ...grows, from } })}
              />
              <Figure
                name="Of 100, stay whatever the size"
                value={Math.round(grows.fixedShare * 100)}
                onChange={(share) => set({ grows: { ...grows, fixedShare: Math.min(1, share / 100) } })}
              />
            </>
          )}
          <Figure name="On one book at most" value={draft.atMost} onChange={(atMost) => set({ atMost })} />
        </div>
        {at('minutes') !== undefined && <p className="field-trouble">{at('minutes')}</p>}
      </Part>
      <Part name="Waiting and tools">
        <div className="operation-line">
          <Figure
            name="Minutes of waiting after it (0 for none)"
            value={wait?.minutes ?? 0}
            onChange={(value) =>
              set({
                wait: value === 0 ? null : { minutes: value, held: wait?.held ?? 'air', what: wait?.what ?? 'drying' },
              })
            }
          />
          {wait !== null && (
            <>
              <Choice
                name="Held by"
                value={wait.held}
                words={['air', ...toolKinds]}
                onChange={(held) => set({ wait: { ...wait, held: held as ToolKind | 'air' } })}
              />
              <TextField
                name="What it waits for"
                value={wait.what}
                onChange={(event) => set({ wait: { ...wait, what: event.target.value } })}
              />
            </>
          )}
        </div>
        <Many
          name="Tools it takes"
          all={toolKinds}
          chosen={draft.tools}
          onChange={(tools) => set({ tools: tools as ToolKind[] })}
        />
      </Part>
      <MaterialRules needs={draft.needs} onNeeds={(needs) => set({ needs })} />
      <Part name="Cautions">
        <p className="soft">
          A tool or material that can hurt needs one; it stands beside the step wherever it is shown.
        </p>
        {draft.cautions.map((caution, place) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: lines have no name of their own, and are only added at the end
          <div className="operation-line" key={`${place}`}>
            <Choice
              name="Danger"
              value={caution.danger}
              words={dangers}
              onChange={(danger) =>
                set({ cautions: put(draft.cautions, place, { ...caution, danger: danger as Danger }) })
              }
            />
            <LongField
              name="What to do, in a sentence"
              value={caution.sentence}
              onChange={(event) =>
                set({ cautions: put(draft.cautions, place, { ...caution, sentence: event.target.value }) })
              }
            />
            <Button
              look="quiet"
              onClick={() => set({ cautions: draft.cautions.filter((_, other) => other !== place) })}
            >
              Take away
            </Button>
          </div>
        ))}
        {at('cautions') !== undefined && <p className="field-trouble">{at('cautions')}</p>}
        <div className="actions">
          <Button onClick={() => set({ cautions: [...draft.cautions, { danger: 'blade', sentence: '' }] })}>
            Add a caution
          </Button>
        </div>
      </Part>
      <Part name="What comes before it">
        <Before draft={draft} self={operation?.id ?? null} all={all} onDraft={set} />
        {at('after') !== undefined && <p className="field-trouble">{at('after')}</p>}
      </Part>
      <Part name="Findings that call for it">
        {operation !== null && (draft.calledBy ?? []).length === 0 && (
          <p className="soft">None but those of the rules the program brings.</p>
        )}
        {(draft.calledBy ?? []).map((call, place) => {
          const calls = draft.calledBy ?? [];
          const change = (patch: Partial<typeof call>) => set({ calledBy: put(calls, place, { ...call, ...patch }) });
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: lines have no name of their own, and are only added at the end
            <div className="operation-line" key={`${place}`}>
              <Choice
                name="Part"
                value={call.part}
                words={parts}
                onChange={(part) => change({ part: part as typeof call.part })}
              />
              <Choice
                name="Damage"
                value={call.damage}
                words={damages}
                onChange={(damage) => change({ damage: damage as typeof call.damage })}
              />
              <Choice
                name="From degree"
                value={`${call.from}`}
                words={['1', '2', '3']}
                onChange={(from) => change({ from: Number(from) as 1 | 2 | 3 })}
              />
              <Choice
                name="To degree"
                value={`${call.to}`}
                words={['1', '2', '3']}
                onChange={(to) => change({ to: Number(to) as 1 | 2 | 3 })}
              />
              <Button look="quiet" onClick={() => set({ calledBy: calls.filter((_, other) => other !== place) })}>
                Take away
              </Button>
            </div>
          );
        })}
        <div className="actions">
          <Button
            onClick={() =>
              set({ calledBy: [...(draft.calledBy ?? []), { part: 'boards', damage: 'worn', from: 1, to: 3 }] })
            }
          >
            Add a finding
          </Button>
        </div>
      </Part>
      {trouble !== null && (
        <p className="field-trouble" role="alert">
          {trouble.sentence}
        </p>
      )}
      <div className="actions">
        <Button look="main" type="submit" disabled={save.isPending}>
          {operation === null ? 'Keep this operation' : 'Keep as a new version'}
        </Button>
      </div>
    </form>
  );
}

type BeforeProps = Readonly<{
  draft: Draft;
  self: string | null;
  all: readonly ListedOperation[];
  onDraft: (patch: Partial<Draft>) => void;
}>;

/** Each line one of which must be done; and what it follows where that is done at all. */
function Before({ draft, self, all, onDraft }: BeforeProps) {
  const others = all.filter(({ operation }) => operation.id !== self);
  const names = new Map(others.map(({ operation }) => [operation.id, operation.name]));
  const options = (first: string) => [
    { value: '', words: first },
    ...others.map(({ operation }) => ({ value: operation.id, words: operation.name })),
  ];
  return (
    <>
      {draft.requires.map((group, place) => (
        <p key={group.join('|')}>
          Needs {group.map((id) => `“${names.get(id) ?? id}”`).join(' or ')}{' '}
          <Button
            look="quiet"
            onClick={() => onDraft({ requires: draft.requires.filter((_, other) => other !== place) })}
          >
            Take away
          </Button>
        </p>
      ))}
      {draft.after.map((id) => (
        <p key={id}>
          Comes after “{names.get(id) ?? id}” where that is done{' '}
          <Button look="quiet" onClick={() => onDraft({ after: draft.after.filter((other) => other !== id) })}>
            Take away
          </Button>
        </p>
      ))}
      <div className="operation-line">
        <SelectField
          name="It comes after"
          value=""
          options={options('choose an operation')}
          onChange={(event) => {
            const id = event.target.value;
            if (id !== '' && !draft.after.includes(id)) onDraft({ after: [...draft.after, id] });
          }}
        />
        <SelectField
          name="It cannot be done without"
          value=""
          options={options('choose an operation')}
          onChange={(event) => {
            const id = event.target.value;
            if (id !== '') onDraft({ requires: [...draft.requires, [id]] });
          }}
        />
        {draft.requires.length > 0 && (
          <SelectField
            name="… or, for the last line, without"
            value=""
            options={options('choose an operation')}
            onChange={(event) => {
              const id = event.target.value;
              const last = draft.requires.at(-1) ?? [];
              if (id !== '' && !last.includes(id))
                onDraft({ requires: [...draft.requires.slice(0, -1), [...last, id]] });
            }}
          />
        )}
      </div>
    </>
  );
}

function put<T>(list: readonly T[], at: number, value: T): readonly T[] {
  return list.map((one, place) => (place === at ? value : one));
}

function Check({ name, on, onChange }: Readonly<{ name: string; on: boolean; onChange: (on: boolean) => void }>) {
  return (
    <div className="operation-checks">
      <label>
        <input type="checkbox" checked={on} onChange={(event) => onChange(event.target.checked)} />
        {name}
      </label>
    </div>
  );
}

type ManyProps = Readonly<{
  name: string;
  all: readonly string[];
  chosen: readonly string[];
  onChange: (chosen: readonly string[]) => void;
}>;

function Many({ name, all, chosen, onChange }: ManyProps) {
  return (
    <fieldset className="operation-checks" aria-label={name}>
      {all.map((word) => (
        <label key={word}>
          <input
            type="checkbox"
            checked={chosen.includes(word)}
            onChange={(event) =>
              onChange(event.target.checked ? [...chosen, word] : chosen.filter((other) => other !== word))
            }
          />
          {word}
        </label>
      ))}
    </fieldset>
  );
}
