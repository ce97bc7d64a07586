/** The ledger of a material: what came and went, with what stood there after each, and the answer to a line that was wrong. */
import { useState } from 'react';
import type { LedgerLine, LotLine, MaterialDetail } from '../../core/contract/stockroom.ts';
import { fromMillionths, toMillionths } from '../../core/stock/ledger.ts';
import type { Material, MovementKind } from '../../core/stock/material.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import { CameFields, cameOf, nothingCame } from './came.tsx';
import { lotDay } from './lots.tsx';
import { askWords, typedNumber, typedWords } from './words.ts';

const kinds: readonly Readonly<{ kind: MovementKind; words: string; done: string; asks: string }>[] = [
  { kind: 'out', words: 'Took out', done: 'taken out', asks: 'went' },
  { kind: 'in', words: 'Put in', done: 'put in', asks: 'came' },
  { kind: 'wasted', words: 'Spoilt', done: 'spoilt', asks: 'was spoilt' },
  { kind: 'counted', words: 'Counted', done: 'counted', asks: 'is there' },
];

type FormProps = Readonly<{ material: Material; onHand: number; lots: readonly LotLine[] }>;

export function MovementForm({ material, onHand, lots }: FormProps) {
  const { currency } = useHabits();
  const [kind, setKind] = useState<MovementKind>('out');
  const [quantity, setQuantity] = useState('');
  const [reason, setReason] = useState('');
  const [picked, setPicked] = useState('');
  const [came, setCame] = useState(nothingCame);
  const add = useChange(client.stockroom.addMovement, ({ words }) => words);
  const trouble = add.error ? readTrouble(add.error) : null;
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  const asks = kinds.find((one) => one.kind === kind)!.asks;
  const counted = kind === 'counted' ? typedNumber(quantity) : Number.NaN;
  const named = lots.filter((lot) => lot.id !== null && lot.quantity > 0);
  const lot = kind === 'in' ? undefined : named.find(({ id }) => id === picked);
  const difference = fromMillionths(toMillionths(counted) - toMillionths(lot?.quantity ?? onHand));
  return (
    <section aria-label="A line for the ledger">
      <h3>Enter in the ledger</h3>
      <form
        className="movement"
        onSubmit={(event) => {
          event.preventDefault();
          add.mutate(
            {
              ...{ materialId: material.id, kind, quantity: typedNumber(quantity), reason },
              ...(lot?.id ? { lotId: lot.id } : {}),
              ...(kind === 'in' ? { came: cameOf(came, currency) } : {}),
            },
            {
              onSuccess: () => {
                setCame(nothingCame);
                setPicked('');
                setQuantity('');
                setReason('');
              },
            },
          );
        }}
      >
        <fieldset className="movement-kinds">
          <legend className="visually-hidden">What happened</legend>
          {kinds.map((one) => (
            <label key={one.kind}>
              <input
                type="radio"
                name="movement"
                checked={kind === one.kind}
                onChange={() => {
                  setKind(one.kind);
                  add.reset();
                }}
              />
              {one.words}
            </label>
          ))}
        </fieldset>
        <div className="movement-fields">
          <TextField
            name={askWords(asks, material.unit)}
            inputMode="decimal"
            autoComplete="off"
            value={quantity}
            onChange={(event) => setQuantity(event.target.value)}
            trouble={at('quantity')}
            hint={
              Number.isNaN(difference)
                ? undefined
                : difference === 0
                  ? 'As the ledger says.'
                  : `${typedWords(Math.abs(difference), material.unit)} ${difference > 0 ? 'more' : 'less'} than the ledger says.`
            }
          />
          <TextField
            name={kind === 'counted' ? 'What became of the difference' : 'Reason, where there is one'}
            autoComplete="off"
            value={reason}
            onChange={(event) => setReason(event.target.value)}
            trouble={at('reason')}
          />
        </div>
        {kind === 'in' && (
          <CameFields draft={came} onDraft={setCame} shelfLifeDays={material.shelfLifeDays} trouble={at} />
        )}
        {kind !== 'in' && named.length > 0 && (
          <SelectField
            name="Lot"
            value={lot?.id ?? ''}
            onChange={(event) => setPicked(event.target.value)}
            options={[
              { value: '', words: kind === 'counted' ? 'all lots together' : 'the first to expire first' },
              ...named.map((one) => ({
                value: one.id ?? '',
                words: `${lotDay(one.receivedOn)}${one.number === '' ? '' : `, no. ${one.number}`}: ${typedWords(one.quantity, material.unit)}`,
              })),
            ]}
          />
        )}
        <Button look="main" type="submit" disabled={add.isPending || quantity.trim() === ''}>
          Enter
        </Button>
      </form>
      {add.error && !/^(quantity|reason|came\.)/.test(trouble?.field ?? '') && <TroubleNotice error={add.error} />}
    </section>
  );
}

export function Ledger({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { ledger, ledgerLines } = detail;
  const [answering, setAnswering] = useState<string | null>(null);
  return (
    <section>
      <h3>Ledger</h3>
      {ledger.length === 0 ? (
        <p className="soft">Nothing has been entered yet. Count what is there, and the ledger begins.</p>
      ) : (
        <ul className="stock-list ledger">
          {ledger.map((line) => (
            <LedgerItem
              key={line.id}
              line={line}
              unit={detail.material.unit}
              answering={answering === line.id}
              onAnswer={(open) => setAnswering(open ? line.id : null)}
            />
          ))}
        </ul>
      )}
      {ledgerLines > ledger.length && (
        <p className="soft small">
          The newest {ledger.length} of {ledgerLines} lines. All of them are in the ledger’s CSV.
        </p>
      )}
    </section>
  );
}

type ItemProps = Readonly<{
  line: LedgerLine;
  unit: Material['unit'];
  answering: boolean;
  onAnswer: (open: boolean) => void;
}>;

function LedgerItem({ line, unit, answering, onAnswer }: ItemProps) {
  const { timeZone } = useHabits();
  const [reason, setReason] = useState('');
  const answer = useChange(client.stockroom.answerMovement, ({ words }) => words);
  const done = kinds.find((one) => one.kind === line.kind)?.done ?? line.kind;
  const signed = `${line.quantity < 0 ? '−' : '+'}${typedWords(Math.abs(line.quantity), unit)}`;
  const when = `${dayWords(line.at, timeZone)} ${clockWords(line.at, timeZone)}`;
  return (
    <li>
      <span className="stock-when">{when}</span>
      <span>
        {done}
        {line.book !== '' && <> for {line.book}</>}
        {line.made !== '' && <> into {line.made}</>}
        {line.lot !== '' && <span className="soft"> {line.lot}</span>}
        {line.answers !== null && (
          <span className="small stock-working">
            Answers the line of {dayWords(line.answers, timeZone)} {clockWords(line.answers, timeZone)}
          </span>
        )}
        {line.reason !== '' && <span className="soft small stock-working">{line.reason}</span>}
        {!line.closed && !answering && (
          <Button
            look="quiet"
            className="ledger-answer"
            aria-label={`This is wrong: ${when}, ${done} ${signed}`}
            onClick={() => onAnswer(true)}
          >
            This is wrong
          </Button>
        )}
      </span>
      <span className="number">
        {signed}
        <span className="soft small stock-working">{typedWords(line.balance, unit)} then</span>
      </span>
      {answering && (
        <form
          className="ledger-form"
          onSubmit={(event) => {
            event.preventDefault();
            answer.mutate({ movementId: line.id, reason }, { onSuccess: () => onAnswer(false) });
          }}
        >
          <TextField
            name="What was wrong with it"
            autoFocus
            value={reason}
            onChange={(event) => setReason(event.target.value)}
            trouble={answer.error ? readTrouble(answer.error).sentence : undefined}
            hint="The line stays; its opposite is entered after it."
          />
          <div className="actions">
            <Button look="main" type="submit" disabled={answer.isPending}>
              Enter the opposite
            </Button>
            <Button onClick={() => onAnswer(false)}>Leave it</Button>
          </div>
        </form>
      )}
    </li>
  );
}
