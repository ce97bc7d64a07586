/** The backups by day, and going back to one after seeing what that would change. */
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { BackupLine, Comparison } from '../../core/contract/archive.ts';
import { ask, client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { say } from '../app/say.ts';
import { Button } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { Mark, Notice, TroubleNotice } from '../parts/notices.tsx';
import { shortened } from '../parts/words.ts';
import { kindWords, momentWords, rowsOf, sizeWords } from './words.ts';

/** As many as one looks over; the rest on request. */
const shownFirst = 8;

type Checked = ReadonlyMap<string, string | null>;

export function Backups({ backups }: Readonly<{ backups: readonly BackupLine[] }>) {
  const { timeZone } = useHabits();
  const queries = useQueryClient();
  const [all, setAll] = useState(false);
  const [busy, setBusy] = useState<'making' | 'checking' | null>(null);
  const [checked, setChecked] = useState<Checked>(new Map());
  const [error, setError] = useState<unknown>(null);
  const [chosen, setChosen] = useState<BackupLine | null>(null);

  async function attempt(what: 'making' | 'checking', work: () => Promise<void>): Promise<void> {
    setBusy(what);
    setError(null);
    try {
      await work();
    } catch (thrown) {
      setError(thrown);
    } finally {
      setBusy(null);
    }
  }
  const make = () =>
    attempt('making', async () => {
      queries.setQueryData(ask.archive.state.queryKey(), await client.archive.backUpNow());
      say('A backup is made, and was opened and found whole.');
    });
  const check = () =>
    attempt('checking', async () => {
      const found = await client.archive.checkBackups();
      setChecked(new Map(found.map(({ name, trouble }) => [name, trouble])));
      const spoilt = found.filter(({ trouble }) => trouble !== null).length;
      say(spoilt === 0 ? 'Every backup is whole.' : `${spoilt} of ${found.length} backups are damaged.`);
    });
  const shown = all ? backups : backups.slice(0, shownFirst);
  return (
    <section className="archive-part" aria-labelledby="archive-backups">
      <h3 id="archive-backups">Backups</h3>
      <p>
        A copy is made every hour in which something changed, and checked by opening it. Kept are the last day by hours,
        a fortnight by days and a quarter by weeks. They hold everything but the photographs, which are never changed.
      </p>
      <div className="actions">
        <Button onClick={() => void make()} disabled={busy !== null}>
          {busy === 'making' ? 'Copying …' : 'Back up now'}
        </Button>
        <Button look="quiet" onClick={() => void check()} disabled={busy !== null || backups.length === 0}>
          {busy === 'checking' ? 'Going through all of them …' : 'Check them all again'}
        </Button>
      </div>
      {error !== null && <TroubleNotice error={error} />}
      {backups.length === 0 ? (
        <p className="soft">There is none yet.</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways is reached by keyboard.
        <section className="table-scroll" aria-label="The backups there are" tabIndex={0}>
          <table className="table">
            <thead>
              <tr>
                <th scope="col">When</th>
                <th scope="col">Made</th>
                <th scope="col" className="number">
                  Size
                </th>
                <th scope="col">Checked</th>
                <th scope="col">
                  <span className="visually-hidden">Go back</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {shown.map((backup) => (
                <tr key={backup.name}>
                  <td>{momentWords(backup.takenAt, timeZone)}</td>
                  <td>{kindWords[backup.kind]}</td>
                  <td className="number">{sizeWords(backup.bytes)}</td>
                  <td>
                    <Soundness checked={checked} name={backup.name} />
                  </td>
                  <td>
                    <Button
                      look="quiet"
                      aria-label={`Go back to ${momentWords(backup.takenAt, timeZone)} …`}
                      onClick={() => setChosen(backup)}
                    >
                      Go back …
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      {backups.length > shownFirst && (
        <Button look="quiet" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? 'Show only the newest' : `Show all ${backups.length}`}
        </Button>
      )}
      {chosen !== null && <GoBack backup={chosen} onClose={() => setChosen(null)} />}
    </section>
  );
}

function Soundness({ checked, name }: Readonly<{ checked: Checked; name: string }>) {
  const trouble = checked.get(name);
  if (trouble === undefined) return <span className="soft">when it was made</span>;
  return trouble === null ? (
    <>
      <Mark kind="settled" /> whole just now
    </>
  ) : (
    <>
      <Mark kind="harm" /> damaged: {shortened(trouble)}
    </>
  );
}

function GoBack({ backup, onClose }: Readonly<{ backup: BackupLine; onClose: () => void }>) {
  const { timeZone } = useHabits();
  const queries = useQueryClient();
  const [going, setGoing] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const compared = useQuery({
    ...ask.archive.compare.queryOptions({ input: { name: backup.name } }),
    gcTime: 0,
    staleTime: Number.POSITIVE_INFINITY,
  });
  const when = momentWords(backup.takenAt, timeZone);
  async function go(): Promise<void> {
    setGoing(true);
    setError(null);
    try {
      const status = await client.archive.goBack({ name: backup.name });
      queries.setQueryData(ask.workshop.status.queryKey(), status);
      say(`The workshop is as it was on ${when}. What it was until now is the newest backup.`);
      onClose();
    } catch (thrown) {
      setError(thrown);
    } finally {
      setGoing(false);
      void queries.invalidateQueries();
    }
  }
  return (
    <Dialog title={`Go back to ${when}?`} onClose={onClose}>
      {compared.error !== null && <TroubleNotice error={compared.error} />}
      {compared.isPending && <p role="status">Looking what that would change …</p>}
      {compared.data !== undefined && <Changes compared={compared.data} />}
      {error !== null && <TroubleNotice error={error} />}
      <div className="actions">
        <Button look="main" onClick={() => void go()} disabled={going || compared.data === undefined}>
          {going ? 'Going back …' : 'Go back'}
        </Button>
        <Button onClick={onClose}>Stay as it is</Button>
      </div>
    </Dialog>
  );
}

function Changes({ compared }: Readonly<{ compared: Comparison }>) {
  const { books, tables, missingPhotographs } = compared;
  if (tables.length === 0) return <p>Nothing has changed since; going back would change nothing.</p>;
  return (
    <div className="archive-changes">
      <p>The state until now is kept as a backup first, so you can come back to it in the same way.</p>
      <Books one="comes back" many="come back" named={books.back} />
      <Books one="goes" many="go" named={books.gone} />
      <Books one="becomes as it was" many="become as they were" named={books.changed} />
      <details open={books.back.total + books.gone.total + books.changed.total === 0}>
        <summary>All that changes</summary>
        <ul>
          {tables.map(({ table, back, gone, changed }) => (
            <li key={table}>
              {[
                back > 0 ? `${rowsOf(table, back)} ${back === 1 ? 'comes' : 'come'} back` : '',
                gone > 0 ? `${rowsOf(table, gone)} ${gone === 1 ? 'goes' : 'go'}` : '',
                changed > 0
                  ? `${rowsOf(table, changed)} ${changed === 1 && table !== 'workshop' ? 'becomes' : 'become'} as before`
                  : '',
              ]
                .filter((words) => words !== '')
                .join('; ')}
            </li>
          ))}
        </ul>
      </details>
      {missingPhotographs > 0 && (
        <Notice kind="caution">
          <p>
            {missingPhotographs === 1 ? 'One photograph' : `${missingPhotographs} photographs`} of that time are no
            longer in the folder.
          </p>
        </Notice>
      )}
    </div>
  );
}

type BooksProps = Readonly<{ one: string; many: string; named: Comparison['books']['back'] }>;

function Books({ one, many, named }: BooksProps) {
  if (named.total === 0) return null;
  const rest = named.total - named.titles.length;
  return (
    <>
      <h3>{named.total === 1 ? `One book ${one}` : `${named.total} books ${many}`}</h3>
      <ul className="archive-books">
        {named.titles.map((title, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two books may have one title.
          <li key={index} className="book-title">
            {shortened(title)}
          </li>
        ))}
        {rest > 0 && <li>and {rest} more</li>}
      </ul>
    </>
  );
}
