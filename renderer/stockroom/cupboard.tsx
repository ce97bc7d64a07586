/** The cupboard as a table: how long each material lasts as mark, words, figure and bar; arrows go through it, Enter opens one. */
import { type KeyboardEvent, useState } from 'react';
import type { Stock, StockLine } from '../../core/contract/stockroom.ts';
import { addressOf, goTo } from '../app/route.ts';
import { SelectField, TextField } from '../parts/controls.tsx';
import { Mark } from '../parts/notices.tsx';
import { coverShare, daysWords, markOf, quantityWords, standingWords, statesInOrder } from './words.ts';

type Sort = 'pressing' | 'name' | 'supplier' | 'place';

const orders: Readonly<Record<Sort, (line: StockLine) => string>> = {
  pressing: ({ cover, advice }) =>
    `${statesInOrder.indexOf(cover.state)} ${String(cover.days ?? 999).padStart(3, '0')} ${advice?.orderBy ?? '9'}`,
  name: () => '',
  supplier: ({ material }) => material.supplier,
  place: ({ material }) => material.place,
};

export function Cupboard({ stock, current }: Readonly<{ stock: Stock; current: string | null }>) {
  const [words, setWords] = useState('');
  const [sort, setSort] = useState<Sort>('pressing');
  const [active, setActive] = useState<string | null>(null);
  const shown = stock.lines
    .filter((line) => fits(line, words))
    .toSorted((one, other) => {
      const [a, b] = [orders[sort](one), orders[sort](other)];
      const byName = Number(named(other, words)) - Number(named(one, words));
      return byName || a.localeCompare(b) || one.material.name.localeCompare(other.material.name);
    });
  const entry = shown.some(({ material }) => material.id === (active ?? current)) ? (active ?? current) : null;

  function onKey(event: KeyboardEvent<HTMLTableSectionElement>): void {
    const at = shown.findIndex(({ material }) => material.id === (event.target as HTMLElement).dataset.material);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: shown.length - 1 }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    const next = shown[Math.max(0, Math.min(shown.length - 1, to))]!.material.id;
    setActive(next);
    document.querySelector<HTMLElement>(`[data-material="${next}"]`)?.focus();
    if (current !== null && current !== 'new') goTo('stockroom', next, true);
  }

  return (
    <>
      <div className="cupboard-tools">
        <TextField
          name="Find in the cupboard"
          type="search"
          value={words}
          placeholder="name, kind, place or supplier"
          onChange={(event) => setWords(event.target.value)}
        />
        <SelectField
          name="In order of"
          value={sort}
          onChange={(event) => setSort(event.target.value as Sort)}
          options={[
            { value: 'pressing', words: 'what runs out first' },
            { value: 'name', words: 'name' },
            { value: 'supplier', words: 'supplier' },
            { value: 'place', words: 'place' },
          ]}
        />
      </div>
      <table className="table cupboard">
        <thead>
          <tr>
            <th scope="col">Material</th>
            <th scope="col">Days of cover</th>
            <th scope="col" className="number">
              On hand
            </th>
            <th scope="col" className="number cupboard-wide">
              Promised
            </th>
            <th scope="col" className="number cupboard-wide">
              Arriving
            </th>
          </tr>
        </thead>
        <tbody onKeyDown={onKey}>
          {shown.map((line, index) => (
            <Row
              key={line.material.id}
              line={line}
              horizonDays={stock.horizonDays}
              open={line.material.id === current}
              tabbable={entry === null ? index === 0 : line.material.id === entry}
            />
          ))}
        </tbody>
      </table>
      {shown.length === 0 && <p className="soft cupboard-none">Nothing in the cupboard answers to “{words}”.</p>}
    </>
  );
}

type RowProps = Readonly<{ line: StockLine; horizonDays: number; open: boolean; tabbable: boolean }>;

function Row({ line, horizonDays, open, tabbable }: RowProps) {
  const { material, cover } = line;
  return (
    <tr className={open ? 'cupboard-open' : undefined}>
      <th scope="row">
        <a
          href={addressOf('stockroom', material.id)}
          data-material={material.id}
          tabIndex={tabbable ? 0 : -1}
          aria-current={open ? 'true' : undefined}
        >
          {material.name}
        </a>
        <span className="soft small cupboard-kind">{[material.kind, material.place].filter(Boolean).join(' · ')}</span>
      </th>
      <td>
        <span className={`standing standing-${cover.state}`}>
          <StandingMark line={line} />
          <strong>{daysWords(line, horizonDays)}</strong> <span className="standing-words">{standingWords(line)}</span>
        </span>
        <CoverBar line={line} horizonDays={horizonDays} />
        {line.substitutes.map(({ materialId, name, onHand, unit }) => (
          <span key={materialId} className="soft small would-do">
            {name} would do, {quantityWords(onHand, unit)} on hand
          </span>
        ))}
      </td>
      <td className="number">{quantityWords(line.onHand, material.unit)}</td>
      <td className="number cupboard-wide">{promisedWords(line)}</td>
      <td className="number cupboard-wide">
        {line.arriving > 0 ? quantityWords(line.arriving, material.unit) : <span className="soft">–</span>}
      </td>
    </tr>
  );
}

export function StandingMark({ line }: Readonly<{ line: Pick<StockLine, 'cover'> }>) {
  const kind = markOf[line.cover.state];
  return kind === null ? <span className="standing-none" aria-hidden="true" /> : <Mark kind={kind} />;
}

/** Cover over the horizon as an open bar filled from the left; the tick is the lead time, left of which an order comes too late. */
function CoverBar({ line, horizonDays }: Readonly<{ line: StockLine; horizonDays: number }>) {
  const share = coverShare(line, horizonDays);
  if (share === null) return null;
  const lead = Math.min(1, line.material.leadDays / horizonDays);
  return (
    <svg
      className={`cover-bar standing-${line.cover.state}`}
      viewBox="0 0 180 8"
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <rect className="cover-all" x="0.5" y="2.5" width="179" height="3" />
      <rect className="cover-days" x="0" y="2" width={Math.max(1.5, share * 180)} height="4" />
      <line className="cover-lead" x1={lead * 180} x2={lead * 180} y1="0" y2="8" />
    </svg>
  );
}

function promisedWords({ promised, material }: StockLine) {
  const parts = [
    ['week', promised.week],
    ['course', promised.course],
    ['agreed', promised.treatments],
  ] as const;
  const some = parts.filter(([, quantity]) => quantity > 0);
  if (some.length === 0) return <span className="soft">–</span>;
  return some.map(([name, quantity]) => (
    <span key={name} className="promised-part">
      <span className="soft small">{name}</span> {quantityWords(quantity, material.unit)}
    </span>
  ));
}

function fits({ material }: StockLine, words: string): boolean {
  return holds(`${material.name} ${material.kind} ${material.place} ${material.supplier} ${material.colour}`, words);
}

/** Who looks for paste wants the paste before whatever stands on the paste shelf. */
function named({ material }: StockLine, words: string): boolean {
  return holds(`${material.name} ${material.kind}`, words);
}

function holds(text: string, words: string): boolean {
  const lower = text.toLowerCase();
  return words
    .toLowerCase()
    .split(/\s+/)
    .every((word) => lower.includes(word));
}
