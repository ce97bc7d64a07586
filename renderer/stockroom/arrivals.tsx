/** An order on its way: received all or in part, or taken off the list. */
import { useState } from 'react';
import type { ArrivalLine } from '../../core/contract/stockroom.ts';
import { dayName } from '../../core/stock/cover.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { CameFields, cameOf, nothingCame } from './came.tsx';
import { askWords, typedNumber, typedWords } from './words.ts';

export function ArrivalItem({ arrival, named = false }: Readonly<{ arrival: ArrivalLine; named?: boolean }>) {
  const [open, setOpen] = useState(false);
  const [quantity, setQuantity] = useState(String(arrival.quantity));
  const [restComing, setRestComing] = useState(true);
  const [came, setCame] = useState(nothingCame);
  const { currency } = useHabits();
  const receive = useChange(client.stockroom.receive, ({ words }) => words);
  const cancel = useChange(client.stockroom.cancelOrder, ({ words }) => words);
  const trouble = receive.error ? readTrouble(receive.error) : null;
  const part = typedNumber(quantity) < arrival.quantity;
  return (
    <div className="arrival">
      <p>
        <Mark kind={arrival.overdue ? 'caution' : 'waiting'} /> {named && <strong>{arrival.name}, </strong>}
        {typedWords(arrival.quantity, arrival.unit)} due {dayName(arrival.dueOn)}
        {arrival.overdue && ', overdue'}
        <span className="soft"> · ordered {dayName(arrival.orderedOn)}</span>
      </p>
      {open ? (
        <form
          className="arrival-form"
          onSubmit={(event) => {
            event.preventDefault();
            receive.mutate({
              ...{ arrivalId: arrival.id, quantity: typedNumber(quantity), restComing: part && restComing },
              came: cameOf(came, currency),
            });
          }}
        >
          <TextField
            name={askWords('came', arrival.unit)}
            inputMode="decimal"
            value={quantity}
            onChange={(event) => setQuantity(event.target.value)}
            trouble={trouble?.field === 'quantity' ? trouble.sentence : undefined}
          />
          <CameFields
            draft={came}
            onDraft={setCame}
            shelfLifeDays={null}
            trouble={(field) => (trouble?.field === field ? trouble.sentence : undefined)}
          />
          {part && (
            <label className="arrival-rest">
              <input type="checkbox" checked={restComing} onChange={(event) => setRestComing(event.target.checked)} />
              The rest is still coming
            </label>
          )}
          <div className="actions">
            <Button look="main" type="submit" disabled={receive.isPending}>
              Put it in
            </Button>
            <Button onClick={() => setOpen(false)}>Not now</Button>
          </div>
        </form>
      ) : (
        <div className="actions">
          <Button onClick={() => setOpen(true)} aria-label={`It came: ${arrival.name}`}>
            It came
          </Button>
          <Button
            look="quiet"
            disabled={cancel.isPending}
            aria-label={`It will not come: ${arrival.name}`}
            onClick={() => cancel.mutate({ arrivalId: arrival.id })}
          >
            It will not come
          </Button>
        </div>
      )}
      {receive.error && !/^(quantity|came\.)/.test(trouble?.field ?? '') && <TroubleNotice error={receive.error} />}
      {cancel.error && <TroubleNotice error={cancel.error} />}
    </div>
  );
}
