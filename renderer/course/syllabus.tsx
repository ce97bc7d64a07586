/** What is taught: operations of the bench, what everybody must meet, how long each is shown, and how many copies teach it. */
import type { Course } from '../../core/contract/course.ts';
import { client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { useOperations } from '../parts/operations.ts';
import { SavedText } from '../parts/saved.tsx';

type Item = Readonly<{ operationId: string; required: boolean; demonstrationMinutes: number }>;

/** A short showing. Common practice, no source. */
const usualMinutes = 20;

export function Syllabus({ course }: Readonly<{ course: Course }>) {
  const operations = useOperations();
  const save = useChange(client.course.setSyllabus);
  const chosen = new Map(course.syllabus.map((item) => [item.operationId, item]));
  const people = course.people.filter((one) => one.standing === 'confirmed').length;
  const items: readonly Item[] = course.syllabus.map(({ operationId, required, demonstrationMinutes }) => ({
    operationId,
    required,
    demonstrationMinutes,
  }));
  const set = (next: readonly Item[]) => save.mutateAsync({ courseId: course.id, items: [...next] });
  const change = (operationId: string, patch: Partial<Item>) =>
    set(items.map((item) => (item.operationId === operationId ? { ...item, ...patch } : item)));
  const teaching = (id: string) =>
    course.copies.filter((copy) => copy.blocked === null && copy.teaches.includes(id)).length;
  const rest = operations.filter(({ id }) => !chosen.has(id)).map((one) => ({ ...one, copies: teaching(one.id) }));

  return (
    <section aria-label="Syllabus">
      {save.error && <TroubleNotice error={save.error} />}
      <div className="course-two">
        <div className="table-scroll">
          <h3>On the syllabus</h3>
          {items.length === 0 && <p className="soft">Nothing yet. Take operations from the list beside.</p>}
          {items.length > 0 && (
            <table className="table">
              <thead>
                <tr>
                  <th>Operation</th>
                  <th>Everybody</th>
                  <th>Shown for</th>
                  <th className="number">Copies</th>
                  <th>
                    <span className="visually-hidden">Take off</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {course.syllabus.map((item) => (
                  <tr key={item.operationId}>
                    <td>
                      {item.name} <span className="soft">({item.level})</span>
                    </td>
                    <td>
                      <input
                        type="checkbox"
                        aria-label={`Everybody must meet ${item.name}`}
                        checked={item.required}
                        onChange={(event) => void change(item.operationId, { required: event.target.checked })}
                      />
                    </td>
                    <td>
                      <SavedText
                        className="course-minutes"
                        name={`Minutes ${item.operationId} is shown`}
                        value={String(item.demonstrationMinutes)}
                        keep={(text) => change(item.operationId, { demonstrationMinutes: Number(text || 'none') })}
                      />
                    </td>
                    <td className="number">
                      {item.required && item.copies < people && <Mark kind="caution" name="fewer copies than people" />}{' '}
                      {item.copies}
                    </td>
                    <td>
                      <button
                        type="button"
                        className="button button-quiet"
                        aria-label={`Take off: ${item.name}`}
                        onClick={() => void set(items.filter((one) => one.operationId !== item.operationId))}
                      >
                        Take off
                      </button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
        </div>
        <div>
          <h3>Other operations of this bench</h3>
          <ul className="course-list">
            {rest
              .toSorted((one, other) => other.copies - one.copies)
              .map((one) => (
                <li key={one.id}>
                  <span>
                    {one.name} <span className="soft">({one.level})</span>
                  </span>
                  <span className="soft number">{copiesWords(one.copies)}</span>
                  <button
                    type="button"
                    className="button"
                    aria-label={`Put on: ${one.name}`}
                    onClick={() =>
                      void set([...items, { operationId: one.id, required: false, demonstrationMinutes: usualMinutes }])
                    }
                  >
                    Put on
                  </button>
                </li>
              ))}
          </ul>
        </div>
      </div>
    </section>
  );
}

function copiesWords(copies: number): string {
  if (copies === 0) return '';
  return copies === 1 ? '1 copy' : `${copies} copies`;
}
