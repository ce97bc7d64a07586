/** What was paid for a material and what was quoted, newest first, and a new quote. */
import { useState } from 'react';
import type { MaterialDetail } from '../../core/contract/stockroom.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { moneyWords } from '../parts/words.ts';
import { minorOf } from './came.tsx';
import { lotDay } from './lots.tsx';
import { typedNumber, typedWords } from './words.ts';

export function Prices({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { currency } = useHabits();
  const { prices, material } = detail;
  return (
    <details className="stock-more">
      <summary>Prices: {prices.length === 0 ? 'none noted' : `${prices.length} noted`}</summary>
      {prices.length > 0 && (
        <ul className="stock-list">
          {prices.map((price, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a price is nothing but its place in the list
            <li key={index}>
              <span className="stock-when">{lotDay(price.on)}</span>
              <span>
                {moneyWords(price.costMinor, currency)} for {typedWords(price.quantity, material.unit)}
                <span className="soft small stock-working">
                  {[price.kind, price.supplier, price.note].filter(Boolean).join(' · ')}
                </span>
              </span>
              <span className="number">
                {unitPriceWords(price.unitPriceMinor, currency)}
                <span className="soft small stock-working">a {material.unit}</span>
              </span>
            </li>
          ))}
        </ul>
      )}
      <Quote detail={detail} />
    </details>
  );
}

/** A gram of starch costs less than a penny: three figures that count. */
function unitPriceWords(minor: number, currency: string): string {
  const format = new Intl.NumberFormat(undefined, { style: 'currency', currency, maximumSignificantDigits: 3 });
  return minor < 100 ? format.format(minor / 100) : moneyWords(Math.round(minor), currency);
}

function Quote({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { currency } = useHabits();
  const { material, today } = detail;
  const blank = { on: today, pack: String(material.packQuantity), price: '', supplier: material.supplier, note: '' };
  const [draft, setDraft] = useState(blank);
  const add = useChange(client.stockroom.addQuote, ({ words }) => words);
  const trouble = add.error ? readTrouble(add.error) : null;
  const field = (key: keyof typeof blank, of: string) => ({
    value: draft[key],
    onChange: (event: Readonly<{ target: Readonly<{ value: string }> }>) =>
      setDraft({ ...draft, [key]: event.target.value }),
    trouble: trouble?.field === of ? trouble.sentence : undefined,
  });
  return (
    <form
      className="stock-form"
      aria-label="Note a price"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        add.mutate(
          {
            materialId: material.id,
            on: draft.on,
            packQuantity: typedNumber(draft.pack),
            packPriceMinor: minorOf(draft.price, currency),
            supplier: draft.supplier.trim(),
            note: draft.note.trim(),
          },
          { onSuccess: () => setDraft(blank) },
        );
      }}
    >
      <div className="fields">
        <TextField name="Quoted on" type="date" {...field('on', 'on')} />
        <TextField name={`For how much, ${material.unit}`} inputMode="decimal" {...field('pack', 'packQuantity')} />
        <TextField name={`Price, ${currency}`} inputMode="decimal" {...field('price', 'packPriceMinor')} />
        <TextField name="By" {...field('supplier', 'supplier')} />
      </div>
      <Button type="submit" disabled={add.isPending || draft.price.trim() === ''}>
        Note the price
      </Button>
      {add.error && !['on', 'packQuantity', 'packPriceMinor', 'supplier'].includes(trouble?.field ?? '') && (
        <TroubleNotice error={add.error} />
      )}
    </form>
  );
}
