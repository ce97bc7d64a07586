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
  const { suppliers, arriving, currency, rules } = orders.data;
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
          {Number.isFinite(total) && <>; {moneyWords(total, currency)} in all</>}
        </p>
      </div>
      <ul className="order-lines">
        {order.lines.map((line) => (
          <li key={line.material.id}>
            <span className="order-what">
              <a href={addressOf('stockroom', line.material.id)}>{line.material.name}</a>
              <span className="small stock-working">
                <Mark kind={line.advice.late ? 'harm' : line.advice.orderBy === null ? 'waiting' : 'caution'} />{' '}
                {line.because}
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
