/**
 * The rows of a list far too long to hold: stretches of it are asked for as they come into view, and what was shown stays shown until what
 * is to replace it has come, so that the list is never blank.
 */
import { keepPreviousData, useQueries, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { ShelfPage, ShelfQuery, ShelfRow } from '../../core/contract/shelf.ts';
import { ask } from '../app/client.ts';

/** Rows in one stretch: a few windows full. */
const stretch = 100;
/** So near to its edge, the next one is asked for. */
const margin = 40;

export type Rows = Readonly<{
  /** Null until the first answer. */
  total: number | null;
  /** The rows to draw now; they may be of a moment ago while `waiting`. */
  shown: Readonly<{ from: number; rows: readonly ShelfRow[]; scrollTop: number }>;
  waiting: boolean;
  error: unknown;
  /** Says which rows are in view, and how far the list is scrolled for that. */
  look: (from: number, to: number, scrollTop: number) => void;
  /** Rows that have come already, from one place on, up to the first that has not. */
  ask: (from: number, to: number) => readonly ShelfRow[];
}>;

type Window = Readonly<{ from: number; to: number; scrollTop: number }>;

export function useRows(query: ShelfQuery): Rows {
  const queries = useQueryClient();
  const [view, setView] = useState<Window>({ from: 0, to: 30, scrollTop: 0 });
  const first = useQuery({ ...pageOptions(query, 0), placeholderData: keepPreviousData });
  const total = first.data?.total ?? null;

  const pages = pagesOf(view, total);
  const answers = useQueries({ queries: pages.map((page) => pageOptions(query, page)) });
  const held = new Map<number, ShelfPage>();
  for (const [at, page] of pages.entries()) {
    const answer = answers[at]?.data;
    if (answer !== undefined) held.set(page, answer);
  }

  function rowsFrom(from: number, to: number): ShelfRow[] {
    const rows: ShelfRow[] = [];
    for (let at = from; at < to; at++) {
      const page = Math.floor(at / stretch);
      const known = held.get(page) ?? queries.getQueryData<ShelfPage>(pageOptions(query, page).queryKey);
      const row = known?.rows[at - page * stretch];
      if (row === undefined) break;
      rows.push(row);
    }
    return rows;
  }

  const to = Math.min(view.to, total ?? 0);
  const wanted = rowsFrom(view.from, to);
  const complete = total !== null && !first.isPlaceholderData && wanted.length === Math.max(0, to - view.from);
  const lastShown = useRef<Rows['shown']>({ from: 0, rows: [], scrollTop: 0 });
  const shown = complete ? { from: view.from, rows: wanted, scrollTop: view.scrollTop } : lastShown.current;
  useEffect(() => {
    lastShown.current = shown;
  });

  // The next stretch either way, shortly before it is wanted.
  const before = Math.floor((view.from - margin) / stretch);
  const after = Math.floor((view.to + margin) / stretch);
  useEffect(() => {
    for (const page of [before, after]) {
      if (page > 0 && page * stretch < (total ?? 0)) void queries.prefetchQuery(pageOptions(query, page));
    }
  }, [queries, query, total, before, after]);

  return {
    total,
    shown,
    waiting: !complete,
    error: first.error,
    look: (from, next, scrollTop) =>
      setView((before) =>
        before.from === from && before.to === next && before.scrollTop === scrollTop
          ? before
          : { from, to: next, scrollTop },
      ),
    ask: rowsFrom,
  };
}

function pageOptions(query: ShelfQuery, page: number) {
  const input = { ...query, offset: page * stretch, limit: stretch };
  return { ...ask.shelf.list.queryOptions({ input }), gcTime: 60_000, staleTime: 60_000 };
}

function pagesOf({ from, to }: Window, total: number | null): readonly number[] {
  const first = Math.floor(from / stretch);
  const last = Math.floor(Math.max(from, Math.min(to, total ?? to) - 1) / stretch);
  return Array.from({ length: last - first + 1 }, (_, at) => first + at);
}
