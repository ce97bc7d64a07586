/** The practice copies: what each teaches and to whom it goes, and the books of the shelf that could join them. */

import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { CopyLine, Course } from '../../core/contract/course.ts';
import { nameWith } from '../../core/course/names.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { Hardness, Lacking } from './lacking.tsx';
import { Where, whereWords } from './where.tsx';

type Props = Readonly<{ course: Course; busy: boolean; onAllocate: () => void }>;

export function Copies({ course, busy, onAllocate }: Props) {
  const [adding, setAdding] = useState(false);
  const give = useChange(client.course.give);
  const takeOff = useChange(client.course.removeCopies, () => 'Off the course.');
  const confirmed = course.people.filter((one) => one.standing === 'confirmed');
  const taught = new Set(course.syllabus.map((item) => item.operationId));
  return (
    <section aria-label="Copies">
      <div className="actions">
        <Button look="main" disabled={busy} onClick={onAllocate}>
          Allocate the copies
        </Button>
        <Button aria-expanded={adding} onClick={() => setAdding(!adding)}>
          Add copies from the shelf
        </Button>
        <span className="soft">
          {course.copies.length} on the course, {course.copies.filter((copy) => copy.personId !== null).length} in hands
        </span>
      </div>
      {give.error && <TroubleNotice error={give.error} />}
      {takeOff.error && <TroubleNotice error={takeOff.error} />}
      {adding && <Offered course={course} onDone={() => setAdding(false)} />}
      <Lacking courseId={course.id} />
      {course.copies.length > 0 && (
        <div className="table-scroll">
          <table className="table course-stacked">
            <thead>
              <tr>
                <th>Copy</th>
                <th>Difficulty</th>
                <th>Teaches of the syllabus</th>
                <th className="number">Bench time</th>
                <th>Whose</th>
                <th>Keep</th>
                <th>Why</th>
                <th>
                  <span className="visually-hidden">Take off</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {course.copies.map((copy) => (
                <tr key={copy.bookId}>
                  <td className="course-title course-row-head">
                    <a href={addressOf('shelf', copy.bookId)}>{copy.title}</a>
                    <Where copy={copy} />
                    {copy.blocked !== null && (
                      <p className="course-blocked">
                        <Mark kind="harm" name="not to be handed out" /> {copy.blocked}
                      </p>
                    )}
                  </td>
                  <td data-head="Difficulty">
                    {copy.level}
                    <Hardness courseId={course.id} bookId={copy.bookId} />
                  </td>
                  <td data-head="Teaches">
                    {namesOf(
                      course,
                      copy.teaches.filter((id) => taught.has(id)),
                    )}
                  </td>
                  <td className="number" data-head="Bench time">
                    {minutesWords(copy.minutes)}
                  </td>
                  <td data-head="Whose">
                    <select
                      aria-label={`Whose ${copy.title} is`}
                      value={copy.personId ?? ''}
                      disabled={copy.blocked !== null && copy.personId === null}
                      onChange={(event) => give.mutate(given(course, copy, event.target.value || null, true))}
                    >
                      <option value="">nobody’s</option>
                      {confirmed.map((one) => (
                        <option key={one.id} value={one.id}>
                          {one.name}
                        </option>
                      ))}
                    </select>
                  </td>
                  <td data-head="Keep">
                    <input
                      type="checkbox"
                      aria-label={`Keep ${copy.title} where it is`}
                      checked={copy.locked}
                      onChange={(event) => give.mutate(given(course, copy, copy.personId, event.target.checked))}
                    />
                  </td>
                  <td className={copy.reason === '' ? 'course-nothing' : 'small'} data-head="Why">
                    {copy.reason}
                  </td>
                  <td>
                    <Button
                      look="quiet"
                      aria-label={`Take off: ${copy.title}`}
                      onClick={() => takeOff.mutate({ courseId: course.id, bookIds: [copy.bookId] })}
                    >
                      Take off
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

function namesOf({ ownNames }: Course, operationIds: readonly string[]): string {
  return operationIds.map((id) => nameWith(ownNames, id)).join(', ');
}

function given(course: Course, copy: CopyLine, personId: string | null, locked: boolean) {
  return { courseId: course.id, bookId: copy.bookId, personId, locked };
}

function Offered({ course, onDone }: Readonly<{ course: Course; onDone: () => void }>) {
  const offered = useQuery(ask.course.offered.queryOptions({ input: { courseId: course.id } }));
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const add = useChange(client.course.addCopies, () => `${chosen.size} put on the course.`);
  const usable = (offered.data ?? []).filter((copy) => copy.blocked === null);
  const shut = (offered.data ?? []).filter((copy) => copy.blocked !== null);
  if (offered.error) return <TroubleNotice error={offered.error} />;
  return (
    <div className="course-offered">
      <h3>From the shelf</h3>
      {offered.data?.length === 0 && (
        <p className="soft">No other book is meant for practice. Set a book’s fate to practice at the Shelf.</p>
      )}
      <ul className="course-list">
        {usable.map((copy) => (
          <li key={copy.bookId}>
            <label>
              <input
                type="checkbox"
                checked={chosen.has(copy.bookId)}
                onChange={(event) => {
                  const next = new Set(chosen);
                  if (event.target.checked) next.add(copy.bookId);
                  else next.delete(copy.bookId);
                  setChosen(next);
                }}
              />
              <span className="course-title">{copy.title}</span>
            </label>
            <span className="soft">
              {copy.level}, {minutesWords(copy.minutes)}
            </span>
            <span className="small">
              {[whereWords(copy), namesOf(course, copy.teaches)].filter((words) => words !== '').join(' · ')}
            </span>
          </li>
        ))}
      </ul>
      {shut.length > 0 && (
        <details>
          <summary>
            {shut.length} that may not be handed out <Mark kind="harm" />
          </summary>
          <ul className="course-list">
            {shut.map((copy) => (
              <li key={copy.bookId}>
                <a className="course-title" href={addressOf('shelf', copy.bookId)}>
                  {copy.title}
                </a>
                <span className="small">{copy.blocked}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
      {add.error && <TroubleNotice error={add.error} />}
      <div className="actions">
        <Button
          look="main"
          disabled={chosen.size === 0 || add.isPending}
          onClick={() => add.mutate({ courseId: course.id, bookIds: [...chosen] }, { onSuccess: onDone })}
        >
          Put {chosen.size} on the course
        </Button>
        <Button onClick={() => setChosen(new Set(usable.map((copy) => copy.bookId)))}>Choose all</Button>
        <Button onClick={onDone}>Leave it</Button>
      </div>
    </div>
  );
}
