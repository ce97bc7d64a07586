/** The list itself: rows of one height in a window that stands still while the place in the list moves behind it. */

import {
  type CSSProperties,
  type KeyboardEvent,
  type MouseEvent,
  memo,
  type RefObject,
  useEffect,
  useRef,
  useState,
} from 'react';
import type { ShelfQuery, ShelfRow } from '../../core/contract/shelf.ts';
import type { ShelfColumn } from '../../core/contract/shelf-words.ts';
import { rangeWords } from '../../core/units/durations.ts';
import { client, readTrouble } from '../app/client.ts';
import { goTo } from '../app/route.ts';
import { say } from '../app/say.ts';
import { Mark } from '../parts/notices.tsx';
import { useSize } from '../parts/width.ts';
import { FateMark } from './fate-mark.tsx';
import type { Rows } from './rows.ts';
import { usualColumns } from './views.tsx';

const rowHeight = 48;

type Props = Readonly<{
  query: ShelfQuery;
  list: Rows;
  columns: readonly ShelfColumn[];
  current: string | null;
  marked: ReadonlySet<string>;
  onMarked: (marked: ReadonlySet<string>) => void;
  onType: (typed: string) => void;
  focusRef: RefObject<() => void>;
}>;

export function ShelfList({ query, list, columns, current, marked, onMarked, onType, focusRef }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const { height } = useSize(box);
  const total = list.total ?? 0;
  const [active, setActive] = useState(0);
  const [anchor, setAnchor] = useState(0);
  const { look, shown } = list;

  function lookHere(): void {
    const top = box.current?.scrollTop ?? 0;
    const from = Math.max(0, Math.floor(top / rowHeight));
    look(from, from + Math.ceil(Math.max(height, rowHeight) / rowHeight) + 1, top);
  }

  // biome-ignore lint/correctness/useExhaustiveDependencies: looks again when the window or the list changes size
  useEffect(lookHere, [height, total]);

  // Another question is read from its beginning.
  const asked = JSON.stringify(query);
  // biome-ignore lint/correctness/useExhaustiveDependencies: only when the question changes
  useEffect(() => {
    setActive(0);
    setAnchor(0);
    if (box.current) box.current.scrollTop = 0;
  }, [asked]);

  useEffect(() => {
    focusRef.current = () => box.current?.focus();
  }, [focusRef]);

  /** A book that was opened elsewhere is where the keys go on from. */
  const openAt = shown.rows.findIndex((row) => row.id === current);
  useEffect(() => {
    if (openAt >= 0) setActive(shown.from + openAt);
  }, [openAt, shown.from]);

  function moveTo(at: number, extend: boolean): void {
    const next = Math.max(0, Math.min(total - 1, at));
    setActive(next);
    bringIntoView(next);
    if (extend) markRange(anchor, next);
    else setAnchor(next);
    const row = list.ask(next, next + 1)[0];
    if (row !== undefined && current !== null && current !== 'new' && !extend) goTo('shelf', row.id, true);
  }

  function bringIntoView(at: number): void {
    const element = box.current;
    if (element === null) return;
    const top = at * rowHeight;
    if (top < element.scrollTop) element.scrollTop = top;
    else if (top + rowHeight > element.scrollTop + height) element.scrollTop = top + rowHeight - height;
  }

  function markRange(one: number, other: number): void {
    const rows = list.ask(Math.min(one, other), Math.max(one, other) + 1);
    onMarked(new Set([...marked, ...rows.map((row) => row.id)]));
  }

  function toggle(at: number): void {
    const id = list.ask(at, at + 1)[0]?.id;
    if (id === undefined) return;
    const next = new Set(marked);
    if (!next.delete(id)) next.add(id);
    onMarked(next);
    setAnchor(at);
  }

  async function markAll(): Promise<void> {
    try {
      onMarked(new Set(await client.shelf.ids({ ...query, limit: 20_000 })));
      if (total > 20_000) say('The first 20,000 books are marked; no more are changed at a time.');
    } catch (error) {
      say(readTrouble(error).sentence);
    }
  }

  function onKey(event: KeyboardEvent): void {
    const windowful = Math.max(1, Math.floor(height / rowHeight) - 1);
    const steps: Readonly<Record<string, number>> = {
      ArrowDown: active + 1,
      ArrowUp: active - 1,
      PageDown: active + windowful,
      PageUp: active - windowful,
      Home: 0,
      End: total - 1,
    };
    const step = steps[event.key];
    const plain = !event.ctrlKey && !event.metaKey && !event.altKey;
    if (step !== undefined && !event.altKey) moveTo(step, event.shiftKey);
    else if (event.key === 'Enter') open(active);
    else if (event.key === ' ' && plain) toggle(active);
    else if (event.key.toLowerCase() === 'a' && (event.ctrlKey || event.metaKey)) void markAll();
    else if (event.key === 'Escape' && marked.size > 0) onMarked(new Set());
    else if (plain && event.key.length === 1) onType(event.key);
    else return;
    event.preventDefault();
  }

  /** On a row: opens it; on its rank, or with Ctrl, marks it; with Shift marks all from the last one on. */
  function onClick(event: MouseEvent): void {
    const target = event.target as Element;
    const place = Number(target.closest<HTMLElement>('[data-at]')?.dataset.at ?? Number.NaN);
    if (Number.isNaN(place)) return;
    setActive(place);
    if (event.shiftKey) markRange(anchor, place);
    else if (event.ctrlKey || event.metaKey || target.closest('.row-rank') !== null) toggle(place);
    else {
      setAnchor(place);
      open(place);
    }
  }

  function open(at: number): void {
    const row = list.ask(at, at + 1)[0];
    if (row !== undefined) goTo('shelf', row.id);
  }

  const ids = list.total === null ? '' : `row-${active}`;
  const inView = active >= shown.from && active < shown.from + shown.rows.length;
  return (
    <div className="list" style={widthsOf(columns)}>
      <div className="list-head" aria-hidden="true">
        <span className="number">Rank</span>
        <span>Book</span>
        {columns.map((column) => (
          <span key={column} className={columnLooks[column]}>
            {column === 'why here' ? 'Why here' : `${column.charAt(0).toUpperCase()}${column.slice(1)}`}
          </span>
        ))}
      </div>
      {list.total === 0 && <p className="list-none">No book answers this. Take away a word or a filter.</p>}
      <div
        ref={box}
        className="list-box"
        role="listbox"
        aria-label={`Books, ${query.sort === 'attention' ? 'in the order they deserve attention' : `by ${query.sort}`}`}
        aria-multiselectable="true"
        aria-activedescendant={inView ? ids : undefined}
        aria-busy={list.waiting}
        tabIndex={0}
        onScroll={lookHere}
        onClick={onClick}
        onKeyDown={onKey}
      >
        <div className="list-length" style={{ height: total * rowHeight }}>
          <div className="list-window">
            <div
              className="list-rows"
              data-from={shown.from}
              style={{ transform: `translateY(${shown.from * rowHeight - shown.scrollTop}px)` }}
            >
              {shown.rows.map((row, at) => (
                <Row
                  key={row.id}
                  row={row}
                  columns={columns}
                  at={shown.from + at}
                  total={total}
                  active={shown.from + at === active}
                  current={row.id === current}
                  marked={marked.has(row.id)}
                />
              ))}
            </div>
          </div>
        </div>
      </div>
    </div>
  );
}

type RowProps = Readonly<{
  row: ShelfRow;
  columns: readonly ShelfColumn[];
  at: number;
  total: number;
  active: boolean;
  current: boolean;
  marked: boolean;
}>;

const Row = memo(function Row({ row, columns, at, total, active, current, marked }: RowProps) {
  const about = [row.author, row.dateText, row.binding, row.colour].filter(Boolean).join(' · ');
  const looks = ['row', active && 'row-active', current && 'row-current', marked && 'row-marked'].filter(Boolean);
  return (
    <div
      id={`row-${at}`}
      className={looks.join(' ')}
      role="option"
      tabIndex={-1}
      aria-selected={marked}
      aria-current={current}
      aria-setsize={total}
      aria-posinset={at + 1}
      data-at={at}
    >
      <span className="row-rank number">
        <svg className="row-box" viewBox="0 0 12 12" aria-hidden="true">
          <path d={marked ? 'M1 1H11V11H1ZM3 6.2 5.2 8.5 9 3.6' : 'M1 1H11V11H1Z'} />
        </svg>
        {at + 1}
      </span>
      <span className="row-book">
        <span className="row-title">
          {row.hazardOpen && <Mark kind="caution" name="Hazard undecided:" />} {row.title}
        </span>
        <span className="row-about">
          {row.shelfMark !== null && <b>{row.shelfMark}</b>} {about}
          {row.place !== '' && ` · ${row.place}`}
        </span>
        <span className="row-reason">
          {row.shelfMark !== null && <b>{row.shelfMark}</b>} <span className="row-stands">{row.stage} · </span>
          {row.reason}
        </span>
      </span>
      {columns.map((column) => (
        <span key={column} className={column === 'why here' ? 'list-why row-why' : columnLooks[column]}>
          <Cell row={row} column={column} />
        </span>
      ))}
    </div>
  );
});

/** Column widths for the grid; the usual four are left to the style sheet, which knows how they give way in a narrow window. */
function widthsOf(columns: readonly ShelfColumn[]): CSSProperties | undefined {
  if (columns.join() === usualColumns.join()) return undefined;
  const widths = ['4.25rem', 'minmax(10rem, 1fr)', ...columns.map((column) => columnWidths[column])];
  return { '--list-columns': widths.join(' ') } as CSSProperties;
}

/** The looks of each column; the usual ones give way in a narrow window. */
const columnLooks: Readonly<Record<ShelfColumn, string>> = {
  'why here': 'list-why',
  'hand-work': 'list-hours number',
  fate: 'list-fate',
  stands: 'list-stage',
  place: 'list-more',
  date: 'list-more',
  binding: 'list-more',
};
const columnWidths: Readonly<Record<ShelfColumn, string>> = {
  'why here': 'minmax(0, 17rem)',
  'hand-work': '8.75rem',
  fate: '7.25rem',
  stands: '5.25rem',
  place: 'minmax(0, 10rem)',
  date: '5rem',
  binding: '7rem',
};

function Cell({ row, column }: Readonly<{ row: ShelfRow; column: ShelfColumn }>) {
  if (column === 'why here') return row.reason;
  if (column === 'hand-work') return <HandWork row={row} />;
  if (column === 'fate') return <FateOf row={row} />;
  if (column === 'stands') return row.stage;
  return column === 'place' ? row.place : column === 'date' ? row.dateText : (row.binding ?? '');
}

function HandWork({ row }: Readonly<{ row: ShelfRow }>) {
  if (!row.surveyed) return <span className="soft">not known yet</span>;
  if (row.minutes.likely === 0) return <span className="soft">none</span>;
  return rangeWords(row.minutes.low, row.minutes.high);
}

function FateOf({ row }: Readonly<{ row: ShelfRow }>) {
  if (row.fate === null && !row.surveyed) return <span className="soft">survey first</span>;
  if (row.fate === null && row.hazardOpen) return <span className="soft">look first</span>;
  return (
    <>
      <FateMark fate={row.fate ?? row.suggestedFate} />{' '}
      {row.fate === null ? <span className="soft">{row.suggestedFate}?</span> : row.fate}
    </>
  );
}
