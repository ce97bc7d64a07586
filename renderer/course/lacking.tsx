/** How hard a copy is and why, and what to look for in the next lot. */
import { useGathering } from './gathering.ts';

export function Lacking({ courseId }: Readonly<{ courseId: string }>) {
  const { data } = useGathering(courseId);
  if (!data || data.lacking.length === 0) return null;
  return (
    <details className="course-lacking">
      <summary>
        To look for in the next lot: copies for {data.lacking.length}{' '}
        {data.lacking.length === 1 ? 'operation' : 'operations'}
      </summary>
      <ul className="course-list">
        {data.lacking.map((one) => (
          <li key={one.operationId}>
            <span>{one.name}</span>
            <span className="number">
              {one.copies} of {one.wanted}
            </span>
            <span className="small">{one.lookFor}</span>
          </li>
        ))}
      </ul>
    </details>
  );
}

/** "3 of 5", with its reasons; nothing until it is known. */
export function Hardness({ courseId, bookId }: Readonly<{ courseId: string; bookId: string }>) {
  const { data } = useGathering(courseId);
  const hard = data?.hard.find((one) => one.bookId === bookId);
  if (!hard) return null;
  return (
    <span className="course-where">
      {hard.points} of 5: {hard.reasons.join('; ')}
    </span>
  );
}
