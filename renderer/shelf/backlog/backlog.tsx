/** The unsurveyed backlog: how many books to look at to know it, which ones, and what they say of all so far. */

import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { Backlog, BacklogWish, StrataBy } from '../../../core/contract/backlog.ts';
import type { Interval } from '../../../core/triage/sample.ts';
import { minutesWords, rangeWords } from '../../../core/units/durations.ts';
import { ask, client } from '../../app/client.ts';
import { useChange } from '../../app/queries.ts';
import { addressOf } from '../../app/route.ts';
import { Button, SelectField } from '../../parts/controls.tsx';
import { saveFile } from '../../parts/files.ts';
import { EmptyRoom, Mark, Notice, TroubleNotice } from '../../parts/notices.tsx';
import { moneyWords } from '../../parts/words.ts';
import './backlog.css';

export function SizeUpBacklog() {
  const current = useQuery(ask.backlog.current.queryOptions());
  return (
    <div className="backlog">
      <header className="backlog-head">
        <h1>Size up the backlog</h1>
        <a href={addressOf('shelf')}>Back to the list</a>
      </header>
      <p>
        Nobody can survey hundreds of books at once, and nobody has to: a few drawn by lot say how many hours, how much
        money and how many hazards the whole backlog holds, and how sure that is.
      </p>
      {current.error && <TroubleNotice error={current.error} />}
      {current.data && <Told backlog={current.data} />}
      {current.data !== undefined && <Wish drawn={current.data !== null} />}
    </div>
  );
}

const sure = ['0.8', '0.9', '0.95', '0.99'];
const margins = ['0.02', '0.03', '0.05', '0.1', '0.15', '0.2'];
const shares = ['0.5', '0.3', '0.2', '0.1', '0.05'];
const percent = (share: string) => `${Math.round(Number(share) * 1000) / 10} %`;
const byWords: Readonly<Record<StrataBy, string>> = {
  nothing: 'all books together',
  lot: 'lot by lot',
  place: 'case by case',
};

function Wish({ drawn }: Readonly<{ drawn: boolean }>) {
  const [confidence, setConfidence] = useState('0.95');
  const [margin, setMargin] = useState('0.1');
  const [share, setShare] = useState('0.5');
  const [by, setBy] = useState<StrataBy>('place');
  const wish: BacklogWish = { confidence: Number(confidence), margin: Number(margin), share: Number(share), by };
  const plan = useQuery({ ...ask.backlog.plan.queryOptions({ input: wish }), placeholderData: keepPreviousData });
  const draw = useChange(client.backlog.draw, ({ drawn: books }) => `${books} books are drawn.`);
  const planned = plan.data;
  if (planned?.unsurveyed === 0 && !drawn) {
    return (
      <EmptyRoom title="There is no backlog">
        <p>Every book on the shelf has been looked at.</p>
        <a href={addressOf('shelf')}>To the Shelf</a>
      </EmptyRoom>
    );
  }
  return (
    <section aria-labelledby="backlog-wish">
      <h2 id="backlog-wish">{drawn ? 'Draw another sample' : 'How well to know it'}</h2>
      <div className="backlog-fields">
        <SelectField
          name="Sure to"
          value={confidence}
          options={sure.map((value) => ({ value, words: percent(value) }))}
          onChange={(event) => setConfidence(event.target.value)}
        />
        <SelectField
          name="A share known within"
          value={margin}
          options={margins.map((value) => ({ value, words: `± ${percent(value)}` }))}
          onChange={(event) => setMargin(event.target.value)}
        />
        <SelectField
          name="Share expected"
          hint="50 % is right whatever the truth"
          value={share}
          options={shares.map((value) => ({ value, words: percent(value) }))}
          onChange={(event) => setShare(event.target.value)}
        />
        <SelectField
          name="Drawn"
          value={by}
          options={(['place', 'lot', 'nothing'] as const).map((value) => ({ value, words: byWords[value] }))}
          onChange={(event) => setBy(event.target.value as StrataBy)}
        />
      </div>
      {plan.error && <TroubleNotice error={plan.error} />}
      {planned && planned.unsurveyed > 0 && (
        <p role="status">
          Survey <strong>{planned.books.toLocaleString('en')}</strong> of {planned.unsurveyed.toLocaleString('en')}{' '}
          books
          {planned.strata > 1 && `, from ${planned.strata} ${by === 'lot' ? 'lots' : 'cases'} in proportion`}. By z²p(1
          − p)/d² a backlog without end would take {planned.size.endless.toFixed(1)}; of so few books{' '}
          {planned.size.exact.toFixed(1)} are enough, rounded up.
        </p>
      )}
      {draw.error !== null && <TroubleNotice error={draw.error} />}
      <div className="actions">
        <Button
          look={drawn ? 'plain' : 'main'}
          disabled={draw.isPending || planned === undefined || planned.unsurveyed === 0}
          onClick={() => draw.mutate(wish)}
        >
          Draw the books
        </Button>
        {drawn && <span className="soft">It takes the place of the sample above; what was surveyed stays.</span>}
      </div>
    </section>
  );
}

function Told({ backlog }: Readonly<{ backlog: Backlog }>) {
  const print = useChange(client.backlog.print);
  const { books, drawn, seen, gone, estimate, remarks, walk, wish } = backlog;
  return (
    <section aria-labelledby="backlog-told">
      <h2 id="backlog-told">What {books.toLocaleString('en')} books hold</h2>
      <p role="status">
        <Mark kind={seen === drawn ? 'settled' : 'waiting'} /> {seen} of {drawn} drawn books are surveyed.
        {gone > 0 && ` ${gone} have been removed from the shelf since.`}
      </p>
      <meter aria-label="drawn books surveyed" min={0} max={Math.max(1, drawn)} value={seen} />
      {estimate === null ? (
        <p className="soft">
          {seen === 0
            ? 'Print the walk, survey the books on it, and the estimate stands here.'
            : 'The estimate comes when each lot or case has been looked into.'}
        </p>
      ) : (
        <dl className="backlog-told">
          <Figure
            name="Hand-work"
            likely={minutesWords(estimate.minutes.likely)}
            range={rangeWords(estimate.minutes.low, estimate.minutes.high)}
          />
          {estimate.costMinor && <Cost cost={estimate.costMinor} currency={estimate.currency} />}
          <Figure
            name="Books under a hazard"
            likely={String(Math.round(estimate.hazards.likely))}
            range={`${estimate.hazards.low} – ${estimate.hazards.high}`}
          />
        </dl>
      )}
      {estimate !== null && (
        <p className="small soft">
          The ranges hold the truth in {Math.round(wish.confidence * 100)} of 100 samples drawn like this one; hand-work
          is what the proposals for the surveyed books take.
        </p>
      )}
      {remarks.length > 0 && (
        <Notice kind="caution">
          {remarks.map((remark) => (
            <p key={remark}>{remark}</p>
          ))}
        </Notice>
      )}
      {print.error !== null && <TroubleNotice error={print.error} />}
      <div className="actions">
        <Button
          look={seen < drawn ? 'main' : 'plain'}
          disabled={print.isPending}
          onClick={() => print.mutate(undefined, { onSuccess: saveFile })}
        >
          Print the walk
        </Button>
      </div>
      <details className="backlog-walk">
        <summary>The books, along the shelves</summary>
        <ol>
          {walk.map((stop) => (
            <li key={stop.bookId}>
              <Mark kind={stop.surveyed ? 'settled' : 'waiting'} name={stop.surveyed ? 'surveyed' : 'to be surveyed'} />{' '}
              <a href={addressOf('shelf', stop.bookId)}>{stop.title}</a>{' '}
              <span className="soft">{[stop.shelfMark, stop.place].filter(Boolean).join(' · ')}</span>
            </li>
          ))}
        </ol>
      </details>
    </section>
  );
}

function Cost({ cost, currency }: Readonly<{ cost: Interval; currency: string }>) {
  const words = (minor: number) => moneyWords(minor, currency);
  return (
    <Figure name="At your hourly rate" likely={words(cost.likely)} range={`${words(cost.low)} – ${words(cost.high)}`} />
  );
}

function Figure({ name, likely, range }: Readonly<{ name: string; likely: string; range: string }>) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <strong>{likely}</strong> <span className="soft">{range}</span>
      </dd>
    </div>
  );
}
