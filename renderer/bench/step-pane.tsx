/** One step beside the picture: when, why then, how sure, with what, what to take care of, and where else it could go. */

import { useState } from 'react';
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { stepOpen } from '../../core/schedule/lanes.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { addressOf } from '../app/route.ts';
import { Clamped } from '../parts/clamped.tsx';
import { Button } from '../parts/controls.tsx';
import { Caution } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import type { Doings } from './doings.ts';
import { StepActions } from './step-actions.tsx';
import { otherDay } from './time.ts';

type Props = Readonly<{ task: WeekTask; week: Week; doings: Doings; onClose: () => void }>;

export function StepPane({ task, week, doings, onClose }: Props) {
  const { timeZone } = week;
  const at = (instant: number) => `${dayWords(instant, timeZone)} ${clockWords(instant, timeZone)}`;
  const names = task.tools.map((id) => week.tools.find((tool) => tool.id === id)?.name ?? id);
  return (
    <aside className="step-pane" aria-label={task.label}>
      <div className="actions step-pane-head">
        <h3>{task.label}</h3>
        <Button look="quiet" onClick={onClose}>
          Close
        </Button>
      </div>
      <p>
        <Clamped words={task.book} href={addressOf('shelf', task.bookId)} />
      </p>
      {task.cautions.map((sentence) => (
        <Caution key={sentence} sentence={sentence} />
      ))}
      <StepActions task={task} doings={doings} />
      <dl className="facts">
        <dt>From</dt>
        <dd>{at(task.startAt)}</dd>
        <dt>To</dt>
        <dd>
          {at(task.endAt)} ({minutesWords((task.endAt - task.startAt) / 60_000)})
        </dd>
        {task.heldUntil !== null && task.heldUntil > task.endAt && (
          <>
            <dt>Out</dt>
            <dd>{at(task.heldUntil)}, when you are there to open it</dd>
          </>
        )}
        {names.length > 0 && (
          <>
            <dt>With</dt>
            <dd>{names.join(', ')}</dd>
          </>
        )}
        {task.waitsFor !== '' && (
          <>
            <dt>Why then</dt>
            <dd>{task.waitsFor}</dd>
          </>
        )}
        <HowSure task={task} week={week} />
        <dt>State</dt>
        <dd>
          {task.state}
          {task.pinnedAt !== null && ', pinned'}
        </dd>
      </dl>
      <Elsewhere task={task} week={week} doings={doings} />
    </aside>
  );
}

/** When this step is likely out, and whether its book is by the week's end, over the simulated weeks. */
function HowSure({ task, week }: Readonly<{ task: WeekTask; week: Week }>) {
  const { timeZone, plan } = week;
  if (task.state === 'finished' || task.state === 'set aside' || task.p50At === null || task.p80At === null)
    return null;
  const at = (instant: number) => `${dayWords(instant, timeZone)} ${clockWords(instant, timeZone)}`;
  const last = plan?.tasks.find((other) => other.bookId === task.bookId && other.onTime !== null);
  return (
    <>
      <dt>Likely out</dt>
      <dd>
        {at(task.p50At)}; by {at(task.p80At)} in 80 weeks of 100
      </dd>
      {last && last.onTime !== null && (
        <>
          <dt>The book</dt>
          <dd>out by the week’s end in {Math.round(last.onTime * 100)} weeks of 100</dd>
        </>
      )}
    </>
  );
}

function Elsewhere({ task, week, doings }: Omit<Props, 'onClose'>) {
  const [whole, setWhole] = useState(false);
  const { busy, change } = doings;
  const { hours, timeZone } = week;
  if (task.state === 'set aside') {
    return (
      <Button
        disabled={busy}
        onClick={() => change({ kind: 'take up', bookId: task.bookId }, `Took up ${task.book} again.`)}
      >
        Take the book up again
      </Button>
    );
  }
  if (task.state !== 'planned') return null;
  const move = (startAt: number) =>
    change(
      { kind: 'move', taskId: task.id, startAt, whole },
      whole ? `Moved ${task.book}.` : `Moved ${task.label}, ${task.book}.`,
    );
  const dayBefore = otherDay(hours, timeZone, task.startAt, -1);
  const dayAfter = otherDay(hours, timeZone, task.startAt, 1);
  return (
    <>
      <fieldset className="elsewhere">
        <legend>Put it elsewhere</legend>
        <div className="actions">
          {(['this step', 'the whole book'] as const).map((words, index) => (
            <label key={words} className="choice">
              <input
                type="radio"
                name="what moves"
                checked={whole === (index === 1)}
                onChange={() => setWhole(index === 1)}
              />
              {words}
            </label>
          ))}
        </div>
        <div className="actions">
          <Button disabled={busy} onClick={() => move(stepOpen(hours, task.startAt, -15))}>
            ‹ 15 min earlier
          </Button>
          <Button disabled={busy} onClick={() => move(stepOpen(hours, task.startAt, 15))}>
            15 min later ›
          </Button>
          {dayBefore !== null && (
            <Button disabled={busy} onClick={() => move(dayBefore)}>
              ‹ Day before
            </Button>
          )}
          {dayAfter !== null && (
            <Button disabled={busy} onClick={() => move(dayAfter)}>
              Next day ›
            </Button>
          )}
        </div>
      </fieldset>
      <div className="actions">
        {task.kind === 'hands' && <PinButton task={task} doings={doings} />}
        <Button
          disabled={busy}
          onClick={() => change({ kind: 'set aside', bookId: task.bookId }, `Set aside ${task.book}.`)}
        >
          Set the book aside
        </Button>
      </div>
    </>
  );
}

function PinButton({ task, doings }: Readonly<{ task: WeekTask; doings: Doings }>) {
  const pinned = task.pinnedAt !== null;
  return (
    <Button disabled={doings.busy} onClick={() => togglePin(task, doings)}>
      {pinned ? 'Let it go free' : 'Pin to this time'}
    </Button>
  );
}

export function togglePin(task: WeekTask, doings: Doings): void {
  const words = `${task.label}, ${task.book}`;
  if (task.pinnedAt === null) doings.change({ kind: 'pin', taskId: task.id }, `Pinned ${words}.`);
  else doings.change({ kind: 'unpin', taskId: task.id }, `Let go ${words}.`);
}
