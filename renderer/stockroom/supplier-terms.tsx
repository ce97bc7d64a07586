/** What a supplier asks for: postage, minimum order, how long a parcel takes. */
import { useState } from 'react';
import type { SupplierTerms } from '../../core/contract/stockroom.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { moneyWords } from '../parts/words.ts';
import { majorText, minorOf } from './came.tsx';
import { typedNumber } from './words.ts';

export function Terms({ terms }: Readonly<{ terms: SupplierTerms }>) {
  const { currency } = useHabits();
  const [open, setOpen] = useState(false);
  const name = terms.name;
  const doing = terms.id === null ? 'Say them' : 'Change';
  if (open) return <TermsForm terms={terms} onDone={() => setOpen(false)} />;
  return (
    <p className="supplier-terms">
      <span className="soft">{termsWords(terms, currency)}</span>{' '}
      <Button look="quiet" aria-label={`${doing}: terms of ${name}`} onClick={() => setOpen(true)}>
        {doing}
      </Button>
    </p>
  );
}

function termsWords(
  { id, postageMinor, freeFromMinor, minimumMinor, leadDays, note }: SupplierTerms,
  currency: string,
): string {
  if (id === null) return 'Postage and minimum order are not known.';
  const money = (minor: number) => moneyWords(minor, currency);
  const free = freeFromMinor === null ? '' : `, none from ${money(freeFromMinor)}`;
  const words = [
    postageMinor === 0 ? 'no postage' : `postage ${money(postageMinor)}${free}`,
    minimumMinor === 0 ? 'no minimum order' : `minimum order ${money(minimumMinor)}`,
    leadDays === null ? '' : `a parcel takes ${leadDays === 1 ? 'a day' : `${leadDays} days`}`,
    note,
  ];
  const said = words.filter(Boolean).join('; ');
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
}

function TermsForm({ terms, onDone }: Readonly<{ terms: SupplierTerms; onDone: () => void }>) {
  const { currency } = useHabits();
  const text = (minor: number | null) => (minor === null ? '' : majorText(minor, currency));
  const [draft, setDraft] = useState({
    postageMinor: text(terms.postageMinor),
    freeFromMinor: text(terms.freeFromMinor),
    minimumMinor: text(terms.minimumMinor),
    leadDays: terms.leadDays === null ? '' : String(terms.leadDays),
    note: terms.note,
  });
  const save = useChange(client.stockroom.saveSupplier, ({ name }) => `Kept the terms of ${name}.`);
  const trouble = save.error ? readTrouble(save.error) : null;
  const field = (key: keyof typeof draft, hint?: string) => ({
    value: draft[key],
    onChange: (event: Readonly<{ target: Readonly<{ value: string }> }>) =>
      setDraft({ ...draft, [key]: event.target.value }),
    trouble: trouble?.field === key ? trouble.sentence : undefined,
    hint,
  });
  const orNull = <T,>(typed: string, read: (typed: string) => T) => (typed.trim() === '' ? null : read(typed));
  return (
    <form
      className="stock-form"
      aria-label={`Terms of ${terms.name}`}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const money = (typed: string) => minorOf(typed, currency);
        save.mutate(
          {
            name: terms.name,
            postageMinor: money(draft.postageMinor || '0'),
            freeFromMinor: orNull(draft.freeFromMinor, money),
            minimumMinor: money(draft.minimumMinor || '0'),
            leadDays: orNull(draft.leadDays, typedNumber),
            note: draft.note.trim(),
          },
          { onSuccess: onDone },
        );
      }}
    >
      <div className="fields">
        <TextField name={`Postage, ${currency}`} inputMode="decimal" {...field('postageMinor')} />
        <TextField
          name={`None from, ${currency}`}
          inputMode="decimal"
          {...field('freeFromMinor', 'Empty: it is always asked.')}
        />
        <TextField name={`Minimum order, ${currency}`} inputMode="decimal" {...field('minimumMinor')} />
        <TextField
          name="A parcel takes, days"
          inputMode="numeric"
          {...field('leadDays', 'A material that takes longer says so itself.')}
        />
        <TextField name="Note" {...field('note')} />
      </div>
      <div className="actions">
        <Button look="main" type="submit" disabled={save.isPending}>
          Keep
        </Button>
        <Button onClick={onDone}>Cancel</Button>
      </div>
      {trouble && trouble.field === undefined && <TroubleNotice error={save.error} />}
    </form>
  );
}
