/** What everybody is doing at one moment of the course, by a slider over its teaching hours. */
import { useId, useState } from 'react';
import type { Course, CourseTask } from '../../core/contract/course.ts';
import { doingAt, teacherName, teachersIn } from '../../core/course/moment.ts';
import { clockWords, dayWords } from '../parts/words.ts';

const step = 5 * 60_000;

export function Moment({ course, tasks }: Readonly<{ course: Course; tasks: readonly CourseTask[] }>) {
  const id = useId();
  const moments = course.hours.flatMap(({ from, to }) =>
    Array.from({ length: Math.ceil((to - from) / step) }, (_, index) => from + index * step),
  );
  const [index, setIndex] = useState(24);
  const at = moments[Math.min(index, moments.length - 1)];
  if (at === undefined) return null;
  const zone = course.timeZone;
  const teachers = teachersIn(tasks);
  const people = course.people.filter(({ standing }) => standing === 'confirmed');
  const names = new Map([
    ...people.map(({ id: one, name }) => [one, name] as const),
    ...teachers.map((one) => [one, teacherName(one, teachers)] as const),
  ]);
  const doings = doingAt(tasks, course.hours, [...names.keys()], at, (one) => !teachers.includes(one));
  const when = `${dayWords(at, zone)} ${clockWords(at, zone)}`;
  const who = (task: CourseTask) => (task.personId === null ? 'everybody' : (names.get(task.personId) ?? ''));
  return (
    <details className="course-moment">
      <summary>What each is doing at a moment</summary>
      <div className="course-slider">
        <label htmlFor={id}>
          At <strong className="number">{when}</strong>
        </label>
        <input
          id={id}
          type="range"
          min={0}
          max={moments.length - 1}
          value={Math.min(index, moments.length - 1)}
          aria-valuetext={when}
          onChange={(event) => setIndex(Number(event.target.value))}
        />
      </div>
      <table className="table course-stacked">
        <thead>
          <tr>
            <th>Who</th>
            <th>Now</th>
            <th>Meanwhile</th>
            <th>Next</th>
          </tr>
        </thead>
        <tbody>
          {doings.map(({ who: one, now, waiting, next }) => (
            <tr key={one}>
              <td className="course-row-head">{names.get(one)}</td>
              <td data-head="Now">
                {now.length === 0 && <span className="soft">nothing planned</span>}
                {now.map((task) => (
                  <span key={task.id} className="course-doing">
                    {[task.label, task.book, ...(teachers.includes(one) && task.personId !== null ? [who(task)] : [])]
                      .filter((words) => words !== '')
                      .join(', ')}
                    , until {clockWords(task.endAt, zone)}
                  </span>
                ))}
              </td>
              <td className={waiting.length === 0 ? 'course-nothing' : 'small'} data-head="Meanwhile">
                {waiting.map((task) => `${task.book} (${task.label})`).join(', ')}
              </td>
              <td className={next === null ? 'course-nothing' : 'small'} data-head="Next">
                {next && `${next.label}, ${dayWords(next.startAt, zone)} ${clockWords(next.startAt, zone)}`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
