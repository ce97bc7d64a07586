/** Pairs of people and copies: kept, ruled out or left to the allocation, with the reason; allocations by name; putting one right. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import type { CoursePairs, PairStanding, SharingsCompared } from '../../core/contract/course-plan.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { dayWords } from '../parts/words.ts';
import { Mend } from './allocation-mend.tsx';

const standingWords: Readonly<Record<PairStanding, string>> = {
  given: 'given',
  kept: 'kept by you',
  never: 'ruled out by you',
  barred: 'cannot be',
  free: 'could be',
};

export function Pairs({ course }: Readonly<{ course: Course }>) {
  const pairs = useQuery(ask.coursePlan.pairs.queryOptions({ input: { courseId: course.id } }));
  if (pairs.error) return <TroubleNotice error={pairs.error} />;
  if (!pairs.data) return null;
  if (pairs.data.people.length === 0 || pairs.data.copies.length === 0)
    return (
      <p className="soft">Once people are confirmed and copies are on the course, each pair can be decided here.</p>
    );
  return (
    <section aria-label="Pairs">
      <Grid course={course} pairs={pairs.data} />
      <Mend course={course} />
      <Named course={course} pairs={pairs.data} />
    </section>
  );
}

type Chosen = Readonly<{ personId: string; bookId: string }>;

function Grid({ course, pairs }: Readonly<{ course: Course; pairs: CoursePairs }>) {
  const [chosen, setChosen] = useState<Chosen | null>(null);
  const rule = useChange(client.coursePlan.rule);
  const copy = pairs.copies.find(({ bookId }) => bookId === chosen?.bookId);
  const cell = copy?.cells.find(({ personId }) => personId === chosen?.personId);
  const person = pairs.people.find(({ personId }) => personId === chosen?.personId);
  const set = (what: 'keep' | 'never' | 'free') => {
    if (chosen) rule.mutate({ courseId: course.id, ...chosen, rule: what });
  };
  return (
    <div className={cell ? 'course-beside' : undefined}>
      <div>
        <div className="table-scroll course-pairs">
          <table className="matrix">
            <thead>
              <tr>
                <th scope="col">
                  <span className="visually-hidden">Copy</span>
                </th>
                {pairs.people.map(({ personId, name, level }) => (
                  <th key={personId} scope="col">
                    <span>
                      {name}, {level}
                    </span>
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {pairs.copies.map((row) => (
                <tr key={row.bookId}>
                  <th scope="row" className="course-title">
                    {row.title} <span className="soft">{row.ruined === null ? row.level : 'spoilt'}</span>
                  </th>
                  {row.cells.map(({ personId, standing }, index) => (
                    <td key={personId}>
                      <button
                        type="button"
                        className="pair"
                        aria-pressed={chosen?.personId === personId && chosen.bookId === row.bookId}
                        aria-label={`${row.title} for ${pairs.people[index]?.name ?? ''}: ${standingWords[standing]}`}
                        onClick={() => setChosen({ personId, bookId: row.bookId })}
                      >
                        <PairMark standing={standing} />
                      </button>
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <p className="matrix-key">
          <PairMark standing="given" /> given <PairMark standing="kept" /> kept by you <PairMark standing="never" />{' '}
          ruled out by you <PairMark standing="barred" /> cannot be, for a hazard, an allergy, level or hours{' '}
          <PairMark standing="free" /> could be
        </p>
      </div>
      {cell && copy && person && (
        <aside className="course-pane" aria-label="This pair">
          <div className="actions">
            <h3>{person.name}</h3>
            <Button look="quiet" onClick={() => setChosen(null)}>
              Close
            </Button>
          </div>
          <p className="course-title">{copy.title}</p>
          <p>
            <span className="soft">{capital(standingWords[cell.standing])}.</span> {cell.why}
          </p>
          {cell.standing !== 'barred' && (
            <div className="course-choices">
              <Button disabled={rule.isPending || cell.standing === 'kept'} onClick={() => set('keep')}>
                Keep for {firstName(person.name)}
              </Button>
              <Button disabled={rule.isPending || cell.standing === 'never'} onClick={() => set('never')}>
                Rule out
              </Button>
              <Button
                disabled={rule.isPending || cell.standing === 'given' || cell.standing === 'free'}
                onClick={() => set('free')}
              >
                Leave it open
              </Button>
            </div>
          )}
          {rule.error && <TroubleNotice error={rule.error} />}
        </aside>
      )}
    </div>
  );
}

function firstName(name: string): string {
  return name.split(' ')[0] ?? name;
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** A stitch drawn through, the same knotted, struck out, shut, or open. */
function PairMark({ standing }: Readonly<{ standing: PairStanding }>) {
  return (
    <svg className={`cell pair-${standing}`} viewBox="0 0 20 20" aria-hidden="true">
      {(standing === 'given' || standing === 'kept') && <path className="cell-body" d="M4 4h12v12H4Z" />}
      {standing === 'kept' && <circle className="pair-knot" cx="10" cy="10" r="3" />}
      {standing === 'never' && <path d="M4 4l12 12M16 4L4 16" />}
      {standing === 'barred' && <path d="M4 4h12v12H4ZM4 16L16 4" />}
      {standing === 'free' && <path d="M8.5 10h3" />}
    </svg>
  );
}

function Named({ course, pairs }: Readonly<{ course: Course; pairs: CoursePairs }>) {
  const [name, setName] = useState('');
  const keep = useChange(client.coursePlan.keepSharing, (_, input) => `Kept as “${input.name}”.`);
  const drop = useChange(client.coursePlan.dropSharing, () => 'Dropped; undo brings it back.');
  const take = useChange(client.coursePlan.takeSharing, () => 'The copies are handed out so.');
  const zone = course.timeZone;
  return (
    <div>
      <h3>Allocations by name</h3>
      <p className="soft">
        Keep how the copies are shared out now, allocate otherwise, and see who would change and what it wins.
      </p>
      <form
        className="course-line"
        onSubmit={(event) => {
          event.preventDefault();
          keep.mutate({ courseId: course.id, name }, { onSuccess: () => setName('') });
        }}
      >
        <TextField name="Name" value={name} onChange={(event) => setName(event.target.value)} />
        <Button type="submit" disabled={name.trim() === '' || keep.isPending}>
          Keep it as it is now
        </Button>
      </form>
      {[keep, drop, take].map(({ error }, index) => error && <TroubleNotice key={String(index)} error={error} />)}
      {pairs.sharings.length > 0 && (
        <>
          <ul className="course-list">
            {pairs.sharings.map((one) => (
              <li key={one.id}>
                <span>
                  {one.name}{' '}
                  <span className="soft">
                    {dayWords(one.madeAt, zone)}, {one.pairs} copies, {valueWords(one.value)}
                  </span>
                </span>
                <Button
                  aria-label={`Hand out so: ${one.name}`}
                  onClick={() => take.mutate({ courseId: course.id, id: one.id })}
                >
                  Hand out so
                </Button>
                <Button
                  look="quiet"
                  aria-label={`Drop ${one.name}`}
                  onClick={() => drop.mutate({ courseId: course.id, id: one.id })}
                >
                  Drop
                </Button>
              </li>
            ))}
          </ul>
          <Compare course={course} pairs={pairs} />
        </>
      )}
    </div>
  );
}

function Compare({ course, pairs }: Readonly<{ course: Course; pairs: CoursePairs }>) {
  const [first, setFirst] = useState('now');
  const [second, setSecond] = useState(pairs.sharings[0]?.id ?? 'now');
  const there = new Set(['now', ...pairs.sharings.map(({ id }) => id)]);
  const [one, other] = [there.has(first) ? first : 'now', there.has(second) ? second : 'now'];
  const compared = useQuery({
    ...ask.coursePlan.compare.queryOptions({ input: { courseId: course.id, first: one, second: other } }),
    enabled: one !== other,
  });
  const choice = (label: string, value: string, set: (id: string) => void) => (
    <label className="field">
      <span className="field-name">{label}</span>
      <select value={value} onChange={(event) => set(event.target.value)}>
        <option value="now">as it is now</option>
        {pairs.sharings.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <div>
      <h3>Compare two</h3>
      <div className="course-line">
        {choice('From', one, setFirst)}
        {choice('To', other, setSecond)}
      </div>
      {compared.error && <TroubleNotice error={compared.error} />}
      {one === other ? (
        <p className="soft">Choose two different ones.</p>
      ) : (
        compared.data && <Difference found={compared.data} />
      )}
    </div>
  );
}

function Difference({ found }: Readonly<{ found: SharingsCompared }>) {
  const { first, second, moves, people, better } = found;
  const words =
    better === 'neither'
      ? 'Neither is better.'
      : `“${better === 'first' ? first.name : second.name}” is better: wishes count first, then the worst-off, then all together.`;
  return (
    <>
      <p>
        {moves} {moves === 1 ? 'copy changes' : 'copies change'} hands, {people.length}{' '}
        {people.length === 1 ? 'person' : 'people'} would notice. {words}
      </p>
      <p className="soft">
        {first.name}: {valueWords(first.value)}. {second.name}: {valueWords(second.value)}.
      </p>
      {people.length > 0 && (
        <div className="table-scroll">
          <table className="table course-stacked">
            <thead>
              <tr>
                <th>Who</th>
                <th>Gives up</th>
                <th>Gets</th>
                <th>Meets newly</th>
                <th>Meets no longer</th>
              </tr>
            </thead>
            <tbody>
              {people.map((person) => (
                <tr key={person.name}>
                  <td className="course-row-head">{person.name}</td>
                  <td className={look(person.givesUp)} data-head="Gives up">
                    <span className="course-title">{person.givesUp.join('; ')}</span>
                  </td>
                  <td className={look(person.gets)} data-head="Gets">
                    <span className="course-title">{person.gets.join('; ')}</span>
                  </td>
                  <td className={look(person.newly)} data-head="Meets newly">
                    {person.newly.join(', ')}
                  </td>
                  <td className={look(person.noLonger)} data-head="Meets no longer">
                    {person.noLonger.length > 0 && <Mark kind="caution" />} {person.noLonger.join(', ')}
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

function look(list: readonly string[]): string | undefined {
  return list.length === 0 ? 'course-nothing' : undefined;
}

function valueWords({ wishes, worst, total }: SharingsCompared['first']['value']): string {
  return `${wishes} ${wishes === 1 ? 'wish' : 'wishes'} met, everybody has ${worst} or more to grow on, ${total} points in all`;
}
