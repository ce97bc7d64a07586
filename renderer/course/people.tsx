/** Who comes: level, standing, wishes, allergies, diet; one person open at a time. */

import { useState } from 'react';
import { levels } from '../../core/book/book.ts';
import { type Course, type CoursePerson, standings } from '../../core/contract/course.ts';
import type { Erased, Guest } from '../../core/contract/course-people.ts';
import { nameWith } from '../../core/course/names.ts';
import { materialKinds } from '../../core/stock/material.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { Notice, TroubleNotice } from '../parts/notices.tsx';
import { ErasedForGood } from './erase-person.tsx';
import { useFile, useGathering } from './gathering.ts';
import { GuestForm } from './guest-form.tsx';
import { TakePeople } from './people-list.tsx';

export function People({ course }: Readonly<{ course: Course }>) {
  const [open, setOpen] = useState<string | null>(null);
  const [told, setTold] = useState<string | null>(null);
  const [taking, setTaking] = useState(false);
  const [erased, setErased] = useState<Erased | null>(null);
  const gathering = useGathering(course.id);
  const move = useChange(client.coursePeople.setStanding);
  const { trouble, hand } = useFile();
  const guest = gathering.data?.guests.find((one) => one.personId === told);
  const person = course.people.find((one) => one.id === open) ?? null;
  return (
    <section aria-label="People">
      <div className="actions">
        <Button look="main" onClick={() => setOpen('new')}>
          Add a person
        </Button>
        <Button onClick={() => setTaking(true)}>Take in a list</Button>
        <Button look="quiet" onClick={() => void hand(() => client.coursePeople.list({ courseId: course.id }))}>
          The people as a table
        </Button>
        <span className="soft">
          {standings
            .map((standing) => [standing, course.people.filter((one) => one.standing === standing).length] as const)
            .filter(([, count]) => count > 0)
            .map(([standing, count]) => `${count} ${standing}`)
            .join(', ')}
          {course.people.length > 0 && '. '}Only the confirmed are given copies, places and beds.
        </span>
      </div>
      {trouble !== null && <TroubleNotice error={trouble} />}
      {move.error && <TroubleNotice error={move.error} />}
      {course.people.length > 0 && (
        <div className="table-scroll">
          <table className="table course-stacked">
            <thead>
              <tr>
                <th>Name</th>
                <th>Level</th>
                <th>Standing</th>
                <th>Told us</th>
                <th>Hopes to meet</th>
                <th>Must not meet</th>
                <th>Diet</th>
                <th className="number">Work of {minutesWords(course.people[0]?.ownMinutes ?? 0)}</th>
              </tr>
            </thead>
            <tbody>
              {course.people.map((one) => (
                <tr key={one.id} className={one.standing === 'confirmed' ? undefined : 'soft'}>
                  <td className="course-row-head">
                    <Button look="quiet" className="course-name" onClick={() => setOpen(one.id)}>
                      {one.name}
                    </Button>
                  </td>
                  <td data-head="Level">{one.level}</td>
                  <td data-head="Standing">
                    <select
                      aria-label={`Standing of ${one.name}`}
                      value={one.standing}
                      onChange={(event) =>
                        move.mutate({ personIds: [one.id], standing: event.target.value as typeof one.standing })
                      }
                    >
                      {standings.map((standing) => (
                        <option key={standing} value={standing}>
                          {standing}
                        </option>
                      ))}
                    </select>
                  </td>
                  <td data-head="Told">
                    <Button look="quiet" onClick={() => setTold(one.id)}>
                      <span className="visually-hidden">What {one.name} told: </span>
                      {toldWords(gathering.data?.guests.find((each) => each.personId === one.id))}
                    </Button>
                  </td>
                  <td data-head="Hopes to meet" className={one.wishes.length > 0 ? undefined : 'course-nothing'}>
                    {one.wishes.map((id) => nameWith(course.ownNames, id)).join(', ')}
                  </td>
                  <td data-head="Must not meet" className={one.allergies.length > 0 ? undefined : 'course-nothing'}>
                    {one.allergies.join(', ')}
                  </td>
                  <td data-head="Diet" className={one.diet === '' ? 'course-nothing' : undefined}>
                    {one.diet}
                  </td>
                  <td data-head="Work" className={one.minutes > 0 ? 'number' : 'number course-nothing'}>
                    {one.minutes > 0 ? minutesWords(one.minutes) : ''}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {erased && <ErasedForGood erased={erased} onClose={() => setErased(null)} />}
      {taking && <TakePeople courseId={course.id} onClose={() => setTaking(false)} />}
      {gathering.data && guest && (
        <GuestForm
          key={guest.personId}
          gathering={gathering.data}
          guest={guest}
          onClose={() => setTold(null)}
          onErased={setErased}
        />
      )}
      {open !== null && (open === 'new' || person !== null) && (
        <PersonForm key={open} course={course} person={person} onClose={() => setOpen(null)} />
      )}
    </section>
  );
}

/** Needs and foods first: what must not be forgotten. */
function toldWords(guest: Guest | undefined): string {
  if (!guest) return '…';
  const words = [
    ...guest.needs,
    ...(guest.otherNeeds === '' ? [] : ['other needs']),
    ...guest.foodAllergies.map((food) => `no ${food}`),
  ];
  return words.length === 0 ? 'ask and note' : words.join(', ');
}

type FormProps = Readonly<{ course: Course; person: CoursePerson | null; onClose: () => void }>;

function PersonForm({ course, person, onClose }: FormProps) {
  const [name, setName] = useState(person?.name ?? '');
  const [level, setLevel] = useState(person?.level ?? 'newcomer');
  const [standing, setStanding] = useState(person?.standing ?? 'confirmed');
  const [wishes, setWishes] = useState<readonly string[]>(person?.wishes ?? []);
  const [allergies, setAllergies] = useState((person?.allergies ?? []).join(', '));
  const [diet, setDiet] = useState(person?.diet ?? '');
  const [note, setNote] = useState(person?.note ?? '');
  const save = useChange(client.course.savePerson, () => `${name} is kept.`);
  const remove = useChange(client.course.removePerson, () => `${name} is off the course; undo brings them back.`);
  const trouble = save.error ? readTrouble(save.error) : null;
  const taught = course.syllabus.map((item) => item.operationId);
  const offered = [...new Set([...taught, ...wishes])];

  function keep() {
    save.mutate(
      {
        courseId: course.id,
        ...(person ? { id: person.id } : {}),
        name,
        level,
        standing,
        wishes: [...wishes],
        allergies: allergies.split(',').map((word) => word.trim()),
        diet,
        note,
      },
      { onSuccess: onClose },
    );
  }

  return (
    <Dialog title={person ? person.name : 'Add a person'} onClose={onClose}>
      <form
        className="course-form"
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <div className="fields">
          <TextField
            name="Name"
            value={name}
            onChange={(event) => setName(event.target.value)}
            trouble={trouble?.field === 'name' ? trouble.sentence : undefined}
          />
          <SelectField
            name="Level"
            value={level}
            onChange={(event) => setLevel(event.target.value as typeof level)}
            options={levels.map((value) => ({ value, words: value }))}
          />
          <SelectField
            name="Standing"
            value={standing}
            onChange={(event) => setStanding(event.target.value as typeof standing)}
            options={standings.map((value) => ({ value, words: value }))}
          />
          <TextField name="Diet" value={diet} onChange={(event) => setDiet(event.target.value)} />
        </div>
        <TextField
          name="Must not meet (allergies)"
          hint={`Parted by commas; materials go by the cupboard’s words: ${materialKinds.slice(15, 18).join(', ')} …`}
          value={allergies}
          onChange={(event) => setAllergies(event.target.value)}
        />
        {person && person.unknownAllergies.length > 0 && (
          <Notice kind="caution">
            <p>
              No material goes by {person.unknownAllergies.map((word) => `“${word}”`).join(', ')}: nothing is kept from{' '}
              {person.name} for it. See to it yourself.
            </p>
          </Notice>
        )}
        {offered.length > 0 && (
          <fieldset className="course-wishes">
            <legend>Hopes to meet</legend>
            {offered.map((id) => (
              <label key={id}>
                <input
                  type="checkbox"
                  checked={wishes.includes(id)}
                  onChange={(event) =>
                    setWishes(event.target.checked ? [...wishes, id] : wishes.filter((wish) => wish !== id))
                  }
                />
                {nameWith(course.ownNames, id)}
              </label>
            ))}
          </fieldset>
        )}
        <LongField name="Note" value={note} onChange={(event) => setNote(event.target.value)} />
        {trouble && trouble.field !== 'name' && <TroubleNotice error={save.error} />}
        <div className="actions">
          <Button type="submit" look="main" disabled={save.isPending}>
            Keep
          </Button>
          <Button onClick={onClose}>Leave it</Button>
          {person && (
            <Button look="harm" onClick={() => remove.mutate({ id: person.id }, { onSuccess: onClose })}>
              Take off the course
            </Button>
          )}
        </div>
      </form>
    </Dialog>
  );
}
