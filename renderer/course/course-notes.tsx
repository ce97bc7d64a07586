/** Incidents and comments of a course, with the caution that stands beside first aid. */
import { useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import { type Gathering, noteKinds } from '../../core/contract/course-people.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, LongField, SelectField } from '../parts/controls.tsx';
import { Caution, TroubleNotice } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';

const blank = { kind: 'incident' as (typeof noteKinds)[number], personId: '', what: '', done: '' };

export function CourseNotes({ course, gathering }: Readonly<{ course: Course; gathering: Gathering }>) {
  const [draft, setDraft] = useState(blank);
  const save = useChange(client.coursePeople.saveNote, () => 'It is noted.');
  const remove = useChange(client.coursePeople.removeNote, () => 'The note is taken away; undo brings it back.');
  const trouble = save.error ? readTrouble(save.error) : null;
  const set = (patch: Partial<typeof blank>) => setDraft({ ...draft, ...patch });
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  return (
    <>
      <h3>Incidents and comments</h3>
      <Caution sentence="For anything worse than a scratch, or a chemical in an eye or on the skin, call for medical help first and write afterwards. Follow your local rules for first aid and for reporting; this note is no report to an authority." />
      <form
        className="course-form"
        onSubmit={(event) => {
          event.preventDefault();
          const { personId, ...rest } = draft;
          save.mutate(
            { courseId: course.id, ...rest, personId: personId || null, at: Date.now() },
            { onSuccess: () => setDraft({ ...blank, kind: draft.kind }) },
          );
        }}
      >
        <div className="fields">
          <SelectField
            name="Kind of note"
            value={draft.kind}
            onChange={(event) => set({ kind: event.target.value as typeof draft.kind })}
            options={noteKinds.map((value) => ({ value, words: value }))}
          />
          <SelectField
            name={draft.kind === 'incident' ? 'To whom' : 'By whom'}
            value={draft.personId}
            onChange={(event) => set({ personId: event.target.value })}
            options={[
              { value: '', words: 'nobody of the list' },
              ...gathering.guests
                .filter((one) => one.standing === 'confirmed')
                .map((one) => ({ value: one.personId, words: one.name })),
            ]}
          />
        </div>
        <LongField
          name={draft.kind === 'incident' ? 'What happened' : 'Comment'}
          value={draft.what}
          onChange={(event) => set({ what: event.target.value })}
          trouble={at('what')}
        />
        {draft.kind === 'incident' && (
          <LongField
            name="What was done, and by whom"
            value={draft.done}
            onChange={(event) => set({ done: event.target.value })}
            trouble={at('done')}
          />
        )}
        {trouble && !['what', 'done'].includes(trouble.field ?? '') && <TroubleNotice error={save.error} />}
        {remove.error && <TroubleNotice error={remove.error} />}
        <div className="actions">
          <Button type="submit" disabled={save.isPending}>
            Note it
          </Button>
        </div>
      </form>
      {gathering.notes.length > 0 && (
        <ul className="course-list">
          {gathering.notes.map((note) => (
            <li key={note.id}>
              <span>
                {dayWords(note.at, course.timeZone)}, {clockWords(note.at, course.timeZone)}
                {note.person !== null && `, ${note.person}`}: {note.what}
              </span>
              <span className="soft">{note.kind}</span>
              <Button
                look="quiet"
                aria-label={`Take away: ${note.what}`}
                onClick={() => remove.mutate({ id: note.id })}
              >
                Take away
              </Button>
              {note.done !== '' && <span className="small">Done: {note.done}</span>}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
