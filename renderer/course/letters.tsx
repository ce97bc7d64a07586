/** Letters and lists filled in for each person; the program sends nothing, it hands over a file. */
import { useState } from 'react';
import { type Course, standings } from '../../core/contract/course.ts';
import type { Gathering } from '../../core/contract/course-people.ts';
import { letterFields } from '../../core/course/letter-text.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { useFile, useGathering } from './gathering.ts';

/** To begin with; written by nobody but this program. */
const firstText = `Dear {name},

you are {standing} for “{course}”, {starts} to {ends}.

We expect you on {arrival}, and keep {room} for you. You told us: diet {diet}; not to eat: {foods}; not to touch: {allergies}; you need: {needs}. Tell us at once where this is wrong.

{teachers}
{workshop}, {today}`;

export function Letters({ course }: Readonly<{ course: Course }>) {
  const gathering = useGathering(course.id);
  if (gathering.error) return <TroubleNotice error={gathering.error} again={() => void gathering.refetch()} />;
  if (!gathering.data) return <p role="status">Opening the letters …</p>;
  return <Desk course={course} letters={gathering.data.letters} guests={gathering.data.guests} />;
}

type Props = Readonly<{ course: Course; letters: Gathering['letters']; guests: Gathering['guests'] }>;

function Desk({ course, letters, guests }: Props) {
  const [id, setId] = useState<string | null>(letters[0]?.id ?? null);
  const open = letters.find((one) => one.id === id);
  const [name, setName] = useState(open?.name ?? '');
  const [text, setText] = useState(open?.text ?? firstText);
  const [standing, setStanding] = useState<string>('confirmed');
  const save = useChange(client.coursePeople.saveLetter, (_, kept) => `“${kept.name}” is kept.`);
  const remove = useChange(client.coursePeople.removeLetter, () => 'The letter is removed; undo brings it back.');
  const { trouble, hand } = useFile();
  const refused = save.error ? readTrouble(save.error) : null;
  const unkept = open === undefined || open.name !== name || open.text !== text;
  function show(letter: Gathering['letters'][number] | undefined) {
    setId(letter?.id ?? null);
    setName(letter?.name ?? '');
    setText(letter?.text ?? firstText);
    save.reset();
  }
  const print = (form: 'txt' | 'pdf') =>
    void hand(() => client.coursePeople.printLetters({ courseId: course.id, letterId: id ?? '', standing, form }));
  const readers = guests.filter((one) => one.standing === standing).length;
  return (
    <section aria-label="Letters">
      <div className="actions">
        {letters.map((letter) => (
          <Button key={letter.id} aria-pressed={letter.id === id} onClick={() => show(letter)}>
            {letter.name}
          </Button>
        ))}
        <Button look="quiet" onClick={() => show(undefined)}>
          A new letter
        </Button>
      </div>
      <div className="course-two">
        <form
          className="course-form"
          onSubmit={(event) => {
            event.preventDefault();
            save.mutate({ ...(id === null ? {} : { id }), name, text }, { onSuccess: (kept) => setId(kept.id) });
          }}
        >
          <TextField
            name="Name of the letter"
            value={name}
            onChange={(event) => setName(event.target.value)}
            trouble={refused?.field === 'name' ? refused.sentence : undefined}
          />
          <LongField
            name="Text"
            rows={14}
            value={text}
            onChange={(event) => setText(event.target.value)}
            trouble={refused?.field === 'text' ? refused.sentence : undefined}
          />
          {refused && refused.field !== 'name' && refused.field !== 'text' && <TroubleNotice error={save.error} />}
          {remove.error && <TroubleNotice error={remove.error} />}
          <div className="actions">
            <Button type="submit" look="main" disabled={save.isPending}>
              Keep the letter
            </Button>
            {open && (
              <Button look="harm" onClick={() => remove.mutate({ id: open.id }, { onSuccess: () => show(undefined) })}>
                Remove it
              </Button>
            )}
          </div>
          <div className="actions">
            <SelectField
              name="To everybody who is"
              value={standing}
              onChange={(event) => setStanding(event.target.value)}
              options={standings.map((value) => ({ value, words: value }))}
            />
            <Button disabled={unkept || readers === 0} onClick={() => print('pdf')}>
              {readers} {readers === 1 ? 'letter' : 'letters'} to print
            </Button>
            <Button disabled={unkept || readers === 0} onClick={() => print('txt')}>
              As plain text
            </Button>
          </div>
          {unkept && <p className="field-hint">Keep the letter first; then it can be filled in.</p>}
          {trouble !== null && <TroubleNotice error={trouble} />}
        </form>
        <div>
          <h3>Fields</h3>
          <p className="soft">
            A field stands in braces and is filled in for each person. Two opening braces stand for one that is meant as
            it is.
          </p>
          <dl className="course-fields">
            {Object.entries(letterFields).map(([field, words]) => (
              <div key={field}>
                <dt>
                  <Button
                    look="quiet"
                    aria-label={`Add the field ${field}`}
                    onClick={() => setText(`${text}{${field}}`)}
                  >{`{${field}}`}</Button>
                </dt>
                <dd>{words}</dd>
              </div>
            ))}
          </dl>
        </div>
      </div>
    </section>
  );
}
