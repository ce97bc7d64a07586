/** Planning cuts: what the treatments need or what is typed in, out of sheets and offcuts, and the plan to follow at the shear. */
import { useMutation, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { CuttingHabits, PartToCut, PlannedCut } from '../../core/contract/offcuts.ts';
import { type PieceKind, pieceKinds } from '../../core/salvage/piece.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Notice, TroubleNotice } from '../parts/notices.tsx';
import { CutPlanView } from './cut-plan.tsx';
import { OffcutsHead } from './head.tsx';
import { lengthOf, useLengths } from './words.ts';

export function Cut() {
  const list = useQuery(ask.offcuts.cutList.queryOptions());
  const habits = useQuery(ask.offcuts.cuttingHabits.queryOptions());
  const [kind, setKind] = useState<PieceKind | null>(null);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [typed, setTyped] = useState<readonly PartToCut[]>([]);
  const [changed, setChanged] = useState<Partial<Settings>>({});
  const [leave, setLeave] = useState<ReadonlyMap<string, string>>(new Map());
  const keepHabits = useChange(client.offcuts.saveCuttingHabits, () => 'How this bench cuts is kept.');
  const plan = useMutation({
    mutationFn: (input: Parameters<typeof client.offcuts.planCut>[0]) => client.offcuts.planCut(input),
  });
  if (list.error) return <TroubleNotice error={list.error} again={() => void list.refetch()} />;
  if (habits.error) return <TroubleNotice error={habits.error} again={() => void habits.refetch()} />;
  if (!list.data || !habits.data) return null;
  const settings = { ...typedHabits(habits.data), ...changed };
  const all = [...typed, ...list.data];
  const counted = pieceKinds.map((value) => ({ value, count: all.filter((part) => part.kind === value).length }));
  const shown = kind ?? counted.find(({ count }) => count > 0)?.value ?? 'book cloth';
  const parts = all.filter((part) => part.kind === shown);
  const wanted = parts.filter((part) => !left.has(part.id));

  async function make(): Promise<void> {
    const asked = readHabits(settings);
    if (Object.keys(changed).length > 0) {
      try {
        await keepHabits.mutateAsync(asked);
      } catch {
        // Said beside the settings.
        return;
      }
      setChanged({});
    }
    plan.mutate({
      kind: shown,
      parts: wanted.map(({ book: _, kind: __, ...part }) => part),
      leave: [...leave.keys()],
      ...asked,
    });
  }

  return (
    <div className="offcuts">
      <OffcutsHead view="cut" />
      <div className="cut-columns">
        <section aria-label="What to cut">
          <SelectField
            name="Material"
            value={shown}
            onChange={(event) => {
              setKind(event.target.value as PieceKind);
              plan.reset();
            }}
            options={counted.map(({ value, count }) => ({
              value,
              words: count === 0 ? value : `${value} (${count})`,
            }))}
          />
          <PartList
            parts={parts}
            left={left}
            onLeft={(next) => {
              setLeft(next);
              plan.reset();
            }}
          />
          <AddPart
            kind={shown}
            onAdd={(part) => {
              setTyped([...typed, part]);
              plan.reset();
            }}
          />
          <SettingsFields
            settings={settings}
            onSettings={setChanged}
            trouble={keepHabits.error ? readTrouble(keepHabits.error) : null}
          />
          {keepHabits.error && <TroubleNotice error={keepHabits.error} />}
          {plan.error && <TroubleNotice error={plan.error} />}
          <div className="actions piece-actions">
            <Button
              look="main"
              disabled={wanted.length === 0 || plan.isPending || keepHabits.isPending}
              onClick={() => void make()}
            >
              {plan.isPending ? 'Planning …' : `Plan ${wanted.length} ${wanted.length === 1 ? 'line' : 'lines'}`}
            </Button>
          </div>
        </section>
        <section aria-label="The cutting plan">
          {plan.data ? (
            <>
              <StockList stock={plan.data.stock} leave={leave} onLeave={setLeave} />
              <CutPlanView key={plan.data.planId} planned={plan.data} onAccepted={() => plan.reset()} />
            </>
          ) : (
            <p className="soft">
              Choose what to cut and plan it: first out of offcuts, then at least cost, every cut edge to edge, every
              piece with its grain.
            </p>
          )}
        </section>
      </div>
    </div>
  );
}

function numberOf(text: string): number {
  return Number(text.replace(',', '.'));
}

type ListProps = Readonly<{
  parts: readonly PartToCut[];
  left: ReadonlySet<string>;
  onLeft: (left: ReadonlySet<string>) => void;
}>;

function PartList({ parts, left, onLeft }: ListProps) {
  const words = useLengths();
  if (parts.length === 0) return <p className="soft">No treatment asks for this. Add a piece below.</p>;
  const toggle = (id: string, take: boolean) => {
    const next = new Set(left);
    if (take) next.delete(id);
    else next.add(id);
    onLeft(next);
  };
  const allTaken = parts.every((part) => !left.has(part.id));
  return (
    <div className="table-scroll cut-list">
      <table className="table">
        <thead>
          <tr>
            <th scope="col">
              <input
                type="checkbox"
                aria-label="Cut all"
                checked={allTaken}
                onChange={() => onLeft(new Set(allTaken ? parts.map((part) => part.id) : []))}
              />
            </th>
            <th scope="col">Piece</th>
            <th scope="col" className="number">
              Height × width
            </th>
            <th scope="col" className="number">
              Copies
            </th>
          </tr>
        </thead>
        <tbody>
          {parts.map(({ id, what, book, bookId, heightMm, widthMm, grain, count }) => (
            <tr key={id}>
              <td>
                <input
                  type="checkbox"
                  aria-label={`Cut ${what}${book === '' ? '' : ` for ${book}`}`}
                  checked={!left.has(id)}
                  onChange={(event) => toggle(id, event.target.checked)}
                />
              </td>
              <td>
                {what}
                {bookId !== null && (
                  <>
                    {', '}
                    <a className="book-title" href={addressOf('shelf', bookId)}>
                      {book}
                    </a>
                  </>
                )}
              </td>
              <td className="number">
                {words(heightMm)} × {words(widthMm)}
                {grain === 'any' && <span className="soft"> either way</span>}
              </td>
              <td className="number">{count}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const blank = { what: '', height: '', width: '', count: '1', grain: 'along height' };

function AddPart({ kind, onAdd }: Readonly<{ kind: PieceKind; onAdd: (part: PartToCut) => void }>) {
  const { units } = useHabits();
  const [draft, setDraft] = useState(blank);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [next, setNext] = useState(1);
  const set = (key: keyof typeof blank) => (event: { target: { value: string } }) =>
    setDraft({ ...draft, [key]: event.target.value });
  return (
    <details>
      <summary>Add a piece</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          try {
            const [heightMm, widthMm] = [lengthOf(draft.height, units), lengthOf(draft.width, units)];
            onAdd({
              id: `typed.${kind}.${next}`,
              bookId: null,
              book: '',
              kind,
              what: draft.what.trim() || 'piece',
              heightMm,
              widthMm,
              grain: draft.grain as PartToCut['grain'],
              count: Math.max(1, Math.round(numberOf(draft.count)) || 1),
            });
            setNext(next + 1);
            setTrouble(null);
            setDraft({ ...draft, height: '', width: '' });
          } catch (error) {
            setTrouble(readTrouble(error).sentence);
          }
        }}
      >
        <div className="fields">
          <TextField name="What" value={draft.what} onChange={set('what')} />
          <TextField name="Height" value={draft.height} onChange={set('height')} />
          <TextField name="Width" value={draft.width} onChange={set('width')} />
          <TextField name="Copies" inputMode="numeric" value={draft.count} onChange={set('count')} />
          <SelectField
            name="Grain runs"
            value={draft.grain}
            onChange={set('grain')}
            options={[
              { value: 'along height', words: 'along the height' },
              { value: 'any', words: 'either way' },
            ]}
          />
        </div>
        {trouble !== null && (
          <Notice kind="caution">
            <p role="alert">{trouble}</p>
          </Notice>
        )}
        <div className="actions piece-actions">
          <Button type="submit">Add to the list</Button>
        </div>
      </form>
    </details>
  );
}

type Settings = Readonly<Record<'kerfMm' | 'trimMm' | 'usefulMm' | 'mostTurns', string>>;

function typedHabits({ kerfMm, trimMm, usefulMm, mostTurns }: CuttingHabits): Settings {
  return {
    kerfMm: String(kerfMm),
    trimMm: String(trimMm),
    usefulMm: String(usefulMm),
    mostTurns: mostTurns === null ? '' : String(mostTurns),
  };
}

function readHabits({ kerfMm, trimMm, usefulMm, mostTurns }: Settings): CuttingHabits {
  return {
    kerfMm: numberOf(kerfMm),
    trimMm: numberOf(trimMm),
    usefulMm: numberOf(usefulMm),
    mostTurns: mostTurns.trim() === '' ? null : numberOf(mostTurns),
  };
}

type SettingsProps = Readonly<{
  settings: Settings;
  onSettings: (settings: Settings) => void;
  trouble: Readonly<{ field?: string | undefined; sentence: string }> | null;
}>;

/** Kept with the workshop when the next plan is made with them. */
function SettingsFields({ settings, onSettings, trouble }: SettingsProps) {
  const field = (key: keyof Settings) => ({
    value: settings[key],
    onChange: (event: { target: { value: string } }) => onSettings({ ...settings, [key]: event.target.value }),
    trouble: trouble?.field === key ? trouble.sentence : undefined,
  });
  return (
    <details open={trouble !== null || undefined}>
      <summary>Blade, trim, remnants, turns</summary>
      <div className="fields">
        <TextField name="Blade takes, mm" inputMode="decimal" {...field('kerfMm')} hint="0 for knife or shear" />
        <TextField name="Trim off new sheets, mm" inputMode="decimal" {...field('trimMm')} hint="all round" />
        <TextField
          name="Keep remnants from, mm"
          inputMode="decimal"
          {...field('usefulMm')}
          hint="short side; twice that long"
        />
        <TextField
          name="Turns of the work"
          inputMode="numeric"
          {...field('mostTurns')}
          hint="at most, so one more stage than that; empty for any"
        />
      </div>
    </details>
  );
}

type StockProps = Readonly<{
  stock: PlannedCut['stock'];
  /** Names of what is not to be touched, by id. */
  leave: ReadonlyMap<string, string>;
  onLeave: (leave: ReadonlyMap<string, string>) => void;
}>;

/** What the plan may be cut from; what is left out is left out of the next plan. */
function StockList({ stock, leave, onLeave }: StockProps) {
  const lines = stock.map(({ id, name }) => ({ id, words: name }));
  const gone = [...leave].filter(([id]) => !lines.some((line) => line.id === id)).map(([id, words]) => ({ id, words }));
  return (
    <details>
      <summary>
        Cut from {lines.length} {lines.length === 1 ? 'material or piece' : 'materials and pieces'}
        {leave.size > 0 && `; ${leave.size} left out of the next plan`}
      </summary>
      <ul className="cut-stock">
        {[...lines, ...gone].map(({ id, words }) => (
          <li key={id}>
            <label>
              <input
                type="checkbox"
                checked={!leave.has(id)}
                onChange={() => {
                  const next = new Map(leave);
                  if (!next.delete(id)) next.set(id, words);
                  onLeave(next);
                }}
              />{' '}
              {words}
            </label>
          </li>
        ))}
      </ul>
    </details>
  );
}
