/** What to do now: the step under way with its clock, what comes out of a press, and the one step to take up next. */

import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { Button } from '../parts/controls.tsx';
import { Caution, Mark } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import type { Doings } from './doings.ts';
import { StepActions } from './step-actions.tsx';

type Props = Readonly<{ week: Week; now: number; doings: Doings; onSelect: (task: WeekTask) => void }>;

export function NextSteps({ week, now, doings, onSelect }: Props) {
  const tasks = week.plan?.tasks ?? [];
  const atWork = tasks.filter((task) => task.kind === 'hands' && (task.state === 'started' || task.state === 'paused'));
  const waiting = tasks.filter((task) => task.kind !== 'hands' && task.state === 'started');
  const due = waiting.filter((task) => outAt(task) <= now);
  const leave = waiting.filter((task) => outAt(task) > now).toSorted((a, b) => outAt(a) - outAt(b));
  const at = (instant: number) => `${dayWords(instant, week.timeZone)} ${clockWords(instant, week.timeZone)}`;
  const next = nextStep(tasks);
  if (atWork.length + waiting.length === 0 && !next) return null;
  return (
    <section className="now" aria-label="What to do now">
      {atWork.map((task) => (
        <Step key={task.id} task={task} doings={doings} onSelect={onSelect}>
          <p className="small soft">
            {task.state === 'paused'
              ? 'paused'
              : `since ${clockWords(task.startedAt ?? now, week.timeZone)}, ${minutesWords(Math.max(0, now - (task.startedAt ?? now)) / 60_000)} so far`}
          </p>
        </Step>
      ))}
      {due.map((task) => (
        <Step key={task.id} task={task} doings={doings} onSelect={onSelect}>
          <p className="small soft">
            <Mark kind="caution" name="due" /> due since {at(outAt(task))}
          </p>
        </Step>
      ))}
      {atWork.length === 0 && next && (
        <Step task={next} doings={doings} onSelect={onSelect} lead="Next">
          <p className="small soft">
            {dayWords(next.startAt, week.timeZone)} {clockWords(next.startAt, week.timeZone)}, about{' '}
            {minutesWords((next.endAt - next.startAt) / 60_000)}. {next.waitsFor}
          </p>
          {next.cautions.map((sentence) => (
            <Caution key={sentence} sentence={sentence} />
          ))}
        </Step>
      )}
      {leave.length > 0 && (
        <article className="now-step">
          <h3>Leave until then</h3>
          <ul className="now-leave">
            {leave.map((task) => (
              <li key={task.id}>
                <Mark kind="waiting" />{' '}
                <Button look="quiet" className="now-book" onClick={() => onSelect(task)}>
                  {task.book}
                </Button>{' '}
                <span className="small soft">
                  {task.label}, {at(outAt(task))}
                </span>
              </li>
            ))}
          </ul>
        </article>
      )}
    </section>
  );
}

/** When it may be taken out: a press waits for somebody to open it. */
function outAt(task: WeekTask): number {
  return task.heldUntil ?? task.endAt;
}

function Step(
  props: Readonly<{
    task: WeekTask;
    doings: Doings;
    onSelect: (task: WeekTask) => void;
    lead?: string;
    children: React.ReactNode;
  }>,
) {
  const { task, doings, onSelect, lead, children } = props;
  return (
    <article className="now-step">
      <h3>
        {lead && <span className="soft">{lead}: </span>}
        {task.label}
      </h3>
      <p>
        <Button look="quiet" className="now-book" onClick={() => onSelect(task)}>
          {task.book}
        </Button>
      </p>
      {children}
      <StepActions task={task} doings={doings} />
    </article>
  );
}

/** The first planned hand-step whose book has nothing before it that is under way. */
function nextStep(tasks: readonly WeekTask[]): WeekTask | null {
  const busy = new Set(
    tasks.filter((task) => task.state === 'started' || task.state === 'paused').map((task) => task.bookId),
  );
  return tasks.find((task) => task.kind === 'hands' && task.state === 'planned' && !busy.has(task.bookId)) ?? null;
}
