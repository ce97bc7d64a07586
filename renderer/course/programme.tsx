/** The frame beyond the hours: dates thought of, meals, who teaches and helps, talks and free time, and how each operation is taught. */
import { type FormEvent, useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import type { Gathering, ProgrammeInput, TalkInput } from '../../core/contract/course-people.ts';
import { meals } from '../../core/course/guest.ts';
import { roles, talkKinds } from '../../core/course/programme.ts';
import { client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { SavedText } from '../parts/saved.tsx';
import { dayWords } from '../parts/words.ts';
import { clockOf, minutesOf, useGathering } from './gathering.ts';
import { Lessons } from './lessons.tsx';

type Props = Readonly<{ course: Course; gathering: Gathering }>;

export function Programme({ course }: Readonly<{ course: Course }>) {
  const gathering = useGathering(course.id);
  if (gathering.error) return <TroubleNotice error={gathering.error} again={() => void gathering.refetch()} />;
  if (!gathering.data) return <p role="status">Opening the programme …</p>;
  const props = { course, gathering: gathering.data };
  return (
    <section aria-label="Programme">
      <div className="course-two">
        <Dates {...props} />
        <Days {...props} />
      </div>
      <Talks {...props} />
      <Lessons {...props} />
    </section>
  );
}

/** A change of one part of what is kept together. */
function useProgramme({ course, gathering }: Props) {
  const save = useChange(client.coursePeople.saveProgramme);
  const set = (patch: Partial<ProgrammeInput>) =>
    save.mutateAsync({ ...gathering.programme, ...patch, courseId: course.id });
  return { set, error: save.error };
}

function Dates({ course, gathering }: Props) {
  const [startsOn, setStartsOn] = useState('');
  const [note, setNote] = useState('');
  const add = useChange(client.coursePeople.addDate);
  const remove = useChange(client.coursePeople.removeDate, () => 'Not thought of any more.');
  const choose = useChange(
    client.coursePeople.chooseDate,
    () => 'The course is moved, and whoever comes or leaves with it.',
  );
  const { set, error } = useProgramme({ course, gathering });
  const people = gathering.guests.filter((one) => one.standing !== 'withdrawn').length;
  const trouble = add.error ?? remove.error ?? choose.error ?? error;
  return (
    <div>
      <h3>Dates</h3>
      <p>
        {gathering.programme.firm ? 'Firm: ' : 'Tentative: '}
        {dayWords(gathering.startsOn, course.timeZone)} to {dayWords(gathering.endsOn, course.timeZone)}{' '}
        {gathering.endsOn.slice(0, 4)}.{' '}
        <Button look="quiet" onClick={() => void set({ firm: !gathering.programme.firm }).catch(() => {})}>
          {gathering.programme.firm ? 'Make them tentative' : 'Make them firm'}
        </Button>
      </p>
      <ul className="course-list">
        {gathering.dates.map((date) => (
          <li key={date.id}>
            <span>
              {dayWords(date.startsOn, course.timeZone)} to {dayWords(date.endsOn, course.timeZone)}{' '}
              {date.endsOn.slice(0, 4)}
              {date.inForce && ' (in force)'}
            </span>
            {date.inForce ? (
              <span />
            ) : (
              <Button
                aria-label={`Choose ${date.startsOn}`}
                disabled={gathering.programme.firm}
                onClick={() => choose.mutate({ id: date.id })}
              >
                Choose
              </Button>
            )}
            <Button look="quiet" aria-label={`Remove ${date.startsOn}`} onClick={() => remove.mutate({ id: date.id })}>
              Remove
            </Button>
            <span className="small">
              {date.couldCome.length} of {people} could come
              {date.couldCome.length > 0 && `: ${date.couldCome.join(', ')}`}
              {date.note !== '' && `. ${date.note}`}
            </span>
          </li>
        ))}
      </ul>
      <form
        className="course-line"
        onSubmit={(event) => {
          event.preventDefault();
          add.mutate({ courseId: course.id, startsOn, note }, { onSuccess: () => setStartsOn('') });
        }}
      >
        <TextField
          name="Another first day"
          type="date"
          value={startsOn}
          onChange={(event) => setStartsOn(event.target.value)}
        />
        <TextField name="Note on it" value={note} onChange={(event) => setNote(event.target.value)} />
        <Button type="submit">Think of it</Button>
      </form>
      {trouble && <TroubleNotice error={trouble} />}
    </div>
  );
}

function Days({ course, gathering }: Props) {
  const { programme } = gathering;
  const { set, error } = useProgramme({ course, gathering });
  const keepMeal = (meal: (typeof meals)[number], text: string) => {
    const at = minutesOf(text);
    if (text.trim() !== '' && at === null) throw new Error('Write a time of day, as 13:00.');
    const rest = programme.meals.filter((one) => one.meal !== meal);
    const minutes = programme.meals.find((one) => one.meal === meal)?.minutes ?? 60;
    return set({ meals: at === null ? rest : [...rest, { meal, at, minutes }] });
  };
  const helpers = programme.helpers.map((one) => ({ ...one }));
  return (
    <div>
      <h3>Meals and helpers</h3>
      <div className="course-line">
        {meals.map((meal) => (
          <SavedText
            key={meal}
            name={`${meal[0]?.toUpperCase()}${meal.slice(1)} at`}
            hint={programme.meals.some((one) => one.meal === meal) ? '' : 'not served'}
            value={clockOr(programme.meals.find((one) => one.meal === meal)?.at)}
            keep={async (text) => keepMeal(meal, text)}
          />
        ))}
      </div>
      <ul className="course-list">
        {helpers.map((one, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: helpers have no other name of their own
          <li key={index} className="course-helper">
            <SavedText
              name={`Name of ${one.role} ${index + 1}`}
              value={one.name}
              keep={(name) => set({ helpers: helpers.with(index, { ...one, name }) })}
            />
            <SavedText
              name={`Diet of ${one.name === '' ? `${one.role} ${index + 1}` : one.name}`}
              value={one.diet}
              keep={(diet) => set({ helpers: helpers.with(index, { ...one, diet }) })}
            />
            <Button
              look="quiet"
              aria-label={`Remove ${one.name === '' ? `${one.role} ${index + 1}` : one.name}`}
              onClick={() => void set({ helpers: helpers.toSpliced(index, 1) }).catch(() => {})}
            >
              Remove
            </Button>
          </li>
        ))}
      </ul>
      <div className="actions">
        {roles.map((role) => (
          <Button
            key={role}
            onClick={() => void set({ helpers: [...helpers, { name: '', role, diet: '', note: '' }] }).catch(() => {})}
          >
            Add a {role}
          </Button>
        ))}
      </div>
      <SavedText name="Reading list" long value={programme.reading} keep={(reading) => set({ reading })} />
      {error && <TroubleNotice error={error} />}
    </div>
  );
}

const noTalk = {
  kind: 'talk' as TalkInput['kind'],
  title: '',
  day: '1',
  from: '16:00',
  minutes: '60',
  who: '',
  reading: '',
};

function Talks({ course, gathering }: Props) {
  const [draft, setDraft] = useState(noTalk);
  const [changing, setChanging] = useState<string | null>(null);
  const [wrong, setWrong] = useState<string | undefined>();
  const save = useChange(
    client.coursePeople.saveTalk,
    (_, { title }) => `“${title}” is kept. Lay out the week again to plan around it.`,
  );
  const remove = useChange(client.coursePeople.removeTalk, () => 'Off the programme.');
  const set = (patch: Partial<typeof noTalk>) => setDraft({ ...draft, ...patch });
  function keep(event: FormEvent) {
    event.preventDefault();
    const from = minutesOf(draft.from);
    setWrong(from === null ? 'Write a time of day, as 16:00.' : undefined);
    if (from === null) return;
    const { kind, title, who, reading } = draft;
    const timed = { day: Number(draft.day), fromMinute: from, minutes: Number(draft.minutes) };
    save.mutate(
      { courseId: course.id, ...(changing === null ? {} : { id: changing }), kind, title, who, reading, ...timed },
      {
        onSuccess: () => {
          setDraft(noTalk);
          setChanging(null);
        },
      },
    );
  }
  return (
    <>
      <h3>Talks and free time</h3>
      <p className="soft">Nobody is planned at the bench meanwhile.</p>
      {gathering.talks.length > 0 && (
        <div className="table-scroll">
          <table className="table">
            <thead>
              <tr>
                <th>When</th>
                <th>What</th>
                <th>Who</th>
                <th>Reading</th>
                <th>
                  <span className="visually-hidden">Change</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {gathering.talks.map((talk) => (
                <tr key={talk.id}>
                  <td>
                    Day {talk.day}, {clockOf(talk.fromMinute)}–{clockOf(talk.fromMinute + talk.minutes)}
                    {talk.outside && <Mark kind="caution" name="after the course’s last day" />}
                  </td>
                  <td>
                    {talk.title} <span className="soft">({talk.kind})</span>
                  </td>
                  <td>{talk.who}</td>
                  <td>{talk.reading}</td>
                  <td>
                    <div className="actions">
                      <Button
                        look="quiet"
                        aria-label={`Change ${talk.title}`}
                        onClick={() => {
                          const { kind, title, who, reading } = talk;
                          setDraft({
                            kind,
                            title,
                            who,
                            reading,
                            day: String(talk.day),
                            from: clockOf(talk.fromMinute),
                            minutes: String(talk.minutes),
                          });
                          setChanging(talk.id);
                        }}
                      >
                        Change
                      </Button>
                      <Button
                        look="quiet"
                        aria-label={`Remove ${talk.title}`}
                        onClick={() => remove.mutate({ id: talk.id })}
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
        <SelectField
          name="Kind"
          value={draft.kind}
          onChange={(event) => set({ kind: event.target.value as TalkInput['kind'] })}
          options={talkKinds.map((value) => ({ value, words: value }))}
        />
        <TextField name="What it is" value={draft.title} onChange={(event) => set({ title: event.target.value })} />
        <TextField
          name="On day"
          inputMode="numeric"
          value={draft.day}
          onChange={(event) => set({ day: event.target.value })}
        />
        <TextField
          name="From"
          value={draft.from}
          trouble={wrong}
          onChange={(event) => set({ from: event.target.value })}
        />
        <TextField
          name="Minutes"
          inputMode="numeric"
          value={draft.minutes}
          onChange={(event) => set({ minutes: event.target.value })}
        />
        <TextField name="Who" value={draft.who} onChange={(event) => set({ who: event.target.value })} />
        <TextField name="Reading" value={draft.reading} onChange={(event) => set({ reading: event.target.value })} />
        <Button type="submit">{changing === null ? 'Put it on' : 'Keep it'}</Button>
      </form>
      {save.error && <TroubleNotice error={save.error} />}
      {remove.error && <TroubleNotice error={remove.error} />}
    </>
  );
}

function clockOr(at: number | undefined): string {
  return at === undefined ? '' : clockOf(at);
}
