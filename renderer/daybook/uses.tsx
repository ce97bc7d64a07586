/** Materials of steps finished at the bench: used as planned, or corrected, and booked out of the ledger. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { PendingUse, UseInput } from '../../core/contract/daybook.ts';
import { exactWords, toMillionths } from '../../core/stock/ledger.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import { typedNumber } from '../stockroom/words.ts';

export function Uses() {
  const uses = useQuery(ask.daybook.uses.queryOptions());
  const book = useChange(client.daybook.bookUses, ({ words }) => words);
  if (uses.error) return <TroubleNotice error={uses.error} again={() => void uses.refetch()} />;
  if (!uses.data || uses.data.length === 0) return null;
  const covered = coveredOf(uses.data);
  return (
    <section className="uses" aria-label="Used, as planned">
      <div className="uses-head">
        <div>
          <h2>Used, as planned</h2>
          <p className="soft">
            Steps finished at the Bench in the last sixty days. Correct what differs; the rest goes out of the cupboard
            as it is.
          </p>
        </div>
        {covered.length > 1 && (
          <Button look="main" disabled={book.isPending} onClick={() => book.mutate({ uses: covered.map(asPlanned) })}>
            All {covered.length} as planned
          </Button>
        )}
      </div>
      {book.error && <TroubleNotice error={book.error} />}
      <ul className="uses-list">
        {uses.data.map((use) => (
          <Use key={`${use.bookId} ${use.operationId} ${use.finishedAt}`} use={use} />
        ))}
      </ul>
    </section>
  );
}

/** Those the ledger covers when they are taken one after the other. */
function coveredOf(uses: readonly PendingUse[]): readonly PendingUse[] {
  const left = new Map<string, number>();
  return uses.filter(({ lines }) => {
    const after = lines.map(({ materialId, quantity, onHand }) => ({
      materialId,
      left: (left.get(materialId) ?? onHand) - quantity,
    }));
    if (after.some((one) => one.left < 0)) return false;
    for (const one of after) left.set(one.materialId, one.left);
    return true;
  });
}

function asPlanned({ bookId, operationId, finishedAt, lines }: PendingUse): UseInput {
  const planned = lines.map(({ materialId, quantity }) => ({ materialId, quantity }));
  return { bookId, operationId, finishedAt, note: '', lines: planned };
}

function Use({ use }: Readonly<{ use: PendingUse }>) {
  const { timeZone } = useHabits();
  const [open, setOpen] = useState(false);
  const book = useChange(client.daybook.bookUses, ({ words }) => words);
  const short = use.lines.filter(({ quantity, onHand }) => quantity > onHand);
  const what = `${use.operation}, ${use.book}`;
  return (
    <li>
      <p className="uses-what">
        <strong>{use.operation}</strong>{' '}
        <a className="daybook-book" href={addressOf('shelf', use.bookId)}>
          {use.book}
        </a>{' '}
        <span className="soft small">
          finished {dayWords(use.finishedAt, timeZone)} {clockWords(use.finishedAt, timeZone)}
        </span>
      </p>
      {use.remarks.map((remark) => (
        <p key={remark} className="small">
          <Mark kind="caution" /> {remark} Nothing is booked out for it.
        </p>
      ))}
      {open ? (
        <UseForm use={use} onDone={() => setOpen(false)} />
      ) : (
        <>
          <ul className="uses-lines">
            {use.lines.map((line) => (
              <li key={line.materialId}>
                {amount(line.quantity, line.unit)} <a href={addressOf('stockroom', line.materialId)}>{line.material}</a>
                {line.from !== '' && <span className="soft small"> {line.from}</span>}
                {line.quantity > line.onHand && (
                  <span className="small uses-short">
                    <Mark kind="caution" /> the ledger holds only {exactWords(toMillionths(line.onHand), line.unit)}
                  </span>
                )}
              </li>
            ))}
          </ul>
          <div className="actions">
            {short.length === 0 && (
              <Button
                disabled={book.isPending}
                aria-label={`As planned: ${what}`}
                onClick={() => book.mutate({ uses: [asPlanned(use)] })}
              >
                As planned
              </Button>
            )}
            <Button look="quiet" aria-label={`Correct what was used: ${what}`} onClick={() => setOpen(true)}>
              Correct
            </Button>
          </div>
          {book.error && <TroubleNotice error={book.error} />}
        </>
      )}
    </li>
  );
}

function UseForm({ use, onDone }: Readonly<{ use: PendingUse; onDone: () => void }>) {
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const [lots, setLots] = useState<Readonly<Record<string, string>>>({});
  const [extra, setExtra] = useState<Readonly<{ materialId: string; quantity: string }>>({
    materialId: '',
    quantity: '',
  });
  const [note, setNote] = useState('');
  const stock = useQuery(ask.stockroom.list.queryOptions());
  const book = useChange(client.daybook.bookUses, ({ words }) => words);
  const trouble = book.error ? readTrouble(book.error) : null;
  const of = (materialId: string, quantity: number) => typed[materialId] ?? String(round(quantity));
  const others = (stock.data?.lines ?? [])
    .map((line) => line.material)
    .filter(({ id }) => !use.lines.some((line) => line.materialId === id));
  return (
    <form
      className="uses-form"
      aria-label={`What was used for ${use.operation}`}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const { bookId, operationId, finishedAt } = use;
        const lines = use.lines.map(({ materialId, quantity }) => ({
          materialId,
          quantity: typedNumber(of(materialId, quantity)),
          ...(lots[materialId] ? { lotId: lots[materialId] } : {}),
        }));
        if (extra.materialId !== '')
          lines.push({ materialId: extra.materialId, quantity: typedNumber(extra.quantity) });
        book.mutate({ uses: [{ bookId, operationId, finishedAt, note: note.trim(), lines }] }, { onSuccess: onDone });
      }}
    >
      {use.lines.map((line, index) => (
        <div className="fields" key={line.materialId}>
          <TextField
            name={`${line.material}, ${line.unit}`}
            inputMode="decimal"
            value={of(line.materialId, line.quantity)}
            onChange={(event) => setTyped({ ...typed, [line.materialId]: event.target.value })}
            trouble={trouble?.field?.startsWith(`uses.0.lines.${index}`) ? trouble.sentence : undefined}
            hint={`${exactWords(toMillionths(line.onHand), line.unit)} on hand. ${line.working}`}
          />
          {line.lots.length > 0 && (
            <SelectField
              name={`Lot of ${line.material}`}
              value={lots[line.materialId] ?? ''}
              onChange={(event) => setLots({ ...lots, [line.materialId]: event.target.value })}
              options={[
                { value: '', words: 'the first to expire first' },
                ...line.lots.map(({ id, words, past }) => ({
                  value: id,
                  words: past ? `${words}, past keeping` : words,
                })),
              ]}
            />
          )}
        </div>
      ))}
      <div className="fields">
        <SelectField
          name="Something else as well"
          value={extra.materialId}
          onChange={(event) => setExtra({ ...extra, materialId: event.target.value })}
          options={[{ value: '', words: 'nothing' }, ...others.map(({ id, name }) => ({ value: id, words: name }))]}
        />
        {extra.materialId !== '' && (
          <TextField
            name={`How much of it, ${others.find(({ id }) => id === extra.materialId)?.unit ?? ''}`}
            inputMode="decimal"
            value={extra.quantity}
            onChange={(event) => setExtra({ ...extra, quantity: event.target.value })}
            trouble={trouble?.field?.startsWith(`uses.0.lines.${use.lines.length}`) ? trouble.sentence : undefined}
          />
        )}
      </div>
      <TextField
        name="What differed"
        value={note}
        onChange={(event) => setNote(event.target.value)}
        hint="Needed where more was used than the ledger held."
      />
      {trouble && !trouble.field?.startsWith('uses.0.lines') && <TroubleNotice error={book.error} />}
      <div className="actions">
        <Button look="main" type="submit" disabled={book.isPending}>
          Book it out
        </Button>
        <Button onClick={onDone}>Not now</Button>
      </div>
    </form>
  );
}

/** A strip of mull is a few thousandths of a metre: as fine as the hand that cut it. */
function round(quantity: number): number {
  return quantity >= 1 ? Math.round(quantity * 100) / 100 : Number(quantity.toPrecision(3));
}

/** "3.7 ml", and "24 mm" of a roll where it is a few hundredths of a metre. */
export function amount(quantity: number, unit: string): string {
  if (unit === 'm' && Math.abs(quantity) < 0.1) return amount(quantity * 1000, 'mm');
  const size = Math.abs(quantity);
  if (size > 0 && size < 0.01) return `less than 0.01 ${unit}`;
  const shown = Math.round(size * 100) / 100;
  const plural = (unit === 'sheet' || unit === 'piece') && shown > 1 ? 's' : '';
  return `${quantity < 0 ? '−' : ''}${shown} ${unit}${plural}`;
}
