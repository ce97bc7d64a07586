/** Deposits, the day by which it is settled whether the course takes place, and how far each figure may go before it loses. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import type { CourseMoney } from '../../core/contract/course-plan.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { dayWords, moneyWords } from '../parts/words.ts';

type Words = (minor: number) => string;

export function Decision({ course }: Readonly<{ course: Course }>) {
  const money = useQuery(ask.coursePlan.money.queryOptions({ input: { courseId: course.id } }));
  if (money.error) return <TroubleNotice error={money.error} />;
  if (!money.data) return null;
  const words: Words = (minor) => moneyWords(minor, course.currency);
  return (
    <>
      <div className="course-two">
        <Settle key={JSON.stringify(money.data.terms)} course={course} money={money.data} words={words} />
        <Deposits course={course} money={money.data} words={words} />
      </div>
      <HowFar course={course} money={money.data} words={words} />
    </>
  );
}

type Props = Readonly<{ course: Course; money: CourseMoney; words: Words }>;

/** The amount in whole and hundredth units as people write it. */
function amount(minor: number): string {
  return (minor / 100).toFixed(2);
}

function minorOf(text: string): number {
  return Math.round(Number(text.replace(',', '.')) * 100);
}

function Settle({ course, money, words }: Props) {
  const { terms, decision } = money;
  const [deposit, setDeposit] = useState(amount(terms.depositMinor));
  const [decideOn, setDecideOn] = useState(terms.decideOn ?? '');
  const [lost, setLost] = useState(amount(terms.lostMinor));
  const save = useChange(client.coursePlan.setTerms, () => 'Kept.');
  const trouble = save.error ? readTrouble(save.error) : null;
  const troubleAt = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  return (
    <div>
      <h3>Go or not?</h3>
      <p>
        <Mark
          kind={decision.verdict === 'call off' ? 'caution' : 'settled'}
          name={decision.verdict === 'call off' ? 'call off' : 'go'}
        />{' '}
        {money.words}
      </p>
      <p className="soft">
        If it goes {leftWords(decision.ifItGoesMinor, words)}; if it is called off, and deposits are given back,{' '}
        {leftWords(decision.ifCalledOffMinor, words)}.{' '}
        {terms.decideOn === null
          ? 'No day of decision is set.'
          : `To be decided by ${dayWords(terms.decideOn, course.timeZone)}, ${daysWords(money.daysLeft ?? 0)}.`}
      </p>
      <form
        className="course-line course-terms"
        onSubmit={(event) => {
          event.preventDefault();
          save.mutate({
            courseId: course.id,
            depositMinor: minorOf(deposit),
            decideOn: decideOn === '' ? null : decideOn,
            lostMinor: minorOf(lost),
          });
        }}
      >
        <TextField
          name="Deposit a head"
          inputMode="decimal"
          value={deposit}
          trouble={troubleAt('depositMinor')}
          onChange={(event) => setDeposit(event.target.value)}
        />
        <TextField
          name="Decide by"
          type="date"
          value={decideOn}
          trouble={troubleAt('decideOn')}
          onChange={(event) => setDecideOn(event.target.value)}
        />
        <TextField
          name="Spent or owed by then"
          inputMode="decimal"
          hint="Of the fixed costs, whether it takes place or not."
          value={lost}
          trouble={troubleAt('lostMinor')}
          onChange={(event) => setLost(event.target.value)}
        />
        <Button type="submit" disabled={save.isPending}>
          Keep
        </Button>
      </form>
      {trouble && trouble.field === undefined && <TroubleNotice error={save.error} />}
    </div>
  );
}

function leftWords(minor: number, words: Words): string {
  return minor === 0 ? 'nothing is lost' : `${words(Math.abs(minor))} ${minor > 0 ? 'are left over' : 'are lost'}`;
}

function daysWords(days: number): string {
  if (days < 0) return 'which is over';
  return days === 0 ? 'today' : `in ${days} ${days === 1 ? 'day' : 'days'}`;
}

function Deposits({ course, money, words }: Props) {
  const book = useChange(client.coursePlan.setDeposit, () => 'Booked.');
  const today = new Intl.DateTimeFormat('en-CA', { timeZone: course.timeZone }).format(new Date());
  const { terms, owing } = money;
  return (
    <div>
      <h3>Deposits</h3>
      <p className="soft">
        {words(money.depositsMinor)} in hand
        {terms.depositMinor > 0 && owing.length > 0 ? `; still owing: ${owing.join(', ')}` : ''}.
      </p>
      {book.error && <TroubleNotice error={book.error} />}
      <ul className="course-list">
        {money.deposits.map((one) => (
          <li key={one.personId}>
            <span>
              {one.name} {one.standing !== 'confirmed' && <span className="soft">({one.standing})</span>}
            </span>
            <span className="number">
              {one.paidMinor === 0 ? (
                <span className="soft">none</span>
              ) : (
                `${words(one.paidMinor)}, ${one.paidOn === null ? '' : dayWords(one.paidOn, course.timeZone)}`
              )}
            </span>
            <Button
              disabled={book.isPending || (one.paidMinor === 0 && terms.depositMinor === 0)}
              aria-label={`${one.paidMinor === 0 ? 'Has paid' : 'Take off'}: ${one.name}`}
              onClick={() =>
                book.mutate({
                  courseId: course.id,
                  personId: one.personId,
                  paidMinor: one.paidMinor === 0 ? terms.depositMinor : 0,
                  paidOn: today,
                })
              }
            >
              {one.paidMinor === 0 ? 'Has paid' : 'Take off'}
            </Button>
          </li>
        ))}
      </ul>
    </div>
  );
}

function HowFar({ course, money, words }: Props) {
  const changes = money.sensitivity[0]?.results.map(({ change }) => change) ?? [];
  const evenWords = (what: string, at: number | null) =>
    at === null ? 'never' : what === 'people' ? `${at} people` : words(at);
  return (
    <div>
      <h3>If a figure turns out otherwise</h3>
      {money.margin && (
        <p className="soft">
          {money.margin.people > 0
            ? `It could do with ${money.margin.people} fewer of its ${course.money.confirmed} people (${Math.round(money.margin.share * 100)} %) before it loses.`
            : money.margin.people === 0
              ? 'With one person fewer it loses.'
              : `It takes ${-money.margin.people} more people to pay.`}
        </p>
      )}
      <div className="table-scroll">
        <table className="table course-figures">
          <thead>
            <tr>
              <th>Left over if</th>
              {changes.map((change) => (
                <th key={change} className="number">
                  {percent(change)}
                </th>
              ))}
              <th className="number">loses beyond</th>
            </tr>
          </thead>
          <tbody>
            {money.sensitivity.map((line) => (
              <tr key={line.what}>
                <th scope="row">{line.what}</th>
                {line.results.map(({ change, resultMinor }) => (
                  <td key={change} className={resultMinor < 0 ? 'number course-loss' : 'number'}>
                    {words(resultMinor)}
                  </td>
                ))}
                <td className="number">{evenWords(line.what, line.evenAt)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <h4>Left over by fee and people</h4>
      <div className="table-scroll">
        <table className="table course-figures">
          <thead>
            <tr>
              <th>Fee</th>
              {money.grid.people.map((people) => (
                <th key={people} className={people === course.money.confirmed ? 'number course-now' : 'number'}>
                  {people}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {money.grid.fees.map(({ change, results }) => (
              <tr key={change}>
                <th scope="row">
                  {words(Math.round(course.frame.feeMinor * (1 + change)))}{' '}
                  <span className="soft">{change === 0 ? '' : percent(change)}</span>
                </th>
                {results.map((result, index) => (
                  <td key={money.grid.people[index]} className={result < 0 ? 'number course-loss' : 'number'}>
                    {words(result)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  );
}

function percent(change: number): string {
  return change === 0 ? 'as thought' : `${change > 0 ? '+' : '−'}${Math.abs(Math.round(change * 100))} %`;
}
