/** A material as it is bought and kept. What is refused is said at its field. */
import { useState } from 'react';
import type { MaterialInput } from '../../core/contract/stockroom.ts';
import { type Material, materialKinds, stockUnits } from '../../core/stock/material.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { digitsOf } from './came.tsx';
import { typedNumber } from './words.ts';

type Props = Readonly<{ material: Material | null; onDone: (id: string) => void; onCancel: () => void }>;

const unitWords = {
  sheet: 'sheets',
  m: 'metres',
  g: 'grams',
  ml: 'millilitres',
  piece: 'pieces',
} as const;

export function MaterialForm({ material, onDone, onCancel }: Props) {
  const { currency } = useHabits();
  const digits = digitsOf(currency);
  const [draft, setDraft] = useState(() => draftOf(material, digits));
  const save = useChange(client.stockroom.saveMaterial, ({ name }) => `Kept ${name}.`);
  const trouble = save.error ? readTrouble(save.error) : null;
  const known = new Set(Object.keys(draft));
  const field = (key: keyof Draft, hint?: string) => ({
    value: draft[key],
    onChange: (event: Readonly<{ target: Readonly<{ value: string }> }>) =>
      setDraft({ ...draft, [key]: event.target.value }),
    trouble: trouble?.field === key ? trouble.sentence : undefined,
    hint,
  });
  const sized = draft.unit === 'sheet' || draft.unit === 'm' || draft.unit === 'piece';
  return (
    <form
      className="material-form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        save.mutate(inputOf(draft, material, digits), { onSuccess: ({ id }) => onDone(id) });
      }}
    >
      <TextField name="Name" {...field('name')} />
      <div className="fields">
        <SelectField name="Kind" options={materialKinds.map((value) => ({ value, words: value }))} {...field('kind')} />
        <SelectField
          name="Counted in"
          options={stockUnits.map((value) => ({ value, words: unitWords[value] }))}
          {...field('unit')}
        />
        <TextField name={`A pack holds, ${draft.unit}`} inputMode="decimal" {...field('packQuantity')} />
        <TextField name={`Price of a pack, ${currency}`} inputMode="decimal" {...field('packPriceMinor')} />
        <TextField name="Comes in, days" inputMode="numeric" {...field('leadDays')} />
        <TextField
          name="Keeps, days"
          inputMode="numeric"
          {...field('shelfLifeDays', 'Empty where it does not spoil.')}
        />
        {sized && (
          <>
            {draft.unit !== 'm' && (
              <TextField name="Sheet height, mm" inputMode="decimal" {...field('sheetHeightMm')} />
            )}
            <TextField
              name={draft.unit === 'm' ? 'Roll width, mm' : 'Sheet width, mm'}
              inputMode="decimal"
              {...field('sheetWidthMm')}
            />
            {draft.unit !== 'm' && (
              <SelectField
                name="Grain runs"
                options={[
                  { value: '', words: 'not known or none' },
                  { value: 'long', words: 'along the long side' },
                  { value: 'short', words: 'along the short side' },
                ]}
                {...field('grain')}
              />
            )}
            <TextField name="Thickness, mm" inputMode="decimal" {...field('caliperMm')} />
          </>
        )}
        <TextField name="Colour" {...field('colour')} />
        <TextField name="Place" {...field('place')} />
        <TextField name="Supplier" {...field('supplier')} />
      </div>
      <TextField
        name="Hazard sheet"
        type="url"
        placeholder="https://"
        {...field('hazardSheet', 'Address of the maker’s safety data sheet. It is opened only when you ask for it.')}
      />
      <LongField name="Note" {...field('note')} />
      {save.error && !known.has(trouble?.field ?? '') && <TroubleNotice error={save.error} />}
      <div className="actions">
        <Button look="main" type="submit" disabled={save.isPending}>
          Keep
        </Button>
        <Button onClick={onCancel}>Cancel</Button>
      </div>
    </form>
  );
}

type Draft = Readonly<Record<Exclude<keyof Material, 'id'>, string>>;

function draftOf(material: Material | null, digits: number): Draft {
  const text = (value: number | null | undefined) => (value === null || value === undefined ? '' : String(value));
  return {
    name: material?.name ?? '',
    kind: material?.kind ?? 'kraft paper',
    unit: material?.unit ?? 'sheet',
    packQuantity: text(material?.packQuantity),
    packPriceMinor: material ? (material.packPriceMinor / 10 ** digits).toFixed(digits) : '',
    supplier: material?.supplier ?? '',
    leadDays: text(material?.leadDays ?? 7),
    shelfLifeDays: text(material?.shelfLifeDays),
    sheetHeightMm: text(material?.sheetHeightMm),
    sheetWidthMm: text(material?.sheetWidthMm),
    grain: material?.grain ?? '',
    caliperMm: text(material?.caliperMm),
    colour: material?.colour ?? '',
    place: material?.place ?? '',
    note: material?.note ?? '',
    hazardSheet: material?.hazardSheet ?? '',
  };
}

function inputOf(draft: Draft, material: Material | null, digits: number): MaterialInput {
  const orNull = (text: string) => (text.trim() === '' ? null : typedNumber(text));
  const isRoll = draft.unit === 'm';
  return {
    ...(material === null ? {} : { id: material.id }),
    name: draft.name,
    kind: draft.kind as Material['kind'],
    unit: draft.unit as Material['unit'],
    packQuantity: typedNumber(draft.packQuantity),
    packPriceMinor: Math.round(typedNumber(draft.packPriceMinor) * 10 ** digits),
    supplier: draft.supplier.trim(),
    leadDays: typedNumber(draft.leadDays),
    shelfLifeDays: orNull(draft.shelfLifeDays),
    sheetHeightMm: isRoll ? null : orNull(draft.sheetHeightMm),
    sheetWidthMm: orNull(draft.sheetWidthMm),
    grain: isRoll || draft.grain === '' ? null : (draft.grain as 'long' | 'short'),
    caliperMm: orNull(draft.caliperMm),
    colour: draft.colour.trim(),
    place: draft.place.trim(),
    note: draft.note.trim(),
    hazardSheet: draft.hazardSheet.trim(),
  };
}
