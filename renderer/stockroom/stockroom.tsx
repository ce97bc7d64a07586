/** The Stockroom: what lasts how long, what to order by which day, and beside it everything of the material that is open. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Stock, TableName } from '../../core/contract/stockroom.ts';
import { ask, client } from '../app/client.ts';
import { goTo, useRoute } from '../app/route.ts';
import { Beside } from '../parts/beside.tsx';
import { Button } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { EmptyRoom, Notice, TroubleNotice } from '../parts/notices.tsx';
import { Cupboard } from './cupboard.tsx';
import { Expiring } from './lots.tsx';
import { MaterialForm } from './material-form.tsx';
import { MaterialPane } from './material-pane.tsx';
import { Orders } from './orders.tsx';
import './stockroom.css';

type View = 'cupboard' | 'orders';

export function StockroomRoom() {
  const { id } = useRoute();
  const [view, setView] = useState<View>('cupboard');
  const stock = useQuery(ask.stockroom.list.queryOptions());
  if (stock.error) return <TroubleNotice error={stock.error} again={() => void stock.refetch()} />;
  if (!stock.data) {
    return (
      <p className="opening" role="status">
        Opening the cupboard …
      </p>
    );
  }
  const details = id === null ? null : id === 'new' ? <NewMaterial /> : <MaterialPane key={id} id={id} />;
  return (
    <Beside details={details} label={id === 'new' ? 'A new material' : 'The material'}>
      <div className="stockroom">
        {stock.data.lines.length === 0 ? (
          <EmptyCupboard />
        ) : (
          <>
            <Head stock={stock.data} view={view} onView={setView} />
            {view === 'cupboard' && <Expiring stock={stock.data} />}
            {view === 'cupboard' ? <Cupboard stock={stock.data} current={id} /> : <Orders />}
            <TakeAway view={view} />
          </>
        )}
      </div>
    </Beside>
  );
}

function Head({ stock, view, onView }: Readonly<{ stock: Stock; view: View; onView: (view: View) => void }>) {
  const { trouble, take } = useTaking();
  const { lines } = stock;
  const counted = (state: string) => lines.filter(({ cover }) => cover.state === state).length;
  const [short, toOrder] = [counted('short'), counted('order')];

  return (
    <header className="stockroom-head">
      <div className="stockroom-title">
        <h2>{view === 'cupboard' ? 'The cupboard' : 'The order list'}</h2>
        <p className="soft">
          {lines.length === 1 ? '1 material' : `${lines.length} materials`}
          {short > 0 && <>, {short} running short</>}
          {toOrder > 0 && <>, {toOrder} to order in time</>}
          {short + toOrder === 0 && <>, none runs out</>}
        </p>
      </div>
      <div className="actions">
        <Button
          aria-pressed={view === 'cupboard'}
          look={view === 'cupboard' ? 'main' : 'plain'}
          onClick={() => onView('cupboard')}
        >
          Cupboard
        </Button>
        <Button
          aria-pressed={view === 'orders'}
          look={view === 'orders' ? 'main' : 'plain'}
          onClick={() => onView('orders')}
        >
          Orders
        </Button>
        {view === 'cupboard' ? (
          <Button onClick={() => goTo('stockroom', 'new')}>Add a material</Button>
        ) : (
          <Button onClick={() => void take(client.stockroom.printOrders())}>Print the order list</Button>
        )}
      </div>
      {trouble !== null && <TroubleNotice error={trouble} />}
      {stock.remarks.length > 0 && (
        <Notice kind="caution">
          <p>Not everything that is planned or agreed could be counted:</p>
          <ul className="stockroom-remarks">
            {stock.remarks.map((remark) => (
              <li key={remark}>{remark}</li>
            ))}
          </ul>
        </Notice>
      )}
    </header>
  );
}

/** Hands files over; what keeps them back is said in place. */
function useTaking() {
  const [trouble, setTrouble] = useState<unknown>(null);
  async function take(file: Promise<FileAnswer>): Promise<void> {
    setTrouble(null);
    try {
      saveFile(await file);
    } catch (error) {
      setTrouble(error);
    }
  }
  return { trouble, take };
}

function TakeAway({ view }: Readonly<{ view: View }>) {
  const { trouble, take } = useTaking();
  const csv = (table: TableName) => () => void take(client.stockroom.exportCsv({ table }));
  return (
    <div className="actions take-away">
      {view === 'cupboard' ? (
        <>
          <Button look="quiet" onClick={() => void take(client.stockroom.printCount())}>
            Print a count sheet
          </Button>
          <Button look="quiet" onClick={csv('materials')}>
            Materials as CSV
          </Button>
          <Button look="quiet" onClick={csv('movements')}>
            Ledger as CSV
          </Button>
          <Button look="quiet" onClick={csv('lots')}>
            Lots as CSV
          </Button>
          <Button look="quiet" onClick={csv('prices')}>
            Prices as CSV
          </Button>
        </>
      ) : (
        <Button look="quiet" onClick={csv('orders')}>
          Orders as CSV
        </Button>
      )}
      {trouble !== null && <TroubleNotice error={trouble} />}
    </div>
  );
}

function NewMaterial() {
  return (
    <article className="stock-pane">
      <div className="stock-pane-head">
        <h2>A new material</h2>
        <Button look="quiet" onClick={() => goTo('stockroom')}>
          Close
        </Button>
      </div>
      <MaterialForm material={null} onDone={(id) => goTo('stockroom', id)} onCancel={() => goTo('stockroom')} />
    </article>
  );
}

function EmptyCupboard() {
  return (
    <EmptyRoom title="The cupboard is empty">
      <p>
        Here stands what you have of mull and kraft, board, cloth, thread and glue: how long each lasts with what is
        planned on the bench and for the course, which book would find too little, and what to order by which day.
      </p>
      <Button look="main" onClick={() => goTo('stockroom', 'new')}>
        Add the first material
      </Button>
    </EmptyRoom>
  );
}
