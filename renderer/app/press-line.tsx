/** The line that is always there: what is in the presses now, and when the next one comes out. */

import { useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { PressLine } from '../../core/contract/workshop.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { Button } from '../parts/controls.tsx';
import { Mark } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import { ask } from './client.ts';
import { useHabits, useStatus } from './queries.ts';
import { addressOf } from './route.ts';
import { setTheme, themes, useTheme } from './theme.ts';
import { useUndo } from './undo.ts';

export function PressLineBar({ onFind }: Readonly<{ onFind: () => void }>) {
  const { data: lines } = useQuery({ ...ask.workshop.presses.queryOptions(), refetchInterval: 30_000 });
  const now = useNow();
  return (
    <header className="press-line">
      <a className="wordmark" href={addressOf('shelf')}>
        Kettlestitch
      </a>
      <div className="press-words">{lines === undefined ? null : <PressWords lines={lines} now={now} />}</div>
      <div className="press-tools">
        <UndoButtons />
        <Button look="quiet" onClick={onFind} aria-keyshortcuts="Control+K">
          Find <kbd>Ctrl K</kbd>
        </Button>
        <ThemeSwitch />
      </div>
    </header>
  );
}

/** What goes in after more than a week is not news. */
const soonMs = 7 * 86_400_000;

function PressWords({ lines, now }: Readonly<{ lines: readonly PressLine[]; now: number }>) {
  const { timeZone } = useHabits();
  const held = lines.filter((line) => line.inSince <= now).toSorted((a, b) => a.dueAt - b.dueAt);
  const next = lines
    .filter((line) => line.inSince > now && line.inSince < now + soonMs)
    .toSorted((a, b) => a.inSince - b.inSince)[0];
  const [first, ...others] = held;
  if (first === undefined) {
    return (
      <p>
        The presses are empty.
        {next && (
          <span className="soft">
            {' '}
            Next in: {short(next.book)}, {when(next.inSince, now, timeZone)}, {next.tool}.
          </span>
        )}
      </p>
    );
  }
  const due = first.dueAt <= now;
  return (
    <p>
      <Mark kind={due ? 'caution' : 'waiting'} />{' '}
      <a href={addressOf('shelf', first.bookId)} className="press-book">
        {short(first.book)}
      </a>{' '}
      {due ? (
        <strong>may come out since {when(first.dueAt, now, timeZone)}</strong>
      ) : (
        <>
          comes out {when(first.dueAt, now, timeZone)},{' '}
          <strong>in {minutesWords(Math.ceil((first.dueAt - now) / 60_000))}</strong>
        </>
      )}
      <span className="soft">
        {' '}
        · {first.tool}
        {others.length > 0 && (
          <>
            {' · '}
            <a href={addressOf('bench')}>
              {others.length} more {others.length === 1 ? 'is' : 'are'} in
            </a>
          </>
        )}
      </span>
    </p>
  );
}

function when(at: number, now: number, timeZone: string): string {
  const sameDay = dayWords(at, timeZone) === dayWords(now, timeZone);
  return sameDay ? `at ${clockWords(at, timeZone)}` : `${dayWords(at, timeZone)}, ${clockWords(at, timeZone)}`;
}

function short(title: string): string {
  return title.length > 42 ? `${title.slice(0, 41).trimEnd()}…` : title;
}

function UndoButtons() {
  const { data } = useStatus();
  const step = useUndo();
  const undo = data?.undo ?? null;
  const redo = data?.redo ?? null;
  return (
    <>
      <Button
        look="quiet"
        disabled={undo === null}
        aria-label={undo === null ? 'Undo: nothing to undo' : `Undo: ${undo}`}
        title={undo ?? undefined}
        aria-keyshortcuts="Control+Z"
        onClick={() => step(false)}
      >
        Undo
      </Button>
      {redo !== null && (
        <Button
          look="quiet"
          aria-label={`Redo: ${redo}`}
          title={redo}
          aria-keyshortcuts="Control+Shift+Z"
          onClick={() => step(true)}
        >
          Redo
        </Button>
      )}
    </>
  );
}

function ThemeSwitch() {
  const theme = useTheme();
  const next = themes[(themes.indexOf(theme) + 1) % themes.length] ?? 'system';
  const words = { system: 'As the system', light: 'Light', dark: 'Dark' };
  return (
    <Button
      look="quiet"
      className="theme-switch"
      onClick={() => setTheme(next)}
      aria-label={`Theme: ${words[theme]}. Change to ${words[next]}`}
    >
      <svg className="mark" viewBox="0 0 16 16" aria-hidden="true">
        <path d="M8 2a6 6 0 1 0 0 12a6 6 0 1 0 0-12" />
        {theme !== 'light' && <path d="M8 2v12" />}
        {theme === 'dark' && <path d="M10.2 2.5v11M12.3 4v8" />}
        {theme === 'light' && <path d="M8 5.2v5.6M5.2 8h5.6" />}
      </svg>
    </Button>
  );
}

/** The time, moved on every half minute. */
function useNow(): number {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 30_000);
    return () => clearInterval(timer);
  }, []);
  return now;
}
