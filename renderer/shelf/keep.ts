/** Changes to the open book: the answer is the book as it now is, and everything else shown is asked again. */
import { useQueryClient } from '@tanstack/react-query';
import type { BookOpened, BookPatch } from '../../core/contract/shelf.ts';
import { ask, client } from '../app/client.ts';

/** Puts the answer of a change in the open book's place at once. Throws what the change threw. */
export function useAnswer() {
  const queries = useQueryClient();
  return async (asked: Promise<BookOpened>): Promise<BookOpened> => {
    const opened = await asked;
    const { queryKey } = ask.shelf.book.queryOptions({ input: { id: opened.book.id } });
    queries.setQueryData(queryKey, opened);
    void queries.invalidateQueries({
      predicate: (query) => JSON.stringify(query.queryKey) !== JSON.stringify(queryKey),
    });
    return opened;
  };
}

export function useKeep(id: string): (patch: BookPatch) => Promise<BookOpened> {
  const answer = useAnswer();
  return (patch) => answer(client.shelf.save({ id, patch }));
}
