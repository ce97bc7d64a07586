/** The week as lanes: by person, by tool or by tutor. Bars can be dragged along time, or moved with Shift and the arrows. */
import { useRef, useState } from 'react';
import type { Course, CourseTask } from '../../core/contract/course.ts';
import { teacherName, teachersIn } from '../../core/course/moment.ts';
import { WeekDrawing } from '../drawings/week.tsx';
import type { WeekBar, WeekLane } from '../drawings/week-layout.ts';
import { useWidth } from '../parts/width.ts';
import { clockWords, dayWords } from '../parts/words.ts';

const dayMs = 86_400_000;
const everybody = 'everybody';

const looks = [
  ['person', 'by person'],
  ['tool', 'by tool'],
  ['tutor', 'by tutor'],
] as const;
type Look = (typeof looks)[number][0];

type Props = Readonly<{
  course: Course;
  tasks: readonly CourseTask[];
  /** The key of a task, the same in every plan that holds it. */
  selected: string | null;
  onSelect: (key: string) => void;
  onMove: (task: CourseTask, startAt: number) => void;
}>;

export function taskKey({ kind, operationId, bookId }: CourseTask): string {
  return `${kind} ${operationId} ${bookId ?? ''}`;
}

export function WeekPicture({ course, tasks, selected, onSelect, onMove }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const days = daysOf(course);
  const [day, setDay] = useState<number | null>(null);
  const [look, setLook] = useState<Look>('person');
  const zone = course.timeZone;
  const first = course.hours[0]?.from ?? 0;
  const last = Math.max(course.hours.at(-1)?.to ?? 0, ...tasks.map((task) => task.endAt));
  const shownFrom = day === null ? first : (days[day] ?? first);
  const range =
    day === null ? { from: first, to: last } : { from: shownFrom, to: Math.min(shownFrom + dayMs / 2, last) };
  const windows = course.hours.filter((window) => window.from < range.to && window.to > range.from);
  const shown = tasks.filter((task) => task.startAt < range.to && (task.heldUntil ?? task.endAt) > range.from);
  const lanes = lanesOf(course, shown, look);
  const bars = lanes.length === 0 ? [] : shown.flatMap((task) => barsOf(task, look, lanes, zone));
  const byKey = new Map(tasks.map((task) => [taskKey(task), task]));
  return (
    <div>
      <div className="actions">
        <fieldset className="week-zoom">
          <legend className="visually-hidden">Lanes</legend>
          {looks.map(([value, words]) => (
            <label key={value}>
              <input type="radio" name="course-look" checked={look === value} onChange={() => setLook(value)} />
              {words}
            </label>
          ))}
        </fieldset>
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
      </div>
      <div ref={box} className="course-picture">
        {lanes.length === 0 && <p className="soft">Nothing is used or watched in these hours.</p>}
        {width > 0 && lanes.length > 0 && (
          <WeekDrawing
            lanes={lanes}
            bars={bars}
            windows={windows}
            hours={course.hours}
            range={range}
            days={day === null ? days : [shownFrom]}
            now={0}
            timeZone={zone}
            width={Math.max(300, width)}
            selected={selected}
            onSelect={onSelect}
            onMove={(key, startAt) => {
              const task = byKey.get(key);
              if (task) onMove(task, startAt);
            }}
            label={`${lanes.length} lanes ${look === 'person' ? 'of people' : look === 'tool' ? 'of tools' : 'of tutors'}, ${shown.length} steps`}
          />
        )}
      </div>
    </div>
  );
}

function lanesOf(course: Course, shown: readonly CourseTask[], look: Look): readonly WeekLane[] {
  if (look === 'tutor') {
    const teachers = teachersIn(shown);
    return teachers.map((id) => ({ key: id, title: teacherName(id, teachers), group: 'person' }));
  }
  const used = (task: CourseTask) => look === 'tool' || task.kind === 'pressing';
  const held = new Set(shown.filter(used).flatMap((task) => task.tools));
  const tools = course.tools
    .filter((tool) => held.has(tool.id))
    .map((tool): WeekLane => ({ key: tool.id, title: tool.name, group: look === 'tool' ? 'person' : 'tool' }));
  if (look === 'tool') return tools;
  const people = course.people.filter((one) => one.standing === 'confirmed');
  return [
    { key: everybody, title: 'Everybody', group: 'person' },
    ...people.map((one): WeekLane => ({ key: one.id, title: one.name, group: 'person' })),
    ...tools,
  ];
}

function barsOf(task: CourseTask, look: Look, lanes: readonly WeekLane[], zone: string): readonly WeekBar[] {
  const name = `${task.label}${task.book === '' ? '' : `, ${task.book}`}: ${whenOf(task, zone)}${task.pinnedAt === null ? '' : ', pinned'}`;
  const movable = task.kind === 'hands' || task.kind === 'demonstration';
  const bar = { ...task, id: taskKey(task), name, state: 'planned' as const, pinned: task.pinnedAt !== null, movable };
  if (look !== 'person' || task.kind === 'pressing') {
    return lanes.filter(({ key }) => task.tools.includes(key)).map(({ key }): WeekBar => ({ ...bar, lane: key }));
  }
  // Drying is drawn where it is held; in the lanes of people it would hide their hands.
  return task.kind === 'drying' ? [] : [{ ...bar, lane: task.personId ?? everybody }];
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

export function whenOf(task: CourseTask, zone: string): string {
  const at = (instant: number) => `${dayWords(instant, zone)} ${clockWords(instant, zone)}`;
  return `${at(task.startAt)} to ${at(task.endAt)}`;
}
