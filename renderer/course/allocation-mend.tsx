/** Somebody drops out or a copy is spoilt: what would change hands, before anything does. */
import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import type { Mending } from '../../core/contract/course-plan.ts';
import { client } from '../app/client.ts';
import { say } from '../app/say.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { TroubleNotice, Working } from '../parts/notices.tsx';
import { Impossible } from './verdicts.tsx';

const seconds = 8;

type Proposal = Extract<Mending, { kind: 'proposed' }>;

export function Mend({ course }: Readonly<{ course: Course }>) {
  const queries = useQueryClient();
  const [withoutId, setWithout] = useState('');
  const [ruinedId, setRuined] = useState('');
  const [what, setWhat] = useState('');
  const [words, setWords] = useState<string | null>(null);
  const [error, setError] = useState<unknown>(null);
  const [found, setFound] = useState<Exclude<Mending, { kind: 'progress' }> | null>(null);
  const running = useRef<AsyncIterator<unknown> | null>(null);
  // Leaving the room does not leave the engine running for nobody.
  useEffect(() => () => void running.current?.return?.(), []);
  const people = course.people.filter(({ standing }) => standing === 'confirmed');
  const trouble = { courseId: course.id, withoutId: withoutId || null, ruinedId: ruinedId || null };
  const name = people.find(({ id }) => id === withoutId)?.name;
  const title = course.copies.find(({ bookId }) => bookId === ruinedId)?.title;

  async function propose() {
    setError(null);
    setFound(null);
    setWords('Looking for the fewest changes …');
    try {
      const pieces = await client.coursePlan.proposeMend({ ...trouble, seconds });
      running.current = pieces;
      for await (const piece of pieces) {
        if (piece.kind === 'progress') setWords(piece.words);
        else setFound(piece);
      }
    } catch (caught) {
      setError(caught);
    } finally {
      running.current = null;
      setWords(null);
    }
  }

  async function accept({ changes }: Proposal) {
    setError(null);
    try {
      await client.coursePlan.acceptMend({
        ...trouble,
        what,
        changes: changes.map(({ bookId, toId }) => ({ bookId, toId })),
      });
      say('Done; undo takes all of it back.');
      setFound(null);
      setWithout('');
      setRuined('');
      setWhat('');
      await queries.invalidateQueries();
    } catch (caught) {
      setError(caught);
    }
  }

  return (
    <div>
      <h3>Somebody drops out, a copy is spoilt</h3>
      <div className="course-line">
        <label className="field">
          <span className="field-name">Drops out</span>
          <select
            value={withoutId}
            onChange={(event) => {
              setWithout(event.target.value);
              setFound(null);
            }}
          >
            <option value="">nobody</option>
            {people.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name}
              </option>
            ))}
          </select>
        </label>
        <label className="field">
          <span className="field-name">Spoilt</span>
          <select
            value={ruinedId}
            onChange={(event) => {
              setRuined(event.target.value);
              setFound(null);
            }}
          >
            <option value="">no copy</option>
            {course.copies
              .filter(({ blocked }) => blocked === null)
              .map(({ bookId, title: words }) => (
                <option key={bookId} value={bookId}>
                  {words}
                </option>
              ))}
          </select>
        </label>
        {ruinedId !== '' && (
          <TextField name="What happened to it" value={what} onChange={(event) => setWhat(event.target.value)} />
        )}
        <Button disabled={words !== null} onClick={() => void propose()}>
          {withoutId === '' && ruinedId === '' ? 'Put it right as it stands' : 'See what would change'}
        </Button>
      </div>
      {words !== null && <Working words={words} onStop={() => void client.course.stop().catch(setError)} />}
      {error !== null && <TroubleNotice error={error} />}
      {found?.kind === 'impossible' && <Impossible found={found} />}
      {found?.kind === 'proposed' && (
        <div className="course-offered" role="status">
          <p>
            {found.changes.length === 0
              ? 'No copy has to change hands.'
              : `${found.changes.length} ${found.changes.length === 1 ? 'copy changes' : 'copies change'} hands.`}{' '}
            <span className="soft">
              {found.proven
                ? 'Proven: it cannot be done with fewer.'
                : 'Fewer may be possible: it was stopped before that was proven.'}
              {found.begun > 0 &&
                ` ${found.begun} ${found.begun === 1 ? 'copy is' : 'copies are'} begun and ${found.begun === 1 ? 'stays' : 'stay'}.`}
            </span>
          </p>
          <ul className="course-list">
            {found.changes.map((change) => (
              <li key={change.bookId}>
                <span className="course-title">{change.title}</span>
                <span>
                  {change.from ?? 'nobody'} → {change.to ?? 'nobody'}
                </span>
                <span className="small">{change.reason}</span>
              </li>
            ))}
          </ul>
          <div className="actions">
            <Button look="main" onClick={() => void accept(found)}>
              {name === undefined && title === undefined ? 'Make these changes' : acceptWords(name, title)}
            </Button>
            <Button onClick={() => setFound(null)}>Leave it</Button>
          </div>
        </div>
      )}
    </div>
  );
}

function acceptWords(name: string | undefined, title: string | undefined): string {
  if (name === undefined) return 'Set the copy aside and make these changes';
  return title === undefined
    ? `Take ${name} out and make these changes`
    : `Take ${name} and the copy out, make these changes`;
}
