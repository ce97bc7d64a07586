/** The week: its picture, a step beside it with the reason for its hour, what moved by a change, one moment, and calendars to take away. */

import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { Course, CourseTask } from '../../core/contract/course.ts';
import type { WeekChange, WeekMove } from '../../core/contract/course-plan.ts';
import { teacherName, teachersIn } from '../../core/course/moment.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { client } from '../app/client.ts';
import { addressOf } from '../app/route.ts';
import { say } from '../app/say.ts';
import { useUndo } from '../app/undo.ts';
import { Button } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { Caution, EmptyRoom, TroubleNotice } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';
import { Moment } from './timetable-moment.tsx';
import { taskKey, WeekPicture, whenOf } from './timetable-picture.tsx';

type Props = Readonly<{ course: Course; busy: boolean; onLayOut: () => void; onAllocate: () => void }>;

export function WeekView({ course, busy, onLayOut, onAllocate }: Props) {
  const [selected, setSelected] = useState<string | null>(null);
  const change = useWeekChange(course.id);
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
  const task = timetable.tasks.find((one) => taskKey(one) === selected) ?? null;
  const pinned = timetable.tasks.filter((one) => one.pinnedAt !== null).length;
  return (
    <section aria-label="The week">
      <div className="actions">
        <Button look={timetable.stale ? 'main' : 'plain'} disabled={busy || change.busy} onClick={onLayOut}>
          Lay it out again
        </Button>
        <span>
          {timetable.quality.gap === 0
            ? 'Proven: no timetable is better.'
            : `At most ${Math.ceil(timetable.quality.gap * 100)} % better is possible.`}{' '}
          <span className="soft">
            The last work is out {dayWords(timetable.quality.finishAt, course.timeZone)}{' '}
            {clockWords(timetable.quality.finishAt, course.timeZone)}.
            {pinned > 0 && ` ${pinned} ${pinned === 1 ? 'step is' : 'steps are'} pinned and stay.`}
          </span>
        </span>
      </div>
      {change.error !== null && <TroubleNotice error={change.error} />}
      {change.busy && (
        <p className="soft" role="status">
          Laying out the rest around it …
        </p>
      )}
      {change.moved && <Moved moved={change.moved} zone={course.timeZone} onClose={change.close} />}
      <div className={task ? 'course-beside' : undefined}>
        <WeekPicture
          course={course}
          tasks={timetable.tasks}
          selected={selected}
          onSelect={setSelected}
          onMove={(moved, startAt) => change.make({ kind: 'move', taskId: moved.id, startAt }, `Moved ${moved.label}.`)}
        />
        {task && <TaskPane course={course} task={task} change={change} onClose={() => setSelected(null)} />}
      </div>
      <p className="small soft">
        Drag a step along its lane, or move it with Shift and the arrows; it stays where you put it, and the rest is
        laid out around it.
      </p>
      <Moment course={course} tasks={timetable.tasks} />
      <Calendars course={course} tasks={timetable.tasks} />
    </section>
  );
}

type Moves = Readonly<{ words: string; moves: readonly WeekMove[] }>;

/** A change of the week, which may move other steps as well. */
function useWeekChange(courseId: string) {
  const queries = useQueryClient();
  const [moved, setMoved] = useState<Moves | null>(null);
  const made = useMutation({
    mutationFn: ({ change }: Readonly<{ change: WeekChange; words: string }>) =>
      client.coursePlan.replan({ courseId, change }),
    onSuccess({ moves }, { words }) {
      say(words);
      setMoved(moves.length > 0 ? { words, moves } : null);
      void queries.invalidateQueries();
    },
  });
  return {
    busy: made.isPending,
    error: made.error,
    moved,
    close: () => setMoved(null),
    make: (change: WeekChange, words: string) => made.mutate({ change, words }),
  };
}

/** The rest waits behind one tap, so that the picture stays in sight. */
const firstShown = 5;

function Moved({ moved, zone, onClose }: Readonly<{ moved: Moves; zone: string; onClose: () => void }>) {
  const undo = useUndo();
  const at = (instant: number) => `${dayWords(instant, zone)} ${clockWords(instant, zone)}`;
  const list = (moves: readonly WeekMove[]) => (
    <ul>
      {moves.map((move) => (
        <li key={`${move.who} ${move.book} ${move.label}`}>
          {move.who}: {move.label}
          {move.book !== '' && (
            <>
              , <span className="course-title">{move.book}</span>
            </>
          )}
          , {at(move.from)} → {at(move.to)}
        </li>
      ))}
    </ul>
  );
  return (
    <section className="course-moved" aria-label="What moved">
      <div className="actions">
        <strong>{moved.words}</strong>
        <span className="soft">
          {moved.moves.length} {moved.moves.length === 1 ? 'step begins' : 'steps begin'} at another time:
        </span>
        <Button onClick={() => undo(false)}>Take it back</Button>
        <Button look="quiet" onClick={onClose}>
          Close
        </Button>
      </div>
      {list(moved.moves.slice(0, firstShown))}
      {moved.moves.length > firstShown && (
        <details>
          <summary>{moved.moves.length - firstShown} more</summary>
          {list(moved.moves.slice(firstShown))}
        </details>
      )}
    </section>
  );
}

type PaneProps = Readonly<{
  course: Course;
  task: CourseTask;
  change: ReturnType<typeof useWeekChange>;
  onClose: () => void;
}>;

function TaskPane({ course, task, change, onClose }: PaneProps) {
  const zone = course.timeZone;
  const person = course.people.find((one) => one.id === task.personId);
  const teachers = teachersIn(task.tools.length > 0 ? (course.timetable?.tasks ?? []) : []);
  const names = task.tools.flatMap((id) => {
    const tool = course.tools.find((one) => one.id === id)?.name;
    return tool ?? (teachers.includes(id) ? [teacherName(id, teachers).toLowerCase()] : []);
  });
  const isPinned = task.pinnedAt !== null;
  const movable = task.kind === 'hands' || task.kind === 'demonstration';
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
      {movable && (
        <Button
          disabled={change.busy}
          onClick={() =>
            change.make(
              { kind: isPinned ? 'unpin' : 'pin', taskId: task.id },
              isPinned ? `${task.label} may be moved again.` : `${task.label} stays at its time.`,
            )
          }
        >
          {isPinned ? 'Let it go' : 'Pin to this time'}
        </Button>
      )}
      {task.cautions.map((sentence) => (
        <Caution key={sentence} sentence={sentence} />
      ))}
      {task.cautions.length > 0 && (
        <p className="small soft">Follow your local rules; for objects of value ask an accredited conservator.</p>
      )}
    </aside>
  );
}

/** iCalendar files for whatever calendar people use. */
function Calendars({ course, tasks }: Readonly<{ course: Course; tasks: readonly CourseTask[] }>) {
  const [whose, setWhose] = useState('all in one zip');
  const take = useMutation({
    mutationFn: () => client.coursePlan.calendar({ courseId: course.id, whose }),
    onSuccess: saveFile,
  });
  const teachers = teachersIn(tasks);
  return (
    <div className="course-line">
      <label className="field">
        <span className="field-name">Calendar (iCalendar)</span>
        <select value={whose} onChange={(event) => setWhose(event.target.value)}>
          <option value="all in one zip">one for each, in one zip</option>
          <option value="everything">the whole course</option>
          {course.people
            .filter(({ standing }) => standing === 'confirmed')
            .map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          {teachers.map((id) => (
            <option key={id} value={id}>
              {teacherName(id, teachers)}
            </option>
          ))}
        </select>
      </label>
      <Button disabled={take.isPending} onClick={() => take.mutate()}>
        Save the calendar
      </Button>
      {take.error && <TroubleNotice error={take.error} />}
    </div>
  );
}
