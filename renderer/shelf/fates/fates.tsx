/** Fates decided together: what there is to give, the plan of the whole shelf with its reasons and prices, and a yes to it. */
import { useQuery } from '@tanstack/react-query';
import type { FatesStart, Need } from '../../../core/contract/fates.ts';
import { ask } from '../../app/client.ts';
import { addressOf } from '../../app/route.ts';
import { Button, TextField } from '../../parts/controls.tsx';
import { EmptyRoom, TroubleNotice, Working } from '../../parts/notices.tsx';
import { Decisions } from './decisions.tsx';
import './fates.css';
import { Needs } from './needs.tsx';
import { decide, stopDeciding, useFates } from './state.ts';

export function DecideFates() {
  const start = useQuery(ask.fates.start.queryOptions());
  return (
    <div className="weighing">
      <header className="weighing-head">
        <h1>Decide fates together</h1>
        <a href={addressOf('shelf')}>Back to the list</a>
      </header>
      {start.error && <TroubleNotice error={start.error} again={() => void start.refetch()} />}
      {start.data &&
        (start.data.open + start.data.locked === 0 ? <Nothing start={start.data} /> : <Work start={start.data} />)}
    </div>
  );
}

function Nothing({ start }: Readonly<{ start: FatesStart }>) {
  return (
    <EmptyRoom title="There is nothing to decide yet">
      <p>
        Fates are weighed by what each book needs, and no waiting book has its damage noted.
        {start.unsurveyed > 0 && ` ${start.unsurveyed.toLocaleString('en')} are still to be surveyed.`}
      </p>
      <a href={addressOf('shelf')}>To the Shelf</a>
    </EmptyRoom>
  );
}

/** A season of usual weeks, offered until a person says otherwise. The workshop's own choice. */
const usualWeeks = 10;

function Work({ start }: Readonly<{ start: FatesStart }>) {
  const { hours: typed, needs: own, proposed, words, error } = useFates();
  const hours = typed ?? String(Math.round((start.weekMinutes * usualWeeks) / 60));
  const handMinutes = readHours(hours);
  const needs: readonly Need[] = own ?? start.courses.flatMap((course) => course.needs);
  const weeks = handMinutes === null || start.weekMinutes === 0 ? null : handMinutes / start.weekMinutes;
  return (
    <>
      <p>
        A wreck can be the only source of cloth for a better book, or the one copy that teaches rebacking. So all{' '}
        {start.open.toLocaleString('en')} surveyed books are weighed against each other: the most worth for the hours
        there are, the copies the course wants, and old material only where a wreck gives it.
        {start.locked > 0 &&
          ` ${start.locked.toLocaleString('en')} that you have decided yourself stay as they are and use up their hours.`}
        {start.toLookAt > 0 &&
          ` ${start.toLookAt.toLocaleString('en')} wait until somebody has looked at a possible hazard.`}
        {start.unsurveyed > 0 && ` ${start.unsurveyed.toLocaleString('en')} not yet surveyed are left out.`}
      </p>
      <div className="weighing-given">
        <section aria-labelledby="weighing-hours">
          <h2 id="weighing-hours">Hours to give</h2>
          <TextField
            name="Bench hours"
            inputMode="decimal"
            value={hours}
            onChange={(event) => useFates.setState({ hours: event.target.value })}
            trouble={handMinutes === null ? 'Give hours as a number, such as 120.' : undefined}
            hint={weeks === null ? undefined : `About ${Math.round(weeks * 10) / 10} of your weeks at the bench`}
          />
        </section>
        <Needs needs={needs} courses={start.courses} onNeeds={(next) => useFates.setState({ needs: next })} />
      </div>
      {error !== null && <TroubleNotice error={error} />}
      {words === null ? (
        <div className="actions">
          <Button
            look={proposed === null ? 'main' : 'plain'}
            disabled={handMinutes === null}
            onClick={() => handMinutes !== null && void decide(handMinutes, needs)}
          >
            {proposed === null ? 'Weigh the shelf' : 'Weigh again'}
          </Button>
          <span className="soft">Nothing is changed before you accept it.</span>
        </div>
      ) : (
        <Working words={words} onStop={stopDeciding} />
      )}
      {proposed !== null && <Decisions proposed={proposed} busy={words !== null} />}
    </>
  );
}

/** Minutes, or null for what is no number of hours. */
function readHours(words: string): number | null {
  const hours = Number(words.trim().replace(',', '.'));
  return words.trim() === '' || !Number.isFinite(hours) || hours < 0 || hours > 10_000 ? null : Math.round(hours * 60);
}
