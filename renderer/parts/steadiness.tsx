/** How far the order of the shelf hangs on the exact weights: for the whole list, and for one book. */
import { useQuery } from '@tanstack/react-query';
import { ask } from '../app/client.ts';
import './steadiness.css';

/** A sentence beside the weights. */
export function Steadiness() {
  const { data } = useQuery(ask.shelf.steadiness.queryOptions({ input: { id: null } }));
  if (data === undefined || data.books < 2) return null;
  return (
    <p role="status" className="steadiness">
      {Math.round(data.kept * 100)} % of neighbours on the shelf keep their order when every weight moves by up to 20 %
      either way.
    </p>
  );
}

/** The ranks between which a book stays. */
export function RankRange({ id }: Readonly<{ id: string }>) {
  const { data } = useQuery(ask.shelf.steadiness.queryOptions({ input: { id } }));
  if (data?.range == null) return null;
  const { best, worst } = data.range;
  return (
    <p className="small soft">
      {best === worst
        ? `It stays in place ${best.toLocaleString('en')} when every weight moves by up to 20 % either way.`
        : `With every weight up to 20 % more or less it stays between places ${best.toLocaleString('en')} and ${worst.toLocaleString('en')}.`}
    </p>
  );
}
