/** One step beside the picture: when, why then, with what, and what to take care of. */
import type { Tool, WeekTask } from '../../core/contract/bench.ts';
import { addressOf } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { Caution } from '../parts/notices.tsx';
import { clockWords, dayWords, minutesWords } from '../parts/words.ts';
import { StepActions } from './step-actions.tsx';

type Props = Readonly<{ task: WeekTask; tools: readonly Tool[]; timeZone: string; onClose: () => void }>;

export function StepPane({ task, tools, timeZone, onClose }: Props) {
  const at = (instant: number) => `${dayWords(instant, timeZone)} ${clockWords(instant, timeZone)}`;
  const names = task.tools.map((id) => tools.find((tool) => tool.id === id)?.name ?? id);
  return (
    <aside className="step-pane" aria-label={task.label}>
      <div className="actions step-pane-head">
        <h3>{task.label}</h3>
        <Button look="quiet" onClick={onClose}>
          Close
        </Button>
      </div>
      <p>
        <a href={addressOf('shelf', task.bookId)}>{task.book}</a>
      </p>
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
        <dt>State</dt>
        <dd>{task.state}</dd>
      </dl>
      {task.cautions.map((sentence) => (
        <Caution key={sentence} sentence={sentence} />
      ))}
      <StepActions task={task} />
    </aside>
  );
}
