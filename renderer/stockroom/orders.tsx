/** The order list by supplier with its days; packs can be changed before they are noted as ordered. Below it, what is on its way. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { OrderLine, OrderList, SupplierOrder } from '../../core/contract/stockroom.ts';
import { dayName } from '../../core/stock/cover.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { moneyWords } from '../parts/words.ts';
import { ArrivalItem } from './arrivals.tsx';
import { HazardSheet } from './hazard-sheet.tsx';
import { WouldDo } from './instead.tsx';
import { Terms } from './supplier-terms.tsx';
import { typedNumber, typedWords } from './words.ts';

export function Orders() {
  const orders = useQuery(ask.stockroom.orders.queryOptions());
  if (orders.error) return <TroubleNotice error={orders.error} again={() => void orders.refetch()} />;
  if (!orders.data) {
    return (
      <p className="opening" role="status">
        Reckoning the orders …
      </p>
    );
  }
  const { suppliers, arriving, currency, rules, terms } = orders.data;
  return (
    <div className="orders">
      {suppliers.length === 0 && (
        <p>
          <Mark kind="settled" /> Nothing needs ordering: what is there and on its way lasts for everything promised.
        </p>
      )}
      {suppliers.map((order) => (
        <Supplier key={order.supplier} order={order} currency={currency} />
      ))}
      <Arriving arriving={arriving} />
      <Suppliers terms={terms.filter(({ name }) => !suppliers.some(({ supplier }) => supplier === name))} />
      <details className="orders-rules">
        <summary>What these days and sizes rest on</summary>
        <ul>
          {rules.map((rule) => (
            <li key={rule}>{rule}</li>
          ))}
        </ul>
      </details>
    </div>
  );
}

/** Those nothing is to be ordered from now. */
function Suppliers({ terms }: Readonly<{ terms: OrderList['terms'] }>) {
  if (terms.length === 0) return null;
  return (
    <section aria-label="Other suppliers">
      <h3>Other suppliers</h3>
      {terms.map((one) => (
        <div key={one.name} className="arrival">
          <strong>{one.name}</strong>
          <Terms terms={one} />
        </div>
      ))}
    </section>
  );
}

/** Which of the lines go in one parcel, and what that costs. */
function Parcels({ order, currency }: Readonly<{ order: SupplierOrder; currency: string }>) {
  return (
    <ol className="parcels">
      {order.parcels.map((parcel) => (
        <li key={`${parcel.orderBy} ${parcel.materials.join()}`}>
          <strong>
            {order.parcels.length > 1 && `${parcel.materials.join(', ')}: `}
            {parcel.orderBy === null ? 'Whenever you like' : `Order by ${dayName(parcel.orderBy)}`},{' '}
            {moneyWords(parcel.goodsMinor + parcel.postageMinor, currency)} with postage
          </strong>
          {parcel.words.map((sentence) => (
            <span key={sentence} className="small stock-working">
              {sentence}
            </span>
          ))}
        </li>
      ))}
    </ol>
  );
}

function Arriving({ arriving }: Readonly<{ arriving: OrderList['arriving'] }>) {
  return (
    <section aria-label="On its way">
      <h3>On its way</h3>
      {arriving.length === 0 ? (
        <p className="soft">Nothing has been ordered that has not come.</p>
      ) : (
        arriving.map((arrival) => <ArrivalItem key={arrival.id} arrival={arrival} named />)
      )}
    </section>
  );
}

function Supplier({ order, currency }: Readonly<{ order: SupplierOrder; currency: string }>) {
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const place = useChange(client.stockroom.placeOrder, ({ words }) => words);
  const name = order.supplier || 'No supplier named';
  const packsOf = (line: OrderLine) => typed[line.material.id] ?? String(line.advice.packs);
  const wanted = order.lines.filter((line) => typedNumber(packsOf(line)) !== 0);
  const total = wanted.reduce((sum, line) => sum + typedNumber(packsOf(line)) * line.material.packPriceMinor, 0);
  return (
    <section className="supplier" aria-label={name}>
      <div className="supplier-head">
        <h3>{name}</h3>
        <p>
          {order.orderBy === null ? 'No day presses' : `Order by ${dayName(order.orderBy)}`}
          {Number.isFinite(total) && <>; {moneyWords(total, currency)} without postage</>}
        </p>
      </div>
      <Terms terms={order.terms} />
      {order.parcels.length > 0 && <Parcels order={order} currency={currency} />}
      <ul className="order-lines">
        {order.lines.map((line) => (
          <li key={line.material.id}>
            <span className="order-what">
              <a href={addressOf('stockroom', line.material.id)}>{line.material.name}</a>
              <span className="small stock-working">
                <Mark kind={line.advice.late ? 'harm' : line.advice.orderBy === null ? 'waiting' : 'caution'} />{' '}
                {line.because}
              </span>
              <span className="small">
                <WouldDo substitutes={line.substitutes} />
              </span>
              <span className="soft small order-keep">
                {line.material.place !== '' && <span>Its place: {line.material.place}. </span>}
                {line.material.hazardSheet !== '' && (
                  <HazardSheet address={line.material.hazardSheet} of={line.material.name} />
                )}
              </span>
            </span>
            <span className="order-packs">
              <label>
                <span className="visually-hidden">Packs of {line.material.name}</span>
                <input
                  inputMode="numeric"
                  value={packsOf(line)}
                  onChange={(event) => setTyped({ ...typed, [line.material.id]: event.target.value })}
                />
              </label>
              <span className="soft">× {typedWords(line.material.packQuantity, line.material.unit)}</span>
            </span>
            <span className="number">{moneyWords(line.material.packPriceMinor, currency)} a pack</span>
          </li>
        ))}
      </ul>
      <Button
        look="main"
        disabled={place.isPending || wanted.length === 0}
        onClick={() =>
          place.mutate(
            { lines: wanted.map((line) => ({ materialId: line.material.id, packs: typedNumber(packsOf(line)) })) },
            { onSuccess: () => setTyped({}) },
          )
        }
      >
        Note as ordered
      </Button>
      {place.error && <TroubleNotice error={place.error} />}
    </section>
  );
}
