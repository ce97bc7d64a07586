/** A quiet strip under the press line when something is due out: what, since when, and one tap to take it out. */
import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { PressLine } from '../../core/contract/workshop.ts';
import { Button } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import { ask, client } from './client.ts';
import { useChange, useHabits } from './queries.ts';
import { ring } from './ring.ts';
import { addressOf } from './route.ts';

type Due = PressLine & Readonly<{ taskId: string }>;

/** One is enough to act on; the others wait behind a link. */
const mostShown = 1;

/** What is due out of a press or dry by now; asked again every half minute. */
export function useDue(): readonly Due[] {
  const { data } = useQuery({ ...ask.workshop.presses.queryOptions(), refetchInterval: 30_000 });
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 10_000);
    return () => clearInterval(timer);
  }, []);
  const seen = new Set<string>();
  return (data ?? []).filter((line): line is Due => {
    if (line.taskId === null || line.dueAt > now || seen.has(line.taskId)) return false;
    seen.add(line.taskId);
    return true;
  });
}

export function PressDue({ due }: Readonly<{ due: readonly Due[] }>) {
  const { timeZone } = useHabits();
  const [quiet, setQuiet] = useState<ReadonlySet<string>>(new Set());
  const rung = useRef<ReadonlySet<string>>(new Set());
  const takeOut = useChange(client.bench.mark, () => 'Out; the next step of the book can begin.');
  useEffect(() => {
    if (due.some((line) => !rung.current.has(line.taskId))) ring();
    rung.current = new Set(due.map((line) => line.taskId));
  }, [due]);
  const shown = due.filter((line) => !quiet.has(line.taskId));
  if (shown.length === 0) return <div className="press-due" role="status" />;
  const since = (at: number) => {
    const today = dayWords(at, timeZone) === dayWords(Date.now(), timeZone);
    return today ? clockWords(at, timeZone) : `${dayWords(at, timeZone)} ${clockWords(at, timeZone)}`;
  };
  return (
    <div className="press-due press-due-open" role="status">
      <Mark kind="caution" name="due" />
      <ul>
        {shown.slice(0, mostShown).map((line) => (
          <li key={line.taskId}>
            <span>
              <span className="press-book">{line.book}</span>{' '}
              {line.tool === 'open air' ? 'is dry' : `is due out of ${line.tool}`} since {since(line.dueAt)}
            </span>
            <Button
              disabled={takeOut.isPending}
              aria-label={`${line.tool === 'open air' ? 'It is dry' : 'Take it out'}: ${line.book}`}
              onClick={() => takeOut.mutate({ taskId: line.taskId, action: 'finish' })}
            >
              {line.tool === 'open air' ? 'It is dry' : 'Take it out'}
            </Button>
          </li>
        ))}
        {shown.length > mostShown && (
          <li>
            <a href={addressOf('bench')}>{shown.length - mostShown} more due</a>
          </li>
        )}
      </ul>
      <Button look="quiet" onClick={() => setQuiet(new Set([...quiet, ...shown.map((line) => line.taskId)]))}>
        Not now
      </Button>
      {takeOut.error && <TroubleNotice error={takeOut.error} />}
    </div>
  );
}
