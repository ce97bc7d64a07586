/** A period added up: hours by operation, books finished, materials used and their cost, estimates against actuals. */
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { Summary } from '../../core/contract/daybook.ts';
import { amountWords, toMillionths } from '../../core/stock/ledger.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { addressOf } from '../app/route.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { TroubleNotice } from '../parts/notices.tsx';
import { dayWords, moneyWords } from '../parts/words.ts';

export function Period({ today }: Readonly<{ today: string }>) {
  const [from, setFrom] = useState(`${today.slice(0, 8)}01`);
  const [to, setTo] = useState(today);
  const [trouble, setTrouble] = useState<unknown>(null);
  const whole = from !== '' && to !== '';
  const summary = useQuery({
    ...ask.daybook.summary.queryOptions({ input: { from, to } }),
    enabled: whole,
    placeholderData: keepPreviousData,
  });
  async function take(file: ReturnType<typeof client.daybook.printSummary>): Promise<void> {
    setTrouble(null);
    try {
      saveFile(await file);
    } catch (error) {
      setTrouble(error);
    }
  }
  const refused = summary.error ? readTrouble(summary.error) : null;
  return (
    <div className="period">
      <div className="period-head">
        <TextField name="From" type="date" value={from} onChange={(event) => setFrom(event.target.value)} />
        <TextField
          name="To"
          type="date"
          value={to}
          onChange={(event) => setTo(event.target.value)}
          trouble={refused?.field === 'to' ? refused.sentence : undefined}
        />
        <div className="actions">
          <Button disabled={!whole} onClick={() => void take(client.daybook.printSummary({ from, to }))}>
            Print the summary
          </Button>
          <Button look="quiet" disabled={!whole} onClick={() => void take(client.daybook.exportSummary({ from, to }))}>
            Summary as CSV
          </Button>
        </div>
      </div>
      {trouble !== null && <TroubleNotice error={trouble} />}
      {summary.error && refused?.field !== 'to' && <TroubleNotice error={summary.error} />}
      {summary.data && <Sums summary={summary.data} />}
    </div>
  );
}

function Sums({ summary }: Readonly<{ summary: Summary }>) {
  const { currency, finished } = summary;
  const money = (minor: number) => moneyWords(minor, currency);
  const tables = [
    {
      title: 'Hours by operation',
      heads: ['Operation', 'Times', 'Altogether'],
      rows: summary.byOperation.map((row) => [row.operation, row.times, minutesWords(row.minutes)]),
    },
    {
      title: 'Books',
      heads: ['Book', 'Time', 'Materials', 'Finished'],
      rows: summary.byBook.map((row) => [
        row.bookId === null ? (
          'about no book'
        ) : (
          <a key={row.bookId} className="daybook-book" href={addressOf('shelf', row.bookId)}>
            {row.book}
          </a>
        ),
        minutesWords(row.minutes),
        money(row.materialsMinor),
        finished
          .filter(({ bookId }) => bookId === row.bookId)
          .map(({ on }) => dayWords(on, 'UTC'))
          .join(', '),
      ]),
    },
    {
      title: 'Materials used',
      heads: ['Material', 'Used', 'Spoilt', 'Cost'],
      rows: summary.materials.map(({ material, unit, quantity, wasted, costMinor }) => [
        material,
        quantity === 0 ? '' : amountWords(toMillionths(quantity), unit),
        wasted === 0 ? '' : amountWords(toMillionths(wasted), unit),
        money(costMinor),
      ]),
    },
    {
      title: 'Estimated and actual',
      heads: ['Operation', 'Jobs', 'Estimated', 'Took', 'Ratio'],
      rows: summary.estimates.map((row) => [
        row.operation,
        row.n,
        minutesWords(row.estimatedMinutes),
        minutesWords(row.actualMinutes),
        row.ratio.toFixed(2),
      ]),
    },
  ];
  return (
    <>
      <dl className="period-facts">
        <Fact name="Hand-work" words={minutesWords(summary.minutes)} />
        {summary.labourMinor !== null && <Fact name="At your rate" words={money(summary.labourMinor)} />}
        <Fact name="Books finished" words={String(finished.length)} />
        <Fact name="Materials used" words={money(summary.materialsMinor)} />
        <Fact name="Spoilt" words={money(summary.wastedMinor)} />
      </dl>
      {tables.map(({ title, heads, rows }) => (
        <section key={title}>
          <h2>{title}</h2>
          {rows.length === 0 ? (
            <p className="soft">Nothing in this period.</p>
          ) : (
            <table className="table">
              <thead>
                <tr>
                  {heads.map((head, index) => (
                    <th key={head} scope="col" className={index === 0 ? undefined : 'number'}>
                      {head}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((row, index) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: the table is drawn whole
                  <tr key={index}>
                    {row.map((cell, column) => (
                      <td key={heads[column]} className={column === 0 ? undefined : 'number'}>
                        {cell}
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          )}
        </section>
      ))}
    </>
  );
}

function Fact({ name, words }: Readonly<{ name: string; words: string }>) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{words}</dd>
    </div>
  );
}
