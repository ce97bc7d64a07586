/** A list of people taken in: what each row would be, and which are refused and why, before anything is kept. */
import { useState } from 'react';
import type { PeopleList } from '../../core/contract/course-people.ts';
import { listColumns } from '../../core/course/people-list.ts';
import { client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { readBase64 } from './gathering.ts';

export function TakePeople({ courseId, onClose }: Readonly<{ courseId: string; onClose: () => void }>) {
  const [looked, setLooked] = useState<Readonly<{ base64: string; list: PeopleList }> | null>(null);
  const [trouble, setTrouble] = useState<unknown>(null);
  const [leave, setLeave] = useState<readonly number[]>([]);
  const take = useChange(client.coursePeople.take, ({ taken }) => `${taken} taken in.`);

  async function look(file: File | undefined) {
    if (!file) return;
    setTrouble(null);
    setLooked(null);
    setLeave([]);
    try {
      const base64 = await readBase64(file);
      setLooked({ base64, list: await client.coursePeople.look({ courseId, base64 }) });
    } catch (error) {
      setTrouble(error);
    }
  }

  const chosen = looked === null ? 0 : looked.list.good - leave.length;
  return (
    <Dialog title="Take in a list of people" wide onClose={onClose}>
      <p className="soft">
        A table as CSV, its first row the headings: {listColumns.join(', ')}. Only Name must be there; lists within a
        cell are parted by semicolons.
      </p>
      <label className="field">
        <span className="field-name">The list</span>
        <input type="file" accept=".csv,.txt,text/csv" onChange={(event) => void look(event.target.files?.[0])} />
      </label>
      {trouble !== null && <TroubleNotice error={trouble} />}
      {take.error && <TroubleNotice error={take.error} />}
      {looked && (
        <>
          {looked.list.leftOut.length > 0 && (
            <p className="soft">Columns left out: {looked.list.leftOut.join(', ')}.</p>
          )}
          <div className="table-scroll">
            <table className="table">
              <thead>
                <tr>
                  <th className="number">Line</th>
                  <th>Take in</th>
                  <th>Name</th>
                  <th>Standing</th>
                  <th>Level</th>
                  <th>Eats, and must not</th>
                  <th>Must not touch</th>
                  <th>Needs</th>
                </tr>
              </thead>
              <tbody>
                {looked.list.rows.map(({ line, person, trouble: refused, remarks }) => (
                  <tr key={line}>
                    <td className="number">{line}</td>
                    {person === null ? (
                      <td colSpan={7}>
                        <Mark kind="harm" name="refused" /> {refused}
                      </td>
                    ) : (
                      <>
                        <td>
                          <input
                            type="checkbox"
                            aria-label={`Take in ${person.name}`}
                            checked={!leave.includes(line)}
                            onChange={(event) =>
                              setLeave(event.target.checked ? leave.filter((one) => one !== line) : [...leave, line])
                            }
                          />
                        </td>
                        <td>
                          {person.name}
                          {remarks.map((words) => (
                            <p key={words} className="soft small">
                              {words}
                            </p>
                          ))}
                        </td>
                        <td>{person.standing}</td>
                        <td>{person.level ?? 'newcomer, till told'}</td>
                        <td>
                          {[person.diet, ...person.foodAllergies.map((food) => `no ${food}`)]
                            .filter(Boolean)
                            .join(', ')}
                        </td>
                        <td>{person.allergies.join(', ')}</td>
                        <td>{person.needs.join(', ')}</td>
                      </>
                    )}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <div className="actions">
            <Button
              look="main"
              disabled={chosen === 0 || take.isPending}
              onClick={() =>
                take.mutate({ courseId, base64: looked.base64, leave: [...leave] }, { onSuccess: onClose })
              }
            >
              Take in {chosen} {chosen === 1 ? 'person' : 'people'}
            </Button>
            <Button onClick={onClose}>Leave it</Button>
          </div>
        </>
      )}
    </Dialog>
  );
}
