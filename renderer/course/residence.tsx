/** Rooms and beds, who sleeps where, and every meal counted by diet. */
import { type FormEvent, useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import type { Gathering, Placed, RoomInput } from '../../core/contract/course-people.ts';
import { client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Caution, Mark, Notice, TroubleNotice } from '../parts/notices.tsx';
import { dayWords } from '../parts/words.ts';
import { useFile, useGathering } from './gathering.ts';

export function Residence({ course }: Readonly<{ course: Course }>) {
  const gathering = useGathering(course.id);
  if (gathering.error) return <TroubleNotice error={gathering.error} again={() => void gathering.refetch()} />;
  if (!gathering.data) return <p role="status">Counting beds and meals …</p>;
  return (
    <section aria-label="Residence">
      <Beds course={course} gathering={gathering.data} />
      <Rooms gathering={gathering.data} />
      <Meals course={course} gathering={gathering.data} />
    </section>
  );
}

type Props = Readonly<{ course: Course; gathering: Gathering }>;

function Beds({ course, gathering }: Props) {
  const [placed, setPlaced] = useState<Placed | null>(null);
  const place = useChange(client.coursePeople.place, ({ placed: count }) => `${count} have a bed.`);
  const set = useChange(client.coursePeople.setRoom);
  const sleepers = gathering.guests.filter((one) => one.standing === 'confirmed' && !one.sleepsOut);
  const names = new Map(gathering.guests.map(({ personId, name }) => [personId, name]));
  const named = (ids: readonly string[]) => ids.map((id) => names.get(id) ?? '').filter(Boolean);
  return (
    <>
      <div className="actions">
        <Button
          look="main"
          disabled={place.isPending || gathering.rooms.length === 0}
          onClick={() => place.mutate({ courseId: course.id }, { onSuccess: setPlaced })}
        >
          Place everybody
        </Button>
        <span className="soft">
          {gathering.withoutBed.length === 0 && sleepers.length > 0
            ? 'Everybody has a bed.'
            : `${gathering.withoutBed.length} of ${sleepers.length} have no bed yet.`}{' '}
          A place you choose is kept; nobody is placed against a need.
        </span>
      </div>
      {place.error && <TroubleNotice error={place.error} />}
      {set.error && <TroubleNotice error={set.error} />}
      {gathering.placingTrouble.map((sentence) => (
        <Notice key={sentence} kind="caution">
          <p>{sentence}</p>
        </Notice>
      ))}
      {placed?.remarks.map((sentence) => (
        <Notice key={sentence} kind="caution">
          <p>{sentence}</p>
        </Notice>
      ))}
      {sleepers.length > 0 && (
        <div className="table-scroll">
          <table className="table course-stacked">
            <thead>
              <tr>
                <th>Person</th>
                <th>Needs</th>
                <th>Wishes</th>
                <th>Room</th>
                <th>From when till when</th>
                <th className="number">Meals</th>
              </tr>
            </thead>
            <tbody>
              {sleepers.map((one) => (
                <tr key={one.personId}>
                  <td className="course-row-head">{one.name}</td>
                  <td
                    data-head="Needs"
                    className={one.needs.length + one.notWith.length > 0 ? undefined : 'course-nothing'}
                  >
                    {[...one.needs, ...named(one.notWith).map((name) => `not with ${name}`)].join(', ')}
                  </td>
                  <td data-head="Wishes" className={wishesOf(one, named).length > 0 ? undefined : 'course-nothing'}>
                    {wishesOf(one, named).join(', ')}
                  </td>
                  <td data-head="Room">
                    <select
                      aria-label={`Room of ${one.name}`}
                      value={one.roomId ?? ''}
                      onChange={(event) =>
                        set.mutate({ personId: one.personId, roomId: event.target.value || null, byHand: true })
                      }
                    >
                      <option value="">none yet</option>
                      {gathering.rooms.map(({ id, name }) => (
                        <option key={id} value={id}>
                          {name}
                        </option>
                      ))}
                    </select>{' '}
                    {one.roomByHand && (
                      <Button
                        look="quiet"
                        aria-label={`Let ${one.name} be placed anew`}
                        onClick={() => set.mutate({ personId: one.personId, roomId: one.roomId, byHand: false })}
                      >
                        kept
                      </Button>
                    )}
                  </td>
                  <td data-head="Stay">
                    {dayWords(one.arrivesOn ?? gathering.startsOn, course.timeZone)}, {one.firstMeal} to{' '}
                    {dayWords(one.leavesOn ?? gathering.endsOn, course.timeZone)}, {one.lastMeal}
                  </td>
                  <td data-head="Meals" className="number">
                    {one.meals}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </>
  );
}

function wishesOf(one: Gathering['guests'][number], named: (ids: readonly string[]) => readonly string[]) {
  return [
    ...(one.wish === 'alone' ? ['alone'] : one.wish === 'share' ? ['with somebody'] : []),
    ...(one.wishQuiet ? ['quiet'] : []),
    ...named(one.shareWith).map((name) => `with ${name}`),
  ];
}

const noRoom: RoomInput = { name: '', beds: 1, stepFree: false, ensuite: false, quiet: false, note: '' };
const traits = [
  ['stepFree', 'step-free'],
  ['ensuite', 'en suite'],
  ['quiet', 'quiet'],
] as const;

function Rooms({ gathering }: Readonly<{ gathering: Gathering }>) {
  const [draft, setDraft] = useState<RoomInput & Readonly<{ id?: string }>>(noRoom);
  const [beds, setBeds] = useState('1');
  const save = useChange(client.coursePeople.saveRoom, (_, { name }) => `${name} is kept.`);
  const remove = useChange(client.coursePeople.removeRoom, () => 'The room is removed; undo brings it back.');
  function open(room: RoomInput & Readonly<{ id?: string }>) {
    setDraft(room);
    setBeds(String(room.beds));
  }
  function keep(event: FormEvent) {
    event.preventDefault();
    save.mutate({ ...draft, beds: Number(beds) }, { onSuccess: () => open(noRoom) });
  }
  return (
    <>
      <h3>Rooms of the house</h3>
      {gathering.rooms.length === 0 && (
        <p className="soft">None yet. A room has a name, its beds, and what it offers.</p>
      )}
      {gathering.rooms.length > 0 && (
        <div className="table-scroll">
          <table className="table">
            <thead>
              <tr>
                <th>Room</th>
                <th className="number">Beds</th>
                <th>Offers</th>
                <th>Sleep there</th>
                <th>Note</th>
                <th>
                  <span className="visually-hidden">Change</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {gathering.rooms.map((room) => (
                <tr key={room.id}>
                  <td>{room.name}</td>
                  <td className="number">{room.beds}</td>
                  <td>
                    {traits
                      .filter(([key]) => room[key])
                      .map(([, words]) => words)
                      .join(', ')}
                  </td>
                  <td>
                    {gathering.guests
                      .filter((one) => one.roomId === room.id && one.standing === 'confirmed')
                      .map(({ name }) => name)
                      .join(', ')}
                  </td>
                  <td>{room.note}</td>
                  <td>
                    <div className="actions">
                      <Button look="quiet" aria-label={`Change ${room.name}`} onClick={() => open(room)}>
                        Change
                      </Button>
                      <Button
                        look="quiet"
                        aria-label={`Remove ${room.name}`}
                        onClick={() => remove.mutate({ id: room.id })}
                      >
                        Remove
                      </Button>
                    </div>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <form className="course-line" onSubmit={keep}>
        <TextField
          name="Name of the room"
          value={draft.name}
          onChange={(event) => setDraft({ ...draft, name: event.target.value })}
        />
        <TextField name="Beds" inputMode="numeric" value={beds} onChange={(event) => setBeds(event.target.value)} />
        {traits.map(([key, words]) => (
          <label key={key} className="course-tick">
            <input
              type="checkbox"
              checked={draft[key]}
              onChange={(event) => setDraft({ ...draft, [key]: event.target.checked })}
            />{' '}
            {words}
          </label>
        ))}
        <TextField
          name="Note on it"
          value={draft.note}
          onChange={(event) => setDraft({ ...draft, note: event.target.value })}
        />
        <Button type="submit">{draft.id === undefined ? 'Add the room' : 'Keep the room'}</Button>
        {draft.id !== undefined && <Button onClick={() => open(noRoom)}>Leave it</Button>}
      </form>
      {save.error && <TroubleNotice error={save.error} />}
      {remove.error && <TroubleNotice error={remove.error} />}
    </>
  );
}

function Meals({ course, gathering }: Props) {
  const { trouble, hand } = useFile();
  const total = gathering.meals.reduce((sum, { people }) => sum + people, 0);
  const courseId = course.id;
  return (
    <>
      <h3>Meals</h3>
      {gathering.meals.length === 0 && <p className="soft">Nobody is confirmed yet, so there is nothing to count.</p>}
      {gathering.meals.length > 0 && (
        <>
          <div className="actions">
            <span>{total} in all.</span>
            <Button look="quiet" onClick={() => void hand(() => client.coursePeople.meals({ courseId, form: 'pdf' }))}>
              Print the meals
            </Button>
            <Button look="quiet" onClick={() => void hand(() => client.coursePeople.meals({ courseId, form: 'csv' }))}>
              Meals as a table
            </Button>
          </div>
          {trouble !== null && <TroubleNotice error={trouble} />}
          <Caution sentence="Diets and allergies are as people told them: ask each of them before the first meal, read every label, and follow your local rules." />
          <div className="table-scroll">
            <table className="table course-stacked">
              <thead>
                <tr>
                  <th>Meal</th>
                  <th className="number">People</th>
                  <th>By diet</th>
                  <th>Must not be in it</th>
                </tr>
              </thead>
              <tbody>
                {gathering.meals.map((line) => (
                  <tr key={`${line.date} ${line.meal}`}>
                    <td className="course-row-head">
                      {dayWords(line.date, course.timeZone)}, {line.meal}
                    </td>
                    <td data-head="People" className="number">
                      {line.people}
                    </td>
                    <td data-head="By diet">{line.diets.map(({ diet, people }) => `${people} ${diet}`).join('; ')}</td>
                    <td data-head="Without" className={line.without.length > 0 ? undefined : 'course-nothing'}>
                      {line.without.length > 0 && <Mark kind="caution" name="allergies" />}{' '}
                      {line.without.map(({ name, foods }) => `${name}: ${foods.join(', ')}`).join('; ')}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
    </>
  );
}
