/** What is there by lot, in the order it is used; a lot past keeping is written off from here. */
import type { LotLine, MaterialDetail, Stock } from '../../core/contract/stockroom.ts';
import { dayName } from '../../core/stock/cover.ts';
import type { StockUnit } from '../../core/stock/material.ts';
import { client } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { moneyWords } from '../parts/words.ts';
import { typedWords } from './words.ts';

export function Lots({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { lots, material } = detail;
  if (!lots.some(({ id }) => id !== null)) return null;
  return (
    <section aria-label="Lots">
      <h3>Lots, the first to go first</h3>
      <ul className="stock-list">
        {lots.map((lot) => (
          <Lot key={lot.id ?? ''} lot={lot} unit={material.unit} />
        ))}
      </ul>
    </section>
  );
}

function Lot({ lot, unit }: Readonly<{ lot: LotLine; unit: StockUnit }>) {
  const { currency } = useHabits();
  const { id, receivedOn, bestBefore, number, supplier, costMinor, received, note, quantity } = lot;
  if (id === null) {
    return (
      <li>
        <span className="stock-when">in no lot</span>
        <span className="soft">
          {quantity < 0
            ? 'taken beyond what the ledger held; a count sets it right'
            : 'from before lots were kept, or found'}
        </span>
        <span className="number">{typedWords(quantity, unit)}</span>
      </li>
    );
  }
  const facts = [
    number === '' ? '' : `no. ${number}`,
    supplier,
    costMinor === null ? '' : `${moneyWords(costMinor, currency)} for ${typedWords(received, unit)}`,
    note,
  ];
  return (
    <li>
      <span className="stock-when">{dayName(receivedOn)}</span>
      <span>
        {bestBefore === null ? 'keeps' : `best before ${lotDay(bestBefore)}`}
        <span className="soft small stock-working">{facts.filter(Boolean).join(' · ')}</span>
        {lot.words !== null && (
          <span className="small stock-working">
            <Mark kind={lot.keeping === 'past' ? 'harm' : 'caution'} /> {lot.words}
          </span>
        )}
        {lot.keeping === 'past' && <WriteOff lot={lot} name={lotDay(receivedOn)} />}
      </span>
      <span className="number">{typedWords(quantity, unit)}</span>
    </li>
  );
}

function WriteOff({ lot, name }: Readonly<{ lot: LotLine; name: string }>) {
  const waste = useChange(client.stockroom.addMovement, ({ words }) => words);
  if (lot.id === null || lot.quantity <= 0) return null;
  const { id: lotId, materialId, quantity } = lot;
  return (
    <>
      <Button
        look="quiet"
        className="ledger-answer"
        aria-label={`Write it off: ${name}`}
        disabled={waste.isPending}
        onClick={() => waste.mutate({ materialId, lotId, quantity, kind: 'wasted', reason: 'Past its best before' })}
      >
        Write it off
      </Button>
      {waste.error && <TroubleNotice error={waste.error} />}
    </>
  );
}

/** At the front of the room: what spoils first. */
export function Expiring({ stock }: Readonly<{ stock: Stock }>) {
  const { expiring } = stock;
  if (expiring.length === 0) return null;
  return (
    <section className="expiring" aria-label="Use first">
      <h3>Use first</h3>
      <ul className="stock-list">
        {expiring.map((lot) => (
          <li key={lot.id}>
            <span className="stock-when">{lot.bestBefore === null ? '' : lotDay(lot.bestBefore)}</span>
            <span>
              <Mark kind={lot.keeping === 'past' ? 'harm' : 'caution'} />{' '}
              <a href={addressOf('stockroom', lot.materialId)}>{lot.name}</a>
              {lot.number !== '' && <span className="soft"> no. {lot.number}</span>}
              <span className="soft small stock-working">{lot.words}</span>
              {lot.keeping === 'past' && <WriteOff lot={lot} name={lot.name} />}
            </span>
            <span className="number">{typedWords(lot.quantity, lot.unit)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** "3 Jun 2026": best-before dates may lie years ahead. */
export function lotDay(date: string): string {
  return `${dayName(date).replace(/^\w+,? /, '')} ${date.slice(0, 4)}`;
}
