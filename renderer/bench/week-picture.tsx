/** The week's lanes, one for each book and one for each press and tool that holds something. */
import { useEffect, useRef, useState } from 'react';
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { type WeekBar, WeekDrawing, type WeekLane } from '../drawings/week.tsx';
import { clockWords, dayWords } from '../parts/words.ts';

const dayMs = 86_400_000;

type Props = Readonly<{ week: Week; now: number; selected: string | null; onSelect: (id: string) => void }>;

export function WeekPicture({ week, now, selected, onSelect }: Props) {
  const [days, setDays] = useState(7);
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
  const tasks = week.plan?.tasks ?? [];
  const first = week.hours[0];
  if (!first || tasks.length === 0) return <div ref={place} />;

  const start = days === 1 ? dayStart(week, now) : first.from;
  const range = { from: start, to: start + days * dayMs };
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
  const bars = shown.flatMap((task): WeekBar[] => {
    const bar = { ...task, name: nameOf(task, week.timeZone) };
    const own: WeekBar = { ...bar, lane: task.bookId };
    const inTools = task.kind === 'pressing' ? task.tools.map((tool): WeekBar => ({ ...bar, lane: tool })) : [];
    return [own, ...inTools];
  });

  return (
    <div className="week-picture">
      <div className="actions week-legend">
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
        <fieldset className="week-zoom">
          <legend className="visually-hidden">How much to show</legend>
          {([1, 7, 14] as const).map((value) => (
            <label key={value}>
              <input type="radio" name="zoom" checked={days === value} onChange={() => setDays(value)} />
              {value === 1 ? 'day' : value === 7 ? 'week' : 'fortnight'}
            </label>
          ))}
        </fieldset>
      </div>
      <div ref={place}>
        <WeekDrawing
          lanes={lanes}
          bars={bars}
          windows={windows}
          range={range}
          days={firstOfDays(windows, week.timeZone)}
          now={now}
          timeZone={week.timeZone}
          width={width}
          selected={selected}
          onSelect={onSelect}
          label={`${books.size} books, ${shown.length} steps`}
        />
      </div>
    </div>
  );
}

/** Today's first open hour where this week holds today, else the week's first. */
function dayStart(week: Week, now: number): number {
  const window = week.hours.find((one) => one.to > now) ?? week.hours[0]!;
  return window.from - 3_600_000;
}

function firstOfDays(windows: readonly Readonly<{ from: number; to: number }>[], timeZone: string): readonly number[] {
  const seen = new Set<string>();
  return windows.flatMap((window) => {
    const day = dayWords(window.from, timeZone);
    if (seen.has(day)) return [];
    seen.add(day);
    return [window.from];
  });
}

function nameOf(task: WeekTask, timeZone: string): string {
  const at = (instant: number) => `${dayWords(instant, timeZone)} ${clockWords(instant, timeZone)}`;
  return `${task.label}, ${task.book}: ${at(task.startAt)} to ${at(task.endAt)}${task.state === 'planned' ? '' : `, ${task.state}`}`;
}
