/** What one person told: when they come, what they need and wish, what they have done before; and their data taken out or erased. */
import { useState } from 'react';
import type { Erased, Gathering, Guest, GuestInput } from '../../core/contract/course-people.ts';
import { answers, meals, needs, roomWishes } from '../../core/course/guest.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { ErasePerson } from './erase-person.tsx';

type Props = Readonly<{
  gathering: Gathering;
  guest: Guest;
  onClose: () => void;
  onErased: (erased: Erased) => void;
}>;

const asOptions = (values: readonly string[]) => values.map((value) => ({ value, words: value }));

export function GuestForm({ gathering, guest, onClose, onErased }: Props) {
  const [told, setTold] = useState<GuestInput>(() => inputOf(guest));
  const [foods, setFoods] = useState(guest.foodAllergies.join(', '));
  const [books, setBooks] = useState(String(guest.booksDone));
  const save = useChange(client.coursePeople.saveGuest, () => `What ${guest.name} told is kept.`);
  const set = (patch: Partial<GuestInput>) => setTold({ ...told, ...patch });
  const trouble = save.error ? readTrouble(save.error) : null;
  const others = gathering.guests.filter((one) => one.personId !== guest.personId && one.standing !== 'withdrawn');

  return (
    <Dialog title={`What ${guest.name} told`} onClose={onClose}>
      <form
        className="course-form"
        onSubmit={(event) => {
          event.preventDefault();
          save.mutate(
            {
              ...told,
              personId: guest.personId,
              foodAllergies: foods.split(',').map((word) => word.trim()),
              booksDone: books.trim() === '' ? 0 : Number(books),
            },
            { onSuccess: onClose },
          );
        }}
      >
        <TextField
          name="How to reach them"
          value={told.contact}
          onChange={(event) => set({ contact: event.target.value })}
        />
        <div className="fields">
          <TextField
            name="Arrives"
            type="date"
            hint="Empty: on the first day"
            value={told.arrivesOn ?? ''}
            onChange={(event) => set({ arrivesOn: event.target.value || null })}
          />
          <SelectField
            name="First meal"
            value={told.firstMeal}
            onChange={(event) => set({ firstMeal: event.target.value as Guest['firstMeal'] })}
            options={asOptions(meals)}
          />
          <TextField
            name="Leaves"
            type="date"
            hint="Empty: on the last day"
            value={told.leavesOn ?? ''}
            onChange={(event) => set({ leavesOn: event.target.value || null })}
            trouble={trouble?.field === 'leavesOn' ? trouble.sentence : undefined}
          />
          <SelectField
            name="Last meal"
            value={told.lastMeal}
            onChange={(event) => set({ lastMeal: event.target.value as Guest['lastMeal'] })}
            options={asOptions(meals)}
          />
        </div>
        <TextField
          name="Must not eat"
          hint="Parted by commas; stands on every meal’s line"
          value={foods}
          onChange={(event) => setFoods(event.target.value)}
        />
        <fieldset className="course-wishes">
          <legend>Needs, always kept</legend>
          {needs.map((need) => (
            <Tick
              key={need}
              words={need}
              on={told.needs.includes(need)}
              set={(on) => set({ needs: on ? [...told.needs, need] : told.needs.filter((one) => one !== need) })}
            />
          ))}
        </fieldset>
        <LongField
          name="Other needs, for you to see to"
          value={told.otherNeeds}
          onChange={(event) => set({ otherNeeds: event.target.value })}
        />
        <div className="fields">
          <SelectField
            name="Wishes to sleep"
            value={told.wish}
            onChange={(event) => set({ wish: event.target.value as Guest['wish'] })}
            options={roomWishes.map((value) => ({ value, words: value === 'share' ? 'with somebody' : value }))}
          />
          <Tick words="hopes for a quiet room" on={told.wishQuiet} set={(wishQuiet) => set({ wishQuiet })} />
          <Tick words="sleeps elsewhere" on={told.sleepsOut} set={(sleepsOut) => set({ sleepsOut })} />
        </div>
        {others.length > 0 && (
          <div className="course-two">
            <People
              legend="Would like to share with"
              others={others}
              chosen={told.shareWith}
              set={(shareWith) => set({ shareWith })}
            />
            <People
              legend="Never in one room with"
              others={others}
              chosen={told.notWith}
              set={(notWith) => set({ notWith })}
            />
          </div>
        )}
        {gathering.dates.length > 0 && (
          <fieldset className="course-wishes">
            <legend>Could come on</legend>
            {gathering.dates.map(({ startsOn }) => (
              <Tick
                key={startsOn}
                words={startsOn}
                on={told.couldCome.includes(startsOn)}
                set={(on) =>
                  set({
                    couldCome: on ? [...told.couldCome, startsOn] : told.couldCome.filter((one) => one !== startsOn),
                  })
                }
              />
            ))}
          </fieldset>
        )}
        <fieldset className="course-asked">
          <legend>Has done before</legend>
          {gathering.asked.map(({ operationId, name }) => (
            <SelectField
              key={operationId}
              name={name}
              value={told.answers[operationId] ?? ''}
              onChange={(event) => set({ answers: answered(told.answers, operationId, event.target.value) })}
              options={[{ value: '', words: 'not asked' }, ...asOptions(answers)]}
            />
          ))}
          <TextField
            name="Books mended so far"
            inputMode="numeric"
            value={books}
            onChange={(event) => setBooks(event.target.value)}
            trouble={trouble?.field === 'booksDone' ? trouble.sentence : undefined}
          />
        </fieldset>
        <p className="field-hint">
          {gathering.levelRule} By what is kept so far: {guest.levelTold}. {guest.levelBecause}
        </p>
        <Tick
          words={`the level is set by hand (now ${guest.level})`}
          on={told.levelByHand}
          set={(levelByHand) => set({ levelByHand })}
        />
        {trouble && !['leavesOn', 'booksDone'].includes(trouble.field ?? '') && <TroubleNotice error={save.error} />}
        <div className="actions">
          <Button type="submit" look="main" disabled={save.isPending}>
            Keep
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </div>
      </form>
      <ErasePerson guest={guest} onErased={onErased} />
    </Dialog>
  );
}

function inputOf(guest: Guest): GuestInput {
  const {
    personId: _,
    name,
    standing,
    level,
    diet,
    levelTold,
    levelBecause,
    roomId,
    roomByHand,
    meals: __,
    met,
    ...told
  } = guest;
  return told;
}

function answered(before: GuestInput['answers'], operationId: string, value: string): GuestInput['answers'] {
  const { [operationId]: _, ...rest } = before;
  const answer = answers.find((one) => one === value);
  return answer === undefined ? rest : { ...rest, [operationId]: answer };
}

type TickProps = Readonly<{ words: string; on: boolean; set: (on: boolean) => void }>;

function Tick({ words, on, set }: TickProps) {
  return (
    <label className="course-tick">
      <input type="checkbox" checked={on} onChange={(event) => set(event.target.checked)} /> {words}
    </label>
  );
}

type PeopleProps = Readonly<{
  legend: string;
  others: readonly Guest[];
  chosen: readonly string[];
  set: (ids: string[]) => void;
}>;

function People({ legend, others, chosen, set }: PeopleProps) {
  return (
    <fieldset className="course-wishes">
      <legend>{legend}</legend>
      {others.map(({ personId, name }) => (
        <Tick
          key={personId}
          words={name}
          on={chosen.includes(personId)}
          set={(on) => set(on ? [...chosen, personId] : chosen.filter((id) => id !== personId))}
        />
      ))}
    </fieldset>
  );
}
