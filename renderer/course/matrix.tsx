/** People by operation: who has met what through whose copy, and why each copy is theirs. */

import type { Course, CoursePerson, SyllabusLine } from '../../core/contract/course.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { addressOf } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { dayWords } from '../parts/words.ts';
import { Where } from './where.tsx';

type Props = Readonly<{ course: Course; busy: boolean; onAllocate: () => void }>;

export function Matrix({ course, busy, onAllocate }: Props) {
  const people = course.people.filter((one) => one.standing === 'confirmed');
  const titles = new Map(course.copies.map((copy) => [copy.bookId, copy]));
  return (
    <section aria-label="Who meets what">
      <div className="actions">
        <Button look={course.allocation ? 'plain' : 'main'} disabled={busy} onClick={onAllocate}>
          {course.allocation ? 'Allocate again' : 'Allocate the copies'}
        </Button>
        <AllocationWords course={course} />
      </div>
      {people.length > 0 && course.syllabus.length > 0 && (
        <div className="table-scroll">
          <table className="matrix">
            <thead>
              <tr>
                <th scope="col">
                  <span className="visually-hidden">Person</span>
                </th>
                {course.syllabus.map((item) => (
                  <th key={item.operationId} scope="col" className={item.required ? 'matrix-required' : undefined}>
                    <span>{item.name}</span>
                  </th>
                ))}
                <th scope="col" className="number">
                  Work
                </th>
              </tr>
            </thead>
            <tbody>
              {people.map((person) => (
                <tr key={person.id}>
                  <th scope="row">
                    {person.name} <span className="soft">{person.level}</span>
                  </th>
                  {course.syllabus.map((item) => (
                    <td key={item.operationId}>
                      <Cell state={stateOf(person, item)} wished={person.wishes.includes(item.operationId)} />
                    </td>
                  ))}
                  <td className="number">
                    {minutesWords(person.minutes)} <span className="soft">of {minutesWords(person.ownMinutes)}</span>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <p className="matrix-key">
        <Cell state="meets" wished={false} /> meets it <Cell state="meets" wished /> and hoped to{' '}
        <Cell state="lacks" wished={false} /> must and does not <Cell state="watches" wished={false} /> watches, for an
        allergy. Names in bold are asked of everybody.
      </p>
      <div className="course-people">
        {people.map((person) => {
          const own = [...titles.values()].filter((copy) => copy.personId === person.id);
          return (
            <article key={person.id}>
              <h3>{person.name}</h3>
              {own.length === 0 && <p className="soft">No copy yet.</p>}
              <ul className="course-list">
                {own.map((copy) => (
                  <li key={copy.bookId}>
                    <a className="course-title" href={addressOf('shelf', copy.bookId)}>
                      {copy.title}
                    </a>
                    <Where copy={copy} />
                    <span className="small">{copy.reason}</span>
                  </li>
                ))}
              </ul>
            </article>
          );
        })}
      </div>
    </section>
  );
}

function AllocationWords({ course }: Readonly<{ course: Course }>) {
  const { allocation } = course;
  if (!allocation) return <span className="soft">Not allocated yet.</span>;
  const { proven, gap, value } = allocation;
  return (
    <span>
      {proven
        ? 'Proven: no other way of sharing the copies out is better.'
        : gap === null
          ? 'Stopped before a bound was known.'
          : `At most ${(gap * 100).toFixed(1)} % better is possible.`}{' '}
      <span className="soft">
        {value.wishes} {value.wishes === 1 ? 'wish' : 'wishes'} met; made {dayWords(allocation.madeAt, course.timeZone)}
        .
      </span>
    </span>
  );
}

type State = 'meets' | 'lacks' | 'watches' | 'not';

function stateOf(person: CoursePerson, item: SyllabusLine): State {
  if (person.meets.includes(item.operationId)) return 'meets';
  if (person.excused.includes(item.operationId)) return 'watches';
  return person.lacks.includes(item.operationId) ? 'lacks' : 'not';
}

const stateWords: Readonly<Record<State, string>> = {
  meets: 'meets it',
  lacks: 'must meet it and does not',
  watches: 'watches',
  not: 'does not meet it',
};

/** A stitch that is drawn through, one that is missing, one only looked at. */
function Cell({ state, wished }: Readonly<{ state: State; wished: boolean }>) {
  return (
    <svg
      className={`cell cell-${state}`}
      viewBox="0 0 20 20"
      role="img"
      aria-label={wished ? `${stateWords[state]}, a wish` : stateWords[state]}
    >
      {state === 'meets' && <path className="cell-body" d="M3 3h14v14H3Z" />}
      {state === 'lacks' && <path d="M3 3h14v14H3ZM6 6l8 8M14 6l-8 8" />}
      {state === 'watches' && <path d="M2 10q8-9 16 0q-8 9-16 0ZM10 8a2 2 0 1 0 .01 0" />}
      {state === 'not' && <path d="M8.5 10h3" />}
      {wished && <path className="cell-wish" d="M10 6.2v7.6M6.2 10h7.6" />}
    </svg>
  );
}
