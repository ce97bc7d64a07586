/** Everything of one material: how it runs down, what it is promised to, what to order, its ledger, and the change of any of it. */
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import type { MaterialDetail, PromisedLine } from '../../core/contract/stockroom.ts';
import { dayName } from '../../core/stock/cover.ts';
import { ask, client } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf, goTo } from '../app/route.ts';
import { RundownDrawing } from '../drawings/rundown.tsx';
import { Button } from '../parts/controls.tsx';
import { Caution, TroubleNotice } from '../parts/notices.tsx';
import { useWidth } from '../parts/width.ts';
import { moneyWords } from '../parts/words.ts';
import { ArrivalItem } from './arrivals.tsx';
import { StandingMark } from './cupboard.tsx';
import { HazardSheet } from './hazard-sheet.tsx';
import { Instead, WouldDo } from './instead.tsx';
import { Ledger, MovementForm } from './ledger.tsx';
import { Lots } from './lots.tsx';
import { Making } from './making.tsx';
import { MaterialForm } from './material-form.tsx';
import { Prices } from './prices.tsx';
import { quantityWords, typedWords } from './words.ts';

export function MaterialPane({ id }: Readonly<{ id: string }>) {
  const opened = useQuery({
    ...ask.stockroom.material.queryOptions({ input: { id } }),
    placeholderData: keepPreviousData,
  });
  const [changing, setChanging] = useState(false);
  const { data, error } = opened;
  if (error !== null) {
    return (
      <div className="stock-pane">
        <TroubleNotice error={error} again={() => void opened.refetch()} />
        <Button onClick={() => goTo('stockroom')}>Close</Button>
      </div>
    );
  }
  if (data === undefined) {
    return (
      <p className="opening" role="status">
        Opening …
      </p>
    );
  }
  const { material, cover } = data;
  return (
    <article className="stock-pane">
      <div className="stock-pane-head">
        <div>
          <h2>{material.name}</h2>
          <p className="soft">{[material.kind, material.colour, material.place].filter(Boolean).join(' · ')}</p>
        </div>
        <div className="actions">
          <Button look="quiet" aria-expanded={changing} onClick={() => setChanging(!changing)}>
            Change
          </Button>
          <Button look="quiet" onClick={() => goTo('stockroom')}>
            Close
          </Button>
        </div>
      </div>
      {changing ? (
        <MaterialForm material={material} onDone={() => setChanging(false)} onCancel={() => setChanging(false)} />
      ) : (
        <>
          <p className={`standing-sentence standing-${cover.state}`}>
            <StandingMark line={data} /> <span>{cover.sentence}</span>
          </p>
          {data.substitutes.length > 0 && <WouldDo substitutes={data.substitutes} />}
          {data.keeping !== null && <Caution sentence={data.keeping} />}
          <Rundown detail={data} />
          <Facts detail={data} />
          {data.advice !== null && <Advice detail={data} />}
          {data.arrivals.length > 0 && (
            <section>
              <h3>On its way</h3>
              {data.arrivals.map((arrival) => (
                <ArrivalItem key={arrival.id} arrival={arrival} />
              ))}
            </section>
          )}
          <Lots detail={data} />
          <MovementForm key={material.id} material={material} onHand={data.onHand} lots={data.lots} />
          <Making key={`made ${material.id}`} detail={data} />
          {data.promises.length > 0 && <Promises detail={data} />}
          <Ledger detail={data} />
          <Prices key={`prices ${material.id}`} detail={data} />
          <Instead key={`instead ${material.id}`} detail={data} />
        </>
      )}
    </article>
  );
}

function Rundown({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const { series, material, safety, advice, arrivals, cover, horizonDays } = detail;
  const shown = series.slice(0, daysShown(detail));
  const last = series.at(-1);
  const label = `Balance over ${horizonDays} days, from ${quantityWords(series[0]?.balance ?? 0, material.unit)} to ${quantityWords(last?.balance ?? 0, material.unit)}. ${cover.sentence}`;
  return (
    <div ref={box} className="stock-rundown">
      {width > 0 && (
        <RundownDrawing
          series={shown}
          unit={material.unit}
          safety={safety}
          orderBy={advice?.orderBy ?? null}
          arrivals={arrivals.map(({ dueOn }) => dueOn)}
          label={label}
          width={width}
        />
      )}
      {detail.range !== null && <p className="soft small">{detail.range}</p>}
      {detail.promised.treatments > 0 && (
        <p className="soft small">
          Not in the picture, having no day yet: {quantityWords(detail.promised.treatments, material.unit)} for agreed
          treatments.
        </p>
      )}
    </div>
  );
}

/** Four weeks at least, and a week beyond the last day on which anything happens: a long level line tells nothing. */
function daysShown({ series, advice, arrivals }: MaterialDetail): number {
  const happens = series.map(
    ({ date, balance }, day) =>
      balance !== series[day - 1]?.balance || date === advice?.orderBy || arrivals.some(({ dueOn }) => dueOn === date),
  );
  return Math.max(28, happens.lastIndexOf(true) + 8);
}

function Facts({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { currency } = useHabits();
  const { material, onHand, arriving, safety, safetyWorking } = detail;
  const { unit, sheetHeightMm, sheetWidthMm, grain } = material;
  const size =
    sheetHeightMm !== null && sheetWidthMm !== null
      ? `${sheetHeightMm} × ${sheetWidthMm} mm${grain === null ? '' : `, ${grain} grain`}`
      : sheetWidthMm !== null
        ? `${sheetWidthMm} mm wide`
        : null;
  return (
    <>
      <dl className="stock-facts">
        <div>
          <dt>On hand</dt>
          <dd>{quantityWords(onHand, unit)}</dd>
        </div>
        <div>
          <dt>Arriving</dt>
          <dd>{arriving > 0 ? quantityWords(arriving, unit) : 'nothing'}</dd>
        </div>
        <div>
          <dt>Pack</dt>
          <dd>
            {typedWords(material.packQuantity, unit)}, {moneyWords(material.packPriceMinor, currency)}
          </dd>
        </div>
        <div>
          <dt>Comes in</dt>
          <dd>{material.leadDays === 1 ? '1 day' : `${material.leadDays} days`}</dd>
        </div>
        {size !== null && (
          <div>
            <dt>Size</dt>
            <dd>{size}</dd>
          </div>
        )}
        {material.shelfLifeDays !== null && (
          <div>
            <dt>Keeps</dt>
            <dd>{material.shelfLifeDays === 1 ? '1 day' : `${material.shelfLifeDays} days`}</dd>
          </div>
        )}
        <div className="stock-fact-long">
          <dt>From</dt>
          <dd>{material.supplier || 'no supplier named'}</dd>
        </div>
        {material.hazardSheet !== '' && (
          <div className="stock-fact-long">
            <dt>Safety</dt>
            <dd>
              <HazardSheet address={material.hazardSheet} of={material.name} />
            </dd>
          </div>
        )}
      </dl>
      <p className="soft small">
        {safety > 0 && `${quantityWords(safety, unit)}. `}
        {safetyWorking}
      </p>
      {material.note !== '' && <p>{material.note}</p>}
    </>
  );
}

function Advice({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { currency } = useHabits();
  const place = useChange(client.stockroom.placeOrder, ({ words }) => words);
  const { material, advice } = detail;
  if (advice === null) return null;
  const packs = `${advice.packs} ${advice.packs === 1 ? 'pack' : 'packs'}`;
  return (
    <section className="stock-advice" aria-label="What to order">
      <h3>
        Order {packs} {orderWords(advice.orderBy, detail.today)}
      </h3>
      <p>
        {quantityWords(advice.quantity, material.unit)} for {moneyWords(advice.costMinor, currency)}
        {advice.late && ', late for the first that needs it'}.
      </p>
      <details>
        <summary>Why so much and then</summary>
        {advice.working.map((sentence) => (
          <p key={sentence} className="small">
            {sentence}
          </p>
        ))}
      </details>
      <Button
        look="main"
        disabled={place.isPending}
        onClick={() => place.mutate({ lines: [{ materialId: material.id, packs: advice.packs }] })}
      >
        Note {packs} as ordered
      </Button>
      {place.error && <TroubleNotice error={place.error} />}
    </section>
  );
}

function orderWords(orderBy: string | null, today: string): string {
  if (orderBy === null) return 'before the agreed treatments begin';
  return orderBy <= today ? 'today' : `by ${dayName(orderBy)}`;
}

const mostShown = 12;

function Promises({ detail }: Readonly<{ detail: MaterialDetail }>) {
  const { promises, material } = detail;
  const [all, setAll] = useState(false);
  const shown = all ? promises : promises.slice(0, mostShown);
  return (
    <section>
      <h3>Promised to</h3>
      <ul className="stock-list">
        {shown.map((promise, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a promise is nothing but its place in the list
          <li key={index}>
            <span className="stock-when">{promise.date === null ? 'no day yet' : dayName(promise.date)}</span>
            <span>
              <For promise={promise} />
              <span className="soft small stock-working">
                {promise.why}: {promise.working}
              </span>
            </span>
            <span className="number">{quantityWords(promise.quantity, material.unit)}</span>
          </li>
        ))}
      </ul>
      {promises.length > mostShown && (
        <Button look="quiet" onClick={() => setAll(!all)}>
          {all ? 'Show fewer' : `Show all ${promises.length}`}
        </Button>
      )}
    </section>
  );
}

function For({ promise }: Readonly<{ promise: PromisedLine }>) {
  const { bookId, courseId, title } = promise;
  if (bookId !== null) return <a href={addressOf('shelf', bookId)}>{title}</a>;
  return courseId === null ? title : <a href={addressOf('course', courseId)}>{title}</a>;
}
