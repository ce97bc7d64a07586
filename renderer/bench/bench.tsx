/** The Bench: this week as bars, how good the plan is, what to do now, and which books the week should hold. */

import { useQuery } from '@tanstack/react-query';
import { type KeyboardEvent, useState } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { leftBehind } from '../../core/schedule/behind.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { ask, client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { Button } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { EmptyRoom, Notice, TroubleNotice, Working } from '../parts/notices.tsx';
import { dayWords } from '../parts/words.ts';
import './bench.css';
import { ChooseWeek } from './choose.tsx';
import { type Doings, useDoings } from './doings.ts';
import { MovedList } from './moved.tsx';
import { NextSteps } from './next-steps.tsx';
import { usePlanning } from './planning.ts';
import { QualityLine } from './quality.tsx';
import { StepPane } from './step-pane.tsx';
import { addDays, dateOf, mondayOf, openDays, useNow } from './time.ts';
import { Tools } from './tools.tsx';
import { taskKey, WeekPicture } from './week-picture.tsx';

export function BenchRoom() {
  const { timeZone } = useHabits();
  const [startsOn, setStartsOn] = useState(() => mondayOf(Date.now(), timeZone));
  const [open, setOpen] = useState<'choose' | 'tools' | null>(null);
  const week = useQuery(ask.bench.week.queryOptions({ input: { startsOn } }));
  const planning = usePlanning(startsOn);

  if (week.error) return <TroubleNotice error={week.error} again={() => void week.refetch()} />;
  if (!week.data) return null;
  const { plan } = week.data;
  const toChoose = () => setOpen(open === 'choose' ? null : 'choose');

  return (
    <div className="bench">
      <header className="bench-head">
        <div className="actions">
          <Button aria-label="The week before" onClick={() => setStartsOn(addDays(startsOn, -7))}>
            ‹
          </Button>
          <h2>Week of {dayWords(startsOn, timeZone)}</h2>
          <Button aria-label="The week after" onClick={() => setStartsOn(addDays(startsOn, 7))}>
            ›
          </Button>
          <span className="soft">{minutesWords(week.data.handMinutes)} of bench time left</span>
        </div>
        <div className="actions">
          <Button look={plan ? 'plain' : 'main'} onClick={toChoose} aria-expanded={open === 'choose'}>
            Choose the books
          </Button>
          <Button onClick={() => setOpen(open === 'tools' ? null : 'tools')} aria-expanded={open === 'tools'}>
            Tools
          </Button>
        </div>
      </header>

      {planning.error !== null && <TroubleNotice error={planning.error} />}
      {planning.words !== null && <Working words={planning.words} onStop={planning.stop} />}
      {open === 'tools' && <Tools tools={week.data.tools} />}
      {open === 'choose' && (
        <ChooseWeek
          startsOn={startsOn}
          planned={booksOf(plan?.tasks, (task) => task.state !== 'finished' && task.state !== 'set aside')}
          aside={booksOf(plan?.tasks, (task) => task.state === 'set aside')}
          busy={planning.words !== null}
          openMinutes={week.data.handMinutes}
          onPlan={(bookIds) => {
            setOpen(null);
            planning.start(bookIds);
          }}
        />
      )}

      {plan ? (
        <PlannedWeek key={startsOn} week={week.data} plan={plan} />
      ) : (
        planning.words === null &&
        open !== 'choose' && (
          <EmptyRoom title="No plan for this week yet">
            <p>
              Choose the books and Kettlestitch lays out the week: your hands on one book while another dries, each
              press with its places, and when the last one is out.
            </p>
            <Button look="main" onClick={() => setOpen('choose')}>
              Choose the books
            </Button>
          </EmptyRoom>
        )
      )}
    </div>
  );
}

function booksOf(tasks: readonly WeekTask[] | undefined, which: (task: WeekTask) => boolean): readonly string[] {
  return [...new Set(tasks?.filter(which).map((task) => task.bookId) ?? [])];
}

function PlannedWeek({ week, plan }: Readonly<{ week: Week; plan: NonNullable<Week['plan']> }>) {
  const { startsOn, timeZone } = week;
  const now = useNow();
  const doings = useDoings(startsOn);
  const [selected, setSelected] = useState<string | null>(null);
  const [day, setDay] = useState(() => dayToShow(week, Date.now()));
  const task = plan.tasks.find((one) => taskKey(one) === selected) ?? null;

  function onKey(event: KeyboardEvent): void {
    if (event.key !== 'Escape' || event.defaultPrevented || selected === null) return;
    setSelected(null);
    event.preventDefault();
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Esc closes the pane from anywhere in the week
    <div className="planned" onKeyDown={onKey}>
      <QualityLine quality={plan.quality} timeZone={timeZone} />
      <LeftBehind tasks={plan.tasks} now={now} doings={doings} />
      <NextSteps week={week} now={now} doings={doings} onSelect={(one) => setSelected(taskKey(one))} />
      {doings.planning && <Working words="Planning the rest around it …" onStop={doings.stop} />}
      {doings.error !== null && <TroubleNotice error={doings.error} />}
      <MovedList doings={doings} planId={plan.id} timeZone={timeZone} />
      <div className={task ? 'bench-beside' : undefined}>
        <WeekPicture
          week={week}
          now={now}
          selected={selected}
          onSelect={setSelected}
          day={day}
          onDay={setDay}
          doings={doings}
        />
        {task && (
          <StepPane key={taskKey(task)} task={task} week={week} doings={doings} onClose={() => setSelected(null)} />
        )}
      </div>
      <Printing week={week} day={day} onDay={setDay} />
    </div>
  );
}

/** Today where the week holds it, else its first open day. */
function dayToShow(week: Week, now: number): string {
  const days = openDays(week.hours, week.timeZone);
  const today = dateOf(now, week.timeZone);
  return (days.find((one) => one.date >= today) ?? days[0])?.date ?? week.startsOn;
}

/** The clock has left the plan behind: what lags, and the offer to plan on from now. */
function LeftBehind({ tasks, now, doings }: Readonly<{ tasks: readonly WeekTask[]; now: number; doings: Doings }>) {
  const behind = leftBehind(tasks, now);
  if (behind === null) return null;
  const { step, how, minutes } = behind;
  const late = minutesWords(minutes);
  return (
    <Notice kind="caution">
      <p>
        {step.label}, <span className="book-name">{step.book}</span>,{' '}
        {how === 'not begun' ? `should have begun ${late} ago.` : `should have been over ${late} ago.`}
      </p>
      <Button disabled={doings.busy} onClick={() => doings.change({ kind: 'time' }, 'Planned the rest anew.')}>
        Plan the rest anew
      </Button>
    </Notice>
  );
}

function Printing({ week, day, onDay }: Readonly<{ week: Week; day: string; onDay: (date: string) => void }>) {
  const [trouble, setTrouble] = useState<unknown>(null);
  const { startsOn, timeZone } = week;
  const dates = openDays(week.hours, timeZone)
    .map((one) => one.date)
    .filter((date) => date < addDays(startsOn, 14));

  async function print(file: Promise<FileAnswer>) {
    setTrouble(null);
    try {
      saveFile(await file);
    } catch (error) {
      setTrouble(error);
    }
  }

  return (
    <section aria-label="Print" className="actions">
      <select
        aria-label="Day to print"
        className="day-select"
        value={day}
        onChange={(event) => onDay(event.target.value)}
      >
        {[...new Set([day, ...dates])].sort().map((date) => (
          <option key={date} value={date}>
            {dayWords(date, timeZone)}
          </option>
        ))}
      </select>
      <Button onClick={() => void print(client.bench.printDay({ startsOn, day }))}>Print the day</Button>
      <Button onClick={() => void print(client.bench.printWeek({ startsOn }))}>Print the week</Button>
      {trouble !== null && <TroubleNotice error={trouble} />}
    </section>
  );
}
