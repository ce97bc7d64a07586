/** Planning cuts: what the treatments need or what is typed in, out of sheets and offcuts, and the plan to follow at the shear. */
import { useMutation, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { PartToCut } from '../../core/contract/offcuts.ts';
import { type PieceKind, pieceKinds } from '../../core/salvage/piece.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Notice, TroubleNotice } from '../parts/notices.tsx';
import { CutPlanView } from './cut-plan.tsx';
import { OffcutsHead } from './head.tsx';
import { lengthOf, useLengths } from './words.ts';

const usual = { kerfMm: '0', trimMm: '0', usefulMm: '40', mostTurns: '' };

export function Cut() {
  const list = useQuery(ask.offcuts.cutList.queryOptions());
  const [kind, setKind] = useState<PieceKind | null>(null);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [typed, setTyped] = useState<readonly PartToCut[]>([]);
  const [settings, setSettings] = useState(usual);
  const plan = useMutation({
    mutationFn: (input: Parameters<typeof client.offcuts.planCut>[0]) => client.offcuts.planCut(input),
  });
  if (list.error) return <TroubleNotice error={list.error} again={() => void list.refetch()} />;
  if (!list.data) return null;
  const all = [...typed, ...list.data];
  const counted = pieceKinds.map((value) => ({ value, count: all.filter((part) => part.kind === value).length }));
  const shown = kind ?? counted.find(({ count }) => count > 0)?.value ?? 'book cloth';
  const parts = all.filter((part) => part.kind === shown);
  const wanted = parts.filter((part) => !left.has(part.id));

  function make(): void {
    plan.mutate({
      kind: shown,
      parts: wanted.map(({ book: _, kind: __, ...part }) => part),
      leave: [],
      kerfMm: numberOf(settings.kerfMm),
      trimMm: numberOf(settings.trimMm),
      usefulMm: numberOf(settings.usefulMm),
      mostTurns: settings.mostTurns.trim() === '' ? null : numberOf(settings.mostTurns),
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
          <Settings settings={settings} onSettings={setSettings} />
          {plan.error && <TroubleNotice error={plan.error} />}
          <div className="actions piece-actions">
            <Button look="main" disabled={wanted.length === 0 || plan.isPending} onClick={make}>
              {plan.isPending ? 'Planning …' : `Plan ${wanted.length} ${wanted.length === 1 ? 'line' : 'lines'}`}
            </Button>
          </div>
        </section>
        <section aria-label="The cutting plan">
          {plan.data ? (
            <CutPlanView planned={plan.data} onAccepted={() => plan.reset()} />
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

type Set = typeof usual;

function Settings({ settings, onSettings }: Readonly<{ settings: Set; onSettings: (settings: Set) => void }>) {
  const set = (key: keyof Set) => (event: { target: { value: string } }) =>
    onSettings({ ...settings, [key]: event.target.value });
  return (
    <details>
      <summary>Blade, trim, remnants, turns</summary>
      <div className="fields">
        <TextField
          name="Blade takes, mm"
          inputMode="decimal"
          value={settings.kerfMm}
          onChange={set('kerfMm')}
          hint="0 for knife or shear"
        />
        <TextField
          name="Trim off new sheets, mm"
          inputMode="decimal"
          value={settings.trimMm}
          onChange={set('trimMm')}
        />
        <TextField
          name="Keep remnants from, mm"
          inputMode="decimal"
          value={settings.usefulMm}
          onChange={set('usefulMm')}
          hint="short side; twice that long"
        />
        <TextField
          name="Turns of the work"
          inputMode="numeric"
          value={settings.mostTurns}
          onChange={set('mostTurns')}
          hint="at most; empty for any"
        />
      </div>
    </details>
  );
}
