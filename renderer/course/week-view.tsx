/** The week on a grid of people by time, with what all share beneath; a bar opens beside it with the reason for its hour. */

import { useRef, useState } from 'react';
import type { Course, CourseTask } from '../../core/contract/course.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { addressOf } from '../app/route.ts';
import { type WeekBar, WeekDrawing, type WeekLane } from '../drawings/week.tsx';
import { Button } from '../parts/controls.tsx';
import { Caution, EmptyRoom } from '../parts/notices.tsx';
import { useWidth } from '../parts/width.ts';
import { clockWords, dayWords } from '../parts/words.ts';

const dayMs = 86_400_000;
const everybody = 'everybody';

type Props = Readonly<{ course: Course; busy: boolean; onLayOut: () => void; onAllocate: () => void }>;

export function WeekView({ course, busy, onLayOut, onAllocate }: Props) {
  const [selected, setSelected] = useState<string | null>(null);
  const { timetable } = course;
  const given = course.copies.some((copy) => copy.personId !== null);
  if (!timetable) {
    return (
      <EmptyRoom title="The week is not laid out yet">
        <p>
          {given
            ? 'Kettlestitch lays out demonstrations before their first use, keeps the tutor free for what is risky, and lets glue dry overnight.'
            : 'First each person needs their copies.'}
        </p>
        <Button look="main" disabled={busy} onClick={given ? onLayOut : onAllocate}>
          {given ? 'Lay out the week' : 'Allocate the copies'}
        </Button>
      </EmptyRoom>
    );
  }
  const task = timetable.tasks.find((one) => one.id === selected) ?? null;
  return (
    <section aria-label="The week">
      <div className="actions">
        <Button look={timetable.stale ? 'main' : 'plain'} disabled={busy} onClick={onLayOut}>
          Lay it out again
        </Button>
        <span>
          {timetable.quality.gap === 0
            ? 'Proven: no timetable is better.'
            : `At most ${Math.ceil(timetable.quality.gap * 100)} % better is possible.`}{' '}
          <span className="soft">
            The last work is out {dayWords(timetable.quality.finishAt, course.timeZone)}{' '}
            {clockWords(timetable.quality.finishAt, course.timeZone)}.
          </span>
        </span>
      </div>
      <div className={task ? 'course-beside' : undefined}>
        <Picture course={course} tasks={timetable.tasks} selected={selected} onSelect={setSelected} />
        {task && <TaskPane course={course} task={task} onClose={() => setSelected(null)} />}
      </div>
    </section>
  );
}

type PictureProps = Readonly<{
  course: Course;
  tasks: readonly CourseTask[];
  selected: string | null;
  onSelect: (id: string) => void;
}>;

function Picture({ course, tasks, selected, onSelect }: PictureProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const days = daysOf(course);
  const [day, setDay] = useState<number | null>(null);
  const zone = course.timeZone;
  const first = course.hours[0]?.from ?? 0;
  const last = Math.max(course.hours.at(-1)?.to ?? 0, ...tasks.map((task) => task.endAt));
  const shownFrom = day === null ? first : (days[day] ?? first);
  const range =
    day === null ? { from: first, to: last } : { from: shownFrom, to: Math.min(shownFrom + dayMs / 2, last) };
  const windows = course.hours.filter((window) => window.from < range.to && window.to > range.from);
  const shown = tasks.filter((task) => task.startAt < range.to && (task.heldUntil ?? task.endAt) > range.from);
  const held = new Set(shown.filter((task) => task.kind === 'pressing').flatMap((task) => task.tools));
  const people = course.people.filter((one) => one.standing === 'confirmed');
  const lanes: readonly WeekLane[] = [
    { key: everybody, title: 'Everybody', group: 'person' },
    ...people.map((one): WeekLane => ({ key: one.id, title: one.name, group: 'person' })),
    ...course.tools
      .filter((tool) => held.has(tool.id))
      .map((tool): WeekLane => ({ key: tool.id, title: tool.name, group: 'tool' })),
  ];
  const bars = shown.flatMap((task): WeekBar[] => {
    const name = `${task.label}${task.book === '' ? '' : `, ${task.book}`}: ${whenOf(task, zone)}`;
    const bar = { ...task, name, state: 'planned' as const };
    // Drying is drawn where it is held; in the lanes of people it would hide their hands.
    if (task.kind === 'pressing') return task.tools.map((tool): WeekBar => ({ ...bar, lane: tool }));
    if (task.kind === 'drying') return [];
    return [{ ...bar, lane: task.personId ?? everybody }];
  });
  return (
    <div>
      <fieldset className="week-zoom">
        <legend className="visually-hidden">What to show</legend>
        <label>
          <input type="radio" name="course-day" checked={day === null} onChange={() => setDay(null)} />
          whole course
        </label>
        {days.map((at, index) => (
          <label key={at}>
            <input type="radio" name="course-day" checked={day === index} onChange={() => setDay(index)} />
            {dayWords(at, zone)}
          </label>
        ))}
      </fieldset>
      <div ref={box} className="course-picture">
        {width > 0 && (
          <WeekDrawing
            lanes={lanes}
            bars={bars}
            windows={windows}
            range={range}
            days={day === null ? days : [shownFrom]}
            now={0}
            timeZone={zone}
            width={Math.max(300, width)}
            selected={selected}
            onSelect={onSelect}
            label={`${people.length} people, ${shown.length} steps`}
          />
        )}
      </div>
    </div>
  );
}

/** First teaching instant of each day. */
function daysOf(course: Course): readonly number[] {
  const seen = new Set<string>();
  return course.hours.flatMap(({ from }) => {
    const name = dayWords(from, course.timeZone);
    if (seen.has(name)) return [];
    seen.add(name);
    return [from];
  });
}

function whenOf(task: CourseTask, zone: string): string {
  const at = (instant: number) => `${dayWords(instant, zone)} ${clockWords(instant, zone)}`;
  return `${at(task.startAt)} to ${at(task.endAt)}`;
}

function TaskPane({ course, task, onClose }: Readonly<{ course: Course; task: CourseTask; onClose: () => void }>) {
  const zone = course.timeZone;
  const person = course.people.find((one) => one.id === task.personId);
  const names = task.tools.map((id) => course.tools.find((tool) => tool.id === id)?.name ?? id);
  return (
    <aside className="course-pane" aria-label={task.label}>
      <div className="actions">
        <h3>{task.label}</h3>
        <Button look="quiet" onClick={onClose}>
          Close
        </Button>
      </div>
      {task.bookId !== null && (
        <p>
          <a className="course-title" href={addressOf('shelf', task.bookId)}>
            {task.book}
          </a>
        </p>
      )}
      <p>
        {person?.name ?? 'Everybody'}: {whenOf(task, zone)} ({minutesWords((task.endAt - task.startAt) / 60_000)})
      </p>
      {task.heldUntil !== null && task.heldUntil > task.endAt && (
        <p>
          Out {dayWords(task.heldUntil, zone)} {clockWords(task.heldUntil, zone)}, when somebody is there.
        </p>
      )}
      {names.length > 0 && <p>With {names.join(', ')}</p>}
      {task.waitsFor !== '' && <p className="soft">{task.waitsFor}</p>}
      {task.cautions.map((sentence) => (
        <Caution key={sentence} sentence={sentence} />
      ))}
      {task.cautions.length > 0 && (
        <p className="small soft">Follow your local rules; for objects of value ask an accredited conservator.</p>
      )}
    </aside>
  );
}
