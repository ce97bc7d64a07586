/** During and after the course: who has met what, by one tap; incidents, minutes and materials as they were; certificates and the report. */

import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import type { Gathering } from '../../core/contract/course-people.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { CourseNotes } from './course-notes.tsx';
import { useFile, useGathering } from './gathering.ts';

type Props = Readonly<{ course: Course; gathering: Gathering }>;

export function Attendance({ course }: Readonly<{ course: Course }>) {
  const gathering = useGathering(course.id);
  if (gathering.error) return <TroubleNotice error={gathering.error} again={() => void gathering.refetch()} />;
  if (!gathering.data) return <p role="status">Opening the book of the course …</p>;
  const props = { course, gathering: gathering.data };
  return (
    <section aria-label="During and after">
      <Papers {...props} />
      <Ticks {...props} />
      <div className="course-two">
        <Minutes {...props} />
        <Used course={course} />
      </div>
      <CourseNotes {...props} />
      <Report gathering={gathering.data} />
    </section>
  );
}

function Papers({ course }: Props) {
  const { trouble, hand } = useFile();
  const courseId = course.id;
  return (
    <>
      <div className="actions">
        <Button look="quiet" onClick={() => void hand(() => client.coursePeople.certificates({ courseId }))}>
          Print certificates of attendance
        </Button>
        <Button look="quiet" onClick={() => void hand(() => client.coursePeople.printReport({ courseId }))}>
          Print the report
        </Button>
      </div>
      {trouble !== null && <TroubleNotice error={trouble} />}
    </>
  );
}

/** A tap goes to the next of these. */
const round = [null, 'with help', 'alone', 'watched'] as const;
type How = (typeof round)[number];
const signs: Readonly<Record<string, string>> = { 'with help': '◐', alone: '●', watched: '○' };

function Ticks({ course, gathering }: Props) {
  const tick = useChange(client.coursePeople.tick);
  const people = gathering.guests.filter((one) => one.standing === 'confirmed');
  if (people.length === 0 || course.syllabus.length === 0) {
    return <p className="soft">Who has met what is ticked here, once people are confirmed and there is a syllabus.</p>;
  }
  return (
    <>
      <h3>Who has met what</h3>
      <p className="soft">
        Tap for with help (◐), again for alone (●), again for watched (○), and once more for not yet.
      </p>
      {tick.error && <TroubleNotice error={tick.error} />}
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
            </tr>
          </thead>
          <tbody>
            {people.map((one) => (
              <tr key={one.personId}>
                <th scope="row">{one.name}</th>
                {course.syllabus.map(({ operationId, name }) => {
                  const how = one.met.find((each) => each.operationId === operationId)?.how ?? null;
                  const next = round[(round.indexOf(how as How) + 1) % round.length] ?? null;
                  return (
                    <td key={operationId}>
                      <button
                        type="button"
                        className="course-tap"
                        aria-label={`${one.name}, ${name}: ${how ?? 'not yet'}`}
                        onClick={() => tick.mutate({ personId: one.personId, operationId, how: next })}
                      >
                        {how === null ? '·' : signs[how]}
                      </button>
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

function Minutes({ course, gathering }: Props) {
  const people = gathering.guests.filter((one) => one.standing === 'confirmed');
  const [personId, setPersonId] = useState('');
  const [bookId, setBookId] = useState('');
  const [operationId, setOperationId] = useState('');
  const [minutes, setMinutes] = useState('');
  const log = useChange(
    client.coursePeople.log,
    () => 'It stands in the day-book, and moves what the next course is planned with.',
  );
  const own = course.copies.filter((copy) => copy.personId === personId);
  function keep(event: FormEvent) {
    event.preventDefault();
    log.mutate(
      { personId, operationId, bookId: bookId || null, minutes: Number(minutes) },
      { onSuccess: () => setMinutes('') },
    );
  }
  return (
    <form className="course-form" onSubmit={keep}>
      <h3>Minutes taken</h3>
      <div className="fields">
        <SelectField
          name="Who"
          value={personId}
          onChange={(event) => setPersonId(event.target.value)}
          options={[{ value: '', words: 'choose' }, ...people.map((one) => ({ value: one.personId, words: one.name }))]}
        />
        <SelectField
          name="On which copy"
          value={bookId}
          onChange={(event) => setBookId(event.target.value)}
          options={[
            { value: '', words: 'none of theirs' },
            ...own.map((copy) => ({ value: copy.bookId, words: copy.title })),
          ]}
        />
        <SelectField
          name="At what"
          value={operationId}
          onChange={(event) => setOperationId(event.target.value)}
          options={[
            { value: '', words: 'choose' },
            ...course.syllabus.map((item) => ({ value: item.operationId, words: item.name })),
          ]}
        />
        <TextField
          name="Minutes"
          inputMode="numeric"
          value={minutes}
          onChange={(event) => setMinutes(event.target.value)}
        />
      </div>
      {log.error && <TroubleNotice error={log.error} />}
      <div className="actions">
        <Button type="submit" disabled={log.isPending || personId === '' || operationId === '' || minutes === ''}>
          Note the minutes
        </Button>
      </div>
    </form>
  );
}

function Used({ course }: Readonly<{ course: Course }>) {
  const cupboard = useQuery(ask.stockroom.list.queryOptions());
  const [materialId, setMaterialId] = useState('');
  const [quantity, setQuantity] = useState('');
  const use = useChange(client.coursePeople.use, () => 'It is out of the cupboard.');
  const kit = new Set(course.kit.map((one) => one.materialId));
  const materials = (cupboard.data?.lines ?? []).toSorted(
    (one, other) => Number(kit.has(other.material.id)) - Number(kit.has(one.material.id)),
  );
  const unit = materials.find(({ material }) => material.id === materialId)?.material.unit;
  return (
    <form
      className="course-form"
      onSubmit={(event) => {
        event.preventDefault();
        use.mutate(
          { courseId: course.id, materialId, quantity: Number(quantity), reason: '' },
          { onSuccess: () => setQuantity('') },
        );
      }}
    >
      <h3>Used of the cupboard</h3>
      <div className="fields">
        <SelectField
          name="Material"
          value={materialId}
          onChange={(event) => setMaterialId(event.target.value)}
          options={[
            { value: '', words: 'choose' },
            ...materials.map(({ material }) => ({ value: material.id, words: material.name })),
          ]}
        />
        <TextField
          name={unit === undefined ? 'How much' : `How much (${unit})`}
          inputMode="decimal"
          value={quantity}
          onChange={(event) => setQuantity(event.target.value)}
        />
      </div>
      {use.error && <TroubleNotice error={use.error} />}
      <div className="actions">
        <Button type="submit" disabled={use.isPending || materialId === '' || quantity === ''}>
          Take it out
        </Button>
      </div>
    </form>
  );
}

function Report({ gathering }: Readonly<{ gathering: Gathering }>) {
  const { operations, levels, used } = gathering.report;
  const booked = used.filter((one) => one.used !== 0);
  if (operations.length === 0 && booked.length === 0) return null;
  return (
    <div className="course-two">
      {operations.length > 0 && (
        <div>
          <h3>Minutes as planned and as taken</h3>
          <table className="table">
            <thead>
              <tr>
                <th>Operation</th>
                <th className="number">Times</th>
                <th className="number">Planned</th>
                <th className="number">Taken</th>
              </tr>
            </thead>
            <tbody>
              {operations.map((line) => (
                <tr key={line.operationId}>
                  <td>{line.name}</td>
                  <td className="number">{line.times}</td>
                  <td className="number">{line.planned === 0 ? 'unknown' : minutesWords(line.planned)}</td>
                  <td className="number">{minutesWords(line.actual)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {levels.map(({ level, pace, times }) => (
            <p key={level} className="soft">
              A {level} took {pace.toFixed(1)} minutes for one of the bench’s own, in the middle of {times}{' '}
              {times === 1 ? 'job' : 'jobs'}.
            </p>
          ))}
        </div>
      )}
      {booked.length > 0 && (
        <div>
          <h3>Materials as planned and as used</h3>
          <table className="table">
            <thead>
              <tr>
                <th>Material</th>
                <th className="number">Planned</th>
                <th className="number">Used</th>
              </tr>
            </thead>
            <tbody>
              {booked.map((line) => (
                <tr key={line.name}>
                  <td>{line.name}</td>
                  <td className="number">
                    {Math.round(line.planned * 100) / 100} {line.unit}
                  </td>
                  <td className="number">
                    {Math.round(line.used * 100) / 100} {line.unit}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </div>
  );
}
