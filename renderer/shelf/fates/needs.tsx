/** What the course needs: copies by operation and level, from its syllabus and people, for a person to change. */
import { useState } from 'react';
import { type Level, levels } from '../../../core/book/book.ts';
import type { FatesStart, Need } from '../../../core/contract/fates.ts';
import { Button, SelectField } from '../../parts/controls.tsx';
import { useOperations } from '../../parts/operations.ts';

type Props = Readonly<{
  needs: readonly Need[];
  courses: FatesStart['courses'];
  onNeeds: (needs: readonly Need[]) => void;
}>;

export function Needs({ needs, courses, onNeeds }: Props) {
  const operations = useOperations();
  const [chosen, setOperation] = useState<string>('');
  const operation = chosen === '' ? (operations[0]?.id ?? '') : chosen;
  const names = new Map(operations.map(({ id, name }) => [id, name]));
  const [level, setLevel] = useState<Level>('newcomer');
  const total = needs.reduce((sum, { copies }) => sum + copies, 0);
  const set = (at: number, copies: number) =>
    onNeeds(needs.map((need, place) => (place === at ? { ...need, copies } : need)));
  return (
    <section aria-labelledby="weighing-needs">
      <h2 id="weighing-needs">Copies the course wants</h2>
      {courses.length === 0 ? (
        <p className="soft">No course is still to come. Add what another needs, or leave this empty.</p>
      ) : (
        <p className="soft">
          {courses
            .map(({ title, people }) =>
              people === 0
                ? `${title}: nobody has asked yet, so one copy for each operation`
                : `${title}: for ${people} ${people === 1 ? 'person' : 'people'}, less the copies it has`,
            )
            .join('; ')}
          .
        </p>
      )}
      <details open={needs.length > 0 && needs.length <= 6}>
        <summary>
          {needs.length === 0
            ? 'Nothing wanted'
            : `${total} places on ${needs.length === 1 ? 'one operation' : `${needs.length} operations and levels`}; one copy can fill several`}
        </summary>
        <ul className="weighing-needs">
          {needs.map((need, at) => (
            <li key={`${need.operationId}|${need.level}`}>
              <span>
                {names.get(need.operationId) ?? need.operationId} <span className="soft">({need.level})</span>
              </span>
              <input
                type="number"
                min={0}
                max={200}
                aria-label={`Copies for ${need.operationId}, ${need.level}`}
                value={need.copies}
                onChange={(event) => set(at, Math.min(200, Math.max(0, Math.round(Number(event.target.value) || 0))))}
              />
              <Button
                look="quiet"
                aria-label={`Take off ${need.operationId}, ${need.level}`}
                onClick={() => onNeeds(needs.filter((_, place) => place !== at))}
              >
                Take off
              </Button>
            </li>
          ))}
        </ul>
        <div className="weighing-add">
          <SelectField
            name="Operation"
            value={operation}
            options={operations.map(({ id, name }) => ({ value: id, words: name }))}
            onChange={(event) => setOperation(event.target.value)}
          />
          <SelectField
            name="Level"
            value={level}
            options={levels.map((word) => ({ value: word, words: word }))}
            onChange={(event) => setLevel(event.target.value as Level)}
          />
          <Button
            disabled={needs.some((need) => need.operationId === operation && need.level === level)}
            onClick={() => onNeeds([...needs, { operationId: operation, level, copies: 1 }])}
          >
            Add
          </Button>
        </div>
      </details>
    </section>
  );
}
