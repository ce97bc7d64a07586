/** Start, pause, finish: one tap each. A clock that ran too long is asked about. */
import { useState } from 'react';
import type { WeekTask } from '../../core/contract/bench.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';

type Action = 'start' | 'pause' | 'finish' | 'set aside' | 'take up';

const said: Readonly<Record<Action, string>> = {
  start: 'Started; the clock runs.',
  pause: 'Paused; the minutes are in the day-book.',
  finish: 'Finished; the minutes are in the day-book.',
  'set aside': 'Set aside for this week.',
  'take up': 'Taken up again.',
};

export function StepActions({ task }: Readonly<{ task: WeekTask }>) {
  const [asked, setAsked] = useState<Action | null>(null);
  const [minutes, setMinutes] = useState('');
  const mark = useChange(client.bench.mark, (_, input) => said[input.action]);
  const trouble = mark.error ? readTrouble(mark.error) : null;

  function go(action: Action, given?: number) {
    const input = given === undefined ? { taskId: task.id, action } : { taskId: task.id, action, minutes: given };
    mark.mutate(input, {
      onSuccess: () => setAsked(null),
      onError: (error) => setAsked(readTrouble(error).field === 'minutes' ? action : null),
    });
  }

  if (asked !== null) {
    const count = Number(minutes.trim());
    const whole = minutes.trim() !== '' && Number.isInteger(count) && count >= 0 && count <= 1440;
    return (
      <form
        className="actions"
        onSubmit={(event) => {
          event.preventDefault();
          if (whole) go(asked, count);
        }}
      >
        <TextField
          name="Minutes it really took"
          inputMode="numeric"
          value={minutes}
          onChange={(event) => setMinutes(event.target.value)}
          hint={trouble?.sentence}
          trouble={minutes !== '' && !whole ? 'Whole minutes, from 0 to 1440.' : undefined}
        />
        <Button look="main" type="submit" disabled={!whole}>
          Keep
        </Button>
        <Button onClick={() => setAsked(null)}>Not now</Button>
      </form>
    );
  }
  const hands = task.kind === 'hands';
  const { state } = task;
  return (
    <>
      <div className="actions">
        {(state === 'planned' || state === 'paused') && (
          <Button look="main" disabled={mark.isPending} onClick={() => go('start')}>
            {hands
              ? state === 'paused'
                ? 'Go on'
                : 'Start'
              : task.kind === 'pressing'
                ? 'Into the press'
                : 'Start drying'}
          </Button>
        )}
        {state === 'started' && hands && (
          <Button disabled={mark.isPending} onClick={() => go('pause')}>
            Pause
          </Button>
        )}
        {(state === 'started' || state === 'paused') && (
          <Button look="main" disabled={mark.isPending} onClick={() => go('finish')}>
            {hands ? 'Finish' : task.kind === 'pressing' ? 'Take it out' : 'It is dry'}
          </Button>
        )}
        {state === 'planned' && (
          <Button disabled={mark.isPending} onClick={() => go('set aside')}>
            Set the book aside
          </Button>
        )}
        {state === 'set aside' && (
          <Button disabled={mark.isPending} onClick={() => go('take up')}>
            Take it up again
          </Button>
        )}
      </div>
      {mark.error && <TroubleNotice error={mark.error} />}
    </>
  );
}
