/** Start, pause, finish: one tap each. A clock that ran too long is asked about. */
import { useState } from 'react';
import type { WeekTask } from '../../core/contract/bench.ts';
import { Button, TextField } from '../parts/controls.tsx';
import type { Doings } from './doings.ts';

type Props = Readonly<{ task: WeekTask; doings: Doings }>;

export function StepActions({ task, doings }: Props) {
  const { asked, busy, clock } = doings;
  if (asked?.taskId === task.id) return <AskMinutes task={task} doings={doings} />;
  const hands = task.kind === 'hands';
  const { state } = task;
  return (
    <div className="actions">
      {(state === 'planned' || state === 'paused') && (
        <Button look="main" disabled={busy} onClick={() => clock(task, 'start')}>
          {startWords(task)}
        </Button>
      )}
      {state === 'started' && hands && (
        <Button disabled={busy} onClick={() => clock(task, 'pause')}>
          Pause
        </Button>
      )}
      {(state === 'started' || state === 'paused') && (
        <Button look="main" disabled={busy} onClick={() => clock(task, 'finish')}>
          {hands ? 'Finish' : task.kind === 'pressing' ? 'Take it out' : 'It is dry'}
        </Button>
      )}
    </div>
  );
}

function startWords({ kind, state }: WeekTask): string {
  if (kind === 'hands') return state === 'paused' ? 'Go on' : 'Start';
  return kind === 'pressing' ? 'Into the press' : 'Start drying';
}

function AskMinutes({ task, doings }: Props) {
  const [minutes, setMinutes] = useState('');
  const { asked, clock, leave } = doings;
  const count = Number(minutes.trim());
  const whole = minutes.trim() !== '' && Number.isInteger(count) && count >= 0 && count <= 1440;
  return (
    <form
      className="actions"
      onSubmit={(event) => {
        event.preventDefault();
        if (whole && asked) clock(task, asked.action, count);
      }}
    >
      <TextField
        name="Minutes it really took"
        inputMode="numeric"
        value={minutes}
        onChange={(event) => setMinutes(event.target.value)}
        hint={asked?.sentence}
        trouble={minutes !== '' && !whole ? 'Whole minutes, from 0 to 1440.' : undefined}
      />
      <Button look="main" type="submit" disabled={!whole}>
        Keep
      </Button>
      <Button onClick={leave}>Not now</Button>
    </form>
  );
}
