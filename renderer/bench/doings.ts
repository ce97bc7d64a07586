/** What a person does to the week: the clock on a step, and changes that everything else is planned around. */
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { Moved, PlanChange, WeekTask } from '../../core/contract/bench.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { say } from '../app/say.ts';

export type Clock = 'start' | 'pause' | 'finish';

const said: Readonly<Record<Clock, string>> = {
  start: 'Started; the clock runs.',
  pause: 'Paused; the minutes the clock counted are in the day-book.',
  finish: 'Finished; the minutes the clock counted are in the day-book.',
};

export function useDoings(startsOn: string) {
  const queries = useQueryClient();
  /** A clock that ran too long to be believed: which step, and what was to be done with it. */
  const [asked, setAsked] = useState<Readonly<{ taskId: string; action: Clock; sentence: string }> | null>(null);
  const [moved, setMoved] = useState<Readonly<{ planId: string; words: string; moves: readonly Moved[] }> | null>(null);
  const mark = useMutation({
    mutationFn: (input: Parameters<typeof client.bench.mark>[0]) => client.bench.mark(input),
    // The page knows of it before it says so: the next key goes on from here.
    onSuccess(week, { action }) {
      queries.setQueryData(ask.bench.week.queryKey({ input: { startsOn } }), week);
      say(said[action]);
      void queries.invalidateQueries();
    },
  });
  const replan = useMutation({
    mutationFn: ({ change }: Readonly<{ change: PlanChange; words: string }>) =>
      client.bench.replan({ startsOn, change }),
    onSuccess({ week, moves }, { words }) {
      queries.setQueryData(ask.bench.week.queryKey({ input: { startsOn } }), week);
      setMoved(week.plan && { planId: week.plan.id, words, moves });
      say(
        `${words} ${moves.length === 0 ? 'Nothing else moved.' : `${moves.length} ${moves.length === 1 ? 'step' : 'steps'} moved.`}`,
      );
      void queries.invalidateQueries();
    },
  });

  // Most changes take less time than reading that they are being made.
  const [slow, setSlow] = useState(false);
  useEffect(() => {
    if (!replan.isPending) return;
    const timer = setTimeout(() => setSlow(true), 600);
    return () => {
      clearTimeout(timer);
      setSlow(false);
    };
  }, [replan.isPending]);

  return {
    asked,
    moved,
    busy: mark.isPending || replan.isPending,
    /** A change is being planned around; it can be stopped and then keeps the best so far. */
    planning: slow && replan.isPending,
    stop: () => void client.bench.stop().catch(() => {}),
    error: asked === null ? (mark.error ?? replan.error) : null,
    clock(task: Pick<WeekTask, 'id'>, action: Clock, minutes?: number) {
      replan.reset();
      mark.mutate(minutes === undefined ? { taskId: task.id, action } : { taskId: task.id, action, minutes }, {
        onSuccess: () => setAsked(null),
        onError(error) {
          const { field, sentence } = readTrouble(error);
          setAsked(field === 'minutes' ? { taskId: task.id, action, sentence } : null);
        },
      });
    },
    /** The person does not know, or not now. */
    leave: () => setAsked(null),
    change(change: PlanChange, words: string) {
      mark.reset();
      replan.mutate({ change, words });
    },
    closeMoved: () => setMoved(null),
  };
}

export type Doings = ReturnType<typeof useDoings>;

/** What the one key or tap does next with a step; null where there is nothing to do. */
export function nextClock({ state, kind }: Pick<WeekTask, 'state' | 'kind'>, key: 'space' | 'enter'): Clock | null {
  if (state === 'planned') return 'start';
  if (state === 'paused') return key === 'enter' ? 'finish' : 'start';
  if (state === 'started') return key === 'space' && kind === 'hands' ? 'pause' : 'finish';
  return null;
}
