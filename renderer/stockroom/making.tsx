/** What is made here out of other materials: how, and a batch of it. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { MaterialDetail, Recipe } from '../../core/contract/stockroom.ts';
import type { Material } from '../../core/stock/material.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { typedNumber, typedWords } from './words.ts';

export function Making({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { material, recipe } = detail;
  const [changing, setChanging] = useState(false);
  const forget = useChange(client.stockroom.removeRecipe, ({ words }) => words);
  if (recipe === null) {
    return (
      <details className="stock-more">
        <summary>Made here: no</summary>
        <p className="soft small">
          Paste, size and the like: say what they are made of, and each batch becomes a lot with its days.
        </p>
        <RecipeForm material={material} recipe={null} onDone={() => setChanging(false)} />
      </details>
    );
  }
  return (
    <details className="stock-more" open>
      <summary>
        Made here: {typedWords(recipe.yield, material.unit)} of{' '}
        {recipe.ingredients.map(({ name, quantity, unit }) => `${typedWords(quantity, unit)} ${name}`).join(' and ')},
        keeps {recipe.keepsDays === 1 ? 'a day' : `${recipe.keepsDays} days`}
      </summary>
      {recipe.note !== '' && <p className="soft">{recipe.note}</p>}
      {changing ? (
        <RecipeForm material={material} recipe={recipe} onDone={() => setChanging(false)} />
      ) : (
        <>
          <Batch key={`${recipe.yield} ${recipe.ingredients.length}`} material={material} recipe={recipe} />
          <div className="actions">
            <Button look="quiet" onClick={() => setChanging(true)}>
              Change how it is made
            </Button>
            <Button look="quiet" onClick={() => forget.mutate({ materialId: material.id })}>
              It is not made here
            </Button>
          </div>
          {forget.error && <TroubleNotice error={forget.error} />}
        </>
      )}
    </details>
  );
}

function Batch({ material, recipe }: Readonly<{ material: Material; recipe: Recipe }>) {
  const [made, setMade] = useState(String(recipe.yield));
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const [reason, setReason] = useState('');
  const [number, setNumber] = useState('');
  const make = useChange(client.stockroom.makeBatch, ({ words }) => words);
  const trouble = make.error ? readTrouble(make.error) : null;
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  const share = typedNumber(made) / recipe.yield;
  /** As the recipe has it for so much, until a person says what really went in. */
  const of = (materialId: string, quantity: number) =>
    typed[materialId] ?? (Number.isFinite(share) ? String(Math.round(quantity * share * 100) / 100) : '');
  return (
    <form
      className="stock-form"
      aria-label="Make a batch"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const ingredients = recipe.ingredients.map(({ materialId, quantity }) => ({
          materialId,
          quantity: typedNumber(of(materialId, quantity)),
        }));
        make.mutate(
          {
            materialId: material.id,
            made: typedNumber(made),
            ingredients,
            reason: reason.trim(),
            number: number.trim(),
          },
          {
            onSuccess: () => {
              setTyped({});
              setReason('');
              setNumber('');
            },
          },
        );
      }}
    >
      <div className="fields">
        <TextField
          name={`Made, ${material.unit}`}
          inputMode="decimal"
          value={made}
          onChange={(event) => setMade(event.target.value)}
          trouble={at('made')}
        />
        {recipe.ingredients.map(({ materialId, name, unit, quantity, onHand }, index) => (
          <TextField
            key={materialId}
            name={`${name}, ${unit}`}
            inputMode="decimal"
            value={of(materialId, quantity)}
            onChange={(event) => setTyped({ ...typed, [materialId]: event.target.value })}
            trouble={at(`ingredients.${index}.quantity`)}
            hint={`${typedWords(onHand, unit)} on hand`}
          />
        ))}
        <TextField name="Batch number" value={number} onChange={(event) => setNumber(event.target.value)} />
      </div>
      {(trouble?.field === 'reason' || reason !== '') && (
        <TextField
          name="Why there could be more than the ledger holds"
          value={reason}
          onChange={(event) => setReason(event.target.value)}
          trouble={at('reason')}
        />
      )}
      <Button look="main" type="submit" disabled={make.isPending}>
        Made it
      </Button>
      {trouble && !/^(made|reason|ingredients\..*quantity)$/.test(trouble.field ?? '') && (
        <TroubleNotice error={make.error} />
      )}
    </form>
  );
}

type FormProps = Readonly<{ material: Material; recipe: Recipe | null; onDone: () => void }>;

function RecipeForm({ material, recipe, onDone }: FormProps) {
  const stock = useQuery(ask.stockroom.list.queryOptions());
  const others = (stock.data?.lines ?? []).map((line) => line.material).filter(({ id }) => id !== material.id);
  const [rows, setRows] = useState<readonly Readonly<{ materialId: string; quantity: string }>[]>(
    recipe?.ingredients.map(({ materialId, quantity }) => ({ materialId, quantity: String(quantity) })) ?? [
      { materialId: '', quantity: '' },
    ],
  );
  const [made, setMade] = useState(recipe ? String(recipe.yield) : '');
  const [keeps, setKeeps] = useState(String(recipe?.keepsDays ?? material.shelfLifeDays ?? 7));
  const [note, setNote] = useState(recipe?.note ?? '');
  const save = useChange(client.stockroom.saveRecipe, ({ words }) => words);
  const trouble = save.error ? readTrouble(save.error) : null;
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  const unitOf = (id: string) => others.find((one) => one.id === id)?.unit;
  return (
    <form
      className="stock-form"
      aria-label="How it is made"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const ingredients = rows
          .filter(({ materialId }) => materialId !== '')
          .map(({ materialId, quantity }) => ({ materialId, quantity: typedNumber(quantity) }));
        save.mutate(
          {
            materialId: material.id,
            yield: typedNumber(made),
            keepsDays: typedNumber(keeps),
            note: note.trim(),
            ingredients,
          },
          { onSuccess: onDone },
        );
      }}
    >
      <div className="fields">
        <TextField
          name={`One batch gives, ${material.unit}`}
          inputMode="decimal"
          value={made}
          onChange={(event) => setMade(event.target.value)}
          trouble={at('yield')}
        />
        <TextField
          name="It keeps, days"
          inputMode="numeric"
          value={keeps}
          onChange={(event) => setKeeps(event.target.value)}
          trouble={at('keepsDays')}
        />
      </div>
      {rows.map((row, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a row of a form is nothing but its place
        <div className="fields" key={index}>
          <SelectField
            name={`Ingredient ${index + 1}`}
            value={row.materialId}
            onChange={(event) => setRows(rows.with(index, { ...row, materialId: event.target.value }))}
            options={[{ value: '', words: 'none' }, ...others.map(({ id, name }) => ({ value: id, words: name }))]}
            trouble={at(`ingredients.${index}.materialId`)}
          />
          <TextField
            name={`How much of it${unitOf(row.materialId) ? `, ${unitOf(row.materialId)}` : ''}`}
            inputMode="decimal"
            value={row.quantity}
            onChange={(event) => setRows(rows.with(index, { ...row, quantity: event.target.value }))}
            trouble={at(`ingredients.${index}.quantity`)}
          />
        </div>
      ))}
      <LongField name="How" value={note} onChange={(event) => setNote(event.target.value)} />
      <div className="actions">
        <Button type="submit" look="main" disabled={save.isPending}>
          Keep
        </Button>
        <Button look="quiet" onClick={() => setRows([...rows, { materialId: '', quantity: '' }])}>
          Another ingredient
        </Button>
        {recipe !== null && <Button onClick={onDone}>Cancel</Button>}
      </div>
      {trouble && (trouble.field === undefined || trouble.field === 'ingredients') && (
        <TroubleNotice error={save.error} />
      )}
    </form>
  );
}
