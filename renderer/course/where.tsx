/** Where a copy is to be fetched from. */
import type { CopyLine } from '../../core/contract/course.ts';

type Placed = Pick<CopyLine, 'shelfMark' | 'place'>;

/** "B.12, Loft › Shelf 3"; empty where neither mark nor place is kept. */
export function whereWords({ shelfMark, place }: Placed): string {
  return [shelfMark ?? '', place].filter((word) => word !== '').join(', ');
}

export function Where({ copy }: Readonly<{ copy: Placed }>) {
  const words = whereWords(copy);
  return words === '' ? null : <span className="course-where">{words}</span>;
}
