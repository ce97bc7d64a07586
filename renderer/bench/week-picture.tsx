/** The week's lanes, one for each book and one for each press and tool that holds something. */
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { WeekDrawing } from '../drawings/week.tsx';
import type { WeekBar, WeekLane } from '../drawings/week-layout.ts';
import { Button } from '../parts/controls.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import { type Doings, nextClock } from './doings.ts';
import { KeyMap } from './key-map.tsx';
import { togglePin } from './step-pane.tsx';
import { dateOf, openDays } from './time.ts';

const dayMs = 86_400_000;
/** Narrower than this a week's bars cannot be told apart. */
const weekFits = 560;

type Days = 1 | 7 | 14;
type Props = Readonly<{
  week: Week;
  now: number;
  /** The key of a task, the same in every plan that holds it. */
  selected: string | null;
  onSelect: (key: string) => void;
  /** The date shown, or printed. */
  day: string;
  onDay: (date: string) => void;
  doings: Doings;
}>;

/** One step of one book, whichever plan holds it. */
export function taskKey({ bookId, operationId, kind }: Pick<WeekTask, 'bookId' | 'operationId' | 'kind'>): string {
  return `${kind === 'hands' ? 'hands' : 'wait'} ${operationId} ${bookId}`;
}

export function WeekPicture({ week, now, selected, onSelect, day, onDay, doings }: Props) {
  const [wish, setWish] = useState<Days | null>(null);
  const [past, setPast] = useState(false);
  const place = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(900);
  useEffect(() => {
    const element = place.current;
    if (!element) return;
    const watch = new ResizeObserver(
      ([entry]) => entry && setWidth(Math.max(300, Math.floor(entry.contentRect.width))),
    );
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  const days = wish ?? (width < weekFits ? 1 : 7);
  const today = dateOf(now, week.timeZone);
  const shown = useMemo(() => pictureOf(week, days, day, today, past), [week, days, day, today, past]);
  const byKey = useMemo(() => new Map((week.plan?.tasks ?? []).map((task) => [taskKey(task), task])), [week]);
  if (!shown) return <div ref={place} />;

  function onKey(key: string, event: KeyboardEvent): boolean {
    const task = byKey.get(key);
    if (!task || doings.busy || event.ctrlKey || event.metaKey || event.altKey) return false;
    if (event.key === ' ' || event.key === 'Enter') {
      const next = nextClock(task, event.key === ' ' ? 'space' : 'enter');
      if (next) doings.clock(task, next);
      return true;
    }
    const letter = event.key.toLowerCase();
    if (letter === 'p' && task.kind === 'hands' && task.state === 'planned') togglePin(task, doings);
    else if (letter === 'a' && task.state === 'planned')
      doings.change({ kind: 'set aside', bookId: task.bookId }, `Set aside ${task.book}.`);
    else if (letter === 'a' && task.state === 'set aside')
      doings.change({ kind: 'take up', bookId: task.bookId }, `Took up ${task.book} again.`);
    else return false;
    return true;
  }

  function onMove(key: string, startAt: number, whole: boolean): void {
    const task = byKey.get(key);
    if (!task) return;
    const words = whole ? `Moved ${task.book}.` : `Moved ${task.label}, ${task.book}.`;
    doings.change({ kind: 'move', taskId: task.id, startAt, whole }, words);
  }

  const dates = openDays(week.hours, week.timeZone).map((one) => one.date);
  const at = dates.indexOf(day);
  return (
    <div className="week-picture">
      <div className="actions week-legend">
        <fieldset className="week-zoom">
          <legend className="visually-hidden">How much to show</legend>
          {([1, 7, 14] as const).map((value) => (
            <label key={value}>
              <input type="radio" name="zoom" checked={days === value} onChange={() => setWish(value)} />
              {value === 1 ? 'day' : value === 7 ? 'week' : 'fortnight'}
            </label>
          ))}
        </fieldset>
        {days === 1 && (
          <span className="actions">
            <Button aria-label="The day before" disabled={at <= 0} onClick={() => onDay(dates[at - 1]!)}>
              ‹
            </Button>
            <strong>{dayWords(day, week.timeZone)}</strong>
            <Button aria-label="The day after" disabled={at >= dates.length - 1} onClick={() => onDay(dates[at + 1]!)}>
              ›
            </Button>
          </span>
        )}
        {days > 1 && shown.hasPast && (
          <label>
            <input type="checkbox" checked={past} onChange={() => setPast(!past)} /> days that are over
          </label>
        )}
        <Legend />
      </div>
      <div ref={place}>
        <WeekDrawing
          lanes={shown.lanes}
          bars={shown.bars}
          windows={shown.windows}
          range={shown.range}
          days={shown.days}
          label={shown.label}
          hours={week.hours}
          now={now}
          timeZone={week.timeZone}
          width={width}
          selected={selected}
          onSelect={onSelect}
          onMove={onMove}
          onKey={onKey}
        />
        {shown.bars.length === 0 && (
          <p className="soft">
            {days === 1 ? 'Nothing is planned on this day.' : 'Nothing of this plan is still to come.'}
          </p>
        )}
      </div>
      <KeyMap />
    </div>
  );
}

function Legend() {
  return (
    <>
      <span>
        <svg width="22" height="12" aria-hidden="true">
          <rect className="week-key-hands" width="22" height="12" />
        </svg>{' '}
        hands
      </span>
      <span>
        <svg width="22" height="12" aria-hidden="true">
          <rect className="week-key-open" x="0.75" y="0.75" width="20.5" height="10.5" />
        </svg>{' '}
        drying or pressing
      </span>
      <span>
        <svg width="26" height="12" aria-hidden="true">
          <rect fill="url(#week-fade)" y="3" width="26" height="6" />
        </svg>{' '}
        out by its fading end in 80 weeks of 100
      </span>
    </>
  );
}

/** Lanes, bars and the stretch of time that is shown; a week that is going on without the days that are over, unless `past` is wanted. */
function pictureOf(week: Week, days: Days, day: string, today: string, past: boolean) {
  const tasks = week.plan?.tasks ?? [];
  const first = week.hours[0];
  if (!first || tasks.length === 0) return null;
  const to = first.from + days * dayMs;
  const since = sinceDay(week, today);
  const goesOn =
    openDays(week.hours, week.timeZone).find((one) => one.date >= since && one.from < to)?.from ?? first.from;
  const range = days === 1 ? dayRange(week, day) : { from: past ? first.from : goesOn, to };
  const windows = week.hours.filter((window) => window.from < range.to && window.to > range.from);
  const shown = tasks.filter(
    (task) => task.startAt < range.to && Math.max(task.endAt, task.heldUntil ?? 0) > range.from,
  );
  const books = new Map(shown.map((task) => [task.bookId, task.book]));
  const held = new Set(shown.filter((task) => task.kind === 'pressing').flatMap((task) => task.tools));
  const lanes: WeekLane[] = [
    ...[...books].map(([key, title]): WeekLane => ({ key, title, group: 'book' })),
    ...week.tools
      .filter((tool) => held.has(tool.id))
      .map((tool): WeekLane => ({ key: tool.id, title: tool.name, group: 'tool' })),
  ];
  const planned = new Set(tasks.filter((task) => task.state === 'planned' && task.kind === 'hands').map(taskKey));
  const own: WeekBar[] = [];
  const inTools: WeekBar[] = [];
  for (const task of shown) {
    const { kind, startAt, endAt, heldUntil, state, p80At } = task;
    const open = state === 'planned' || state === 'started' || state === 'paused';
    const bar = {
      id: taskKey(task),
      kind,
      startAt,
      endAt,
      heldUntil,
      state,
      name: nameOf(task, week.timeZone),
      likelyUntil: open ? p80At : null,
      pinned: task.pinnedAt !== null,
      movable: state === 'planned' && planned.has(taskKey({ ...task, kind: 'hands' })),
    };
    own.push({ ...bar, lane: task.bookId });
    if (kind === 'pressing' && state !== 'set aside')
      inTools.push(...task.tools.map((tool) => ({ ...bar, lane: tool })));
  }
  return {
    lanes,
    // The book's own bar comes last, so that a bar is found in its book's lane.
    bars: [...inTools, ...own],
    windows,
    range,
    days: openDays(windows, week.timeZone).map((one) => one.from),
    hasPast: goesOn > first.from,
    label: `${books.size} ${books.size === 1 ? 'book' : 'books'}, ${shown.length} steps`,
  };
}

/** Today, or the day of the first hand-step that is still to do where that has been left behind. */
function sinceDay(week: Week, today: string): string {
  const open = (week.plan?.tasks ?? []).filter(
    ({ kind, state }) => kind === 'hands' && state !== 'finished' && state !== 'set aside',
  );
  return [today, ...open.map((task) => dateOf(task.startAt, week.timeZone))].sort()[0]!;
}

/** A day's open hours with an hour on either side; the week's first day where that one is closed. */
function dayRange(week: Week, day: string): Readonly<{ from: number; to: number }> {
  const days = openDays(week.hours, week.timeZone);
  const shown = days.find((one) => one.date === day) ?? days[0]!;
  return { from: shown.from - 3_600_000, to: shown.to + 3_600_000 };
}

function nameOf(task: WeekTask, timeZone: string): string {
  const at = (instant: number) => `${dayWords(instant, timeZone)} ${clockWords(instant, timeZone)}`;
  const state = task.state === 'planned' ? '' : `, ${task.state}`;
  return `${task.label}, ${task.book}: ${at(task.startAt)} to ${at(task.endAt)}${state}${task.pinnedAt === null ? '' : ', pinned'}`;
}
