/** How hard each copy is and why, and what to look for in the next lot. */
import type { Course } from '../../core/contract/course.ts';
import { addressOf } from '../app/route.ts';
import { useGathering } from './gathering.ts';

export function Lacking({ course }: Readonly<{ course: Course }>) {
  const { data } = useGathering(course.id);
  if (!data) return null;
  const titles = new Map(course.copies.map((copy) => [copy.bookId, copy]));
  const hard = data.hard.toSorted((one, other) => other.points - one.points);
  return (
    <div className="course-two">
      {data.lacking.length > 0 && (
        <div>
          <h3>To look for in the next lot</h3>
          <ul className="course-list">
            {data.lacking.map((one) => (
              <li key={one.operationId}>
                <span>{one.name}</span>
                <span className="number">
                  {one.copies} of {one.wanted}
                </span>
                <span />
                <span className="small">{one.lookFor}</span>
              </li>
            ))}
          </ul>
        </div>
      )}
      {hard.length > 0 && (
        <div>
          <h3>How hard each copy is, 1 to 5</h3>
          <ul className="course-list">
            {hard.map(({ bookId, points, reasons }) => (
              <li key={bookId}>
                <a className="course-title" href={addressOf('shelf', bookId)}>
                  {titles.get(bookId)?.title ?? ''}
                </a>
                <span className="number">{points} of 5</span>
                <span />
                <span className="small">{titles.get(bookId)?.blocked ?? `${reasons.join('; ')}.`}</span>
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}
