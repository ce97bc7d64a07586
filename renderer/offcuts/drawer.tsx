/** Everything in the drawer, drawn to one scale; what is searched for, and the piece that is open. */
import { useQuery } from '@tanstack/react-query';
import { useDeferredValue, useState } from 'react';
import type { PieceLine } from '../../core/contract/offcuts.ts';
import { pieceKinds } from '../../core/salvage/piece.ts';
import { ask } from '../app/client.ts';
import { addressOf, goTo } from '../app/route.ts';
import { Beside } from '../parts/beside.tsx';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { EmptyRoom, Mark, TroubleNotice } from '../parts/notices.tsx';
import { OffcutsHead } from './head.tsx';
import { NewPiece } from './piece-form.tsx';
import { PiecePane } from './piece-pane.tsx';
import { Swatch } from './swatch.tsx';
import { useLengths, yearsWords } from './words.ts';

type Filter = Readonly<{ words: string; kind: string; standing: string; high: string; wide: string; sort: string }>;

const nothing: Filter = { words: '', kind: '', standing: 'free', high: '', wide: '', sort: 'newest' };

export function Drawer({ current }: Readonly<{ current: string | null }>) {
  const drawer = useQuery(ask.offcuts.drawer.queryOptions());
  const [filter, setFilter] = useState(nothing);
  const asked = useDeferredValue(filter);
  if (drawer.error) return <TroubleNotice error={drawer.error} again={() => void drawer.refetch()} />;
  if (!drawer.data) return null;
  const shown = sorted(
    drawer.data.filter((piece) => answers(piece, asked)),
    asked.sort,
  );
  const details = current === null ? null : current === 'new' ? <NewPiece /> : <PiecePane key={current} id={current} />;
  const free = drawer.data.filter((piece) => piece.usedAt === null).length;
  return (
    <Beside details={details} label={current === 'new' ? 'A new piece' : 'The piece'}>
      <div className="offcuts">
        <OffcutsHead view={null}>
          <Button onClick={() => goTo('offcuts', 'new')}>Put in a piece</Button>
        </OffcutsHead>
        {drawer.data.length === 0 ? (
          <EmptyDrawer />
        ) : (
          <>
            <Filters filter={filter} onFilter={setFilter} />
            <p className="soft" role="status">
              {shown.length} of {drawer.data.length} pieces; {free} in the drawer
            </p>
            <ul className="pieces">
              {shown.map((piece) => (
                <PieceCard key={piece.id} piece={piece} current={piece.id === current} />
              ))}
            </ul>
          </>
        )}
      </div>
    </Beside>
  );
}

function EmptyDrawer() {
  return (
    <EmptyRoom title="The drawer is empty">
      <p>
        Here the salvaged cloth and papers will lie by colour, pattern, date and size, each with the books it would
        suit. A wreck on the Shelf that is marked for salvage can be broken for its pieces, or a piece put in by hand.
      </p>
      <div className="actions">
        <Button look="main" onClick={() => goTo('offcuts', 'wrecks')}>
          Break a wreck
        </Button>
        <Button onClick={() => goTo('offcuts', 'new')}>Put in a piece</Button>
      </div>
    </EmptyRoom>
  );
}

function Filters({ filter, onFilter }: Readonly<{ filter: Filter; onFilter: (filter: Filter) => void }>) {
  const set = (key: keyof Filter) => (event: { target: { value: string } }) =>
    onFilter({ ...filter, [key]: event.target.value });
  return (
    <div className="fields offcuts-filters">
      <TextField name="Find" placeholder="colour, pattern, donor, place" value={filter.words} onChange={set('words')} />
      <SelectField
        name="Kind"
        value={filter.kind}
        onChange={set('kind')}
        options={[{ value: '', words: 'every kind' }, ...pieceKinds.map((value) => ({ value, words: value }))]}
      />
      <TextField name="At least high, mm" inputMode="decimal" value={filter.high} onChange={set('high')} />
      <TextField name="At least wide, mm" inputMode="decimal" value={filter.wide} onChange={set('wide')} />
      <SelectField
        name="Standing"
        value={filter.standing}
        onChange={set('standing')}
        options={[
          { value: 'free', words: 'in the drawer' },
          { value: 'kept', words: 'kept for a book' },
          { value: 'used', words: 'used' },
          { value: '', words: 'all' },
        ]}
      />
      <SelectField
        name="In order of"
        value={filter.sort}
        onChange={set('sort')}
        options={['newest', 'colour', 'date', 'size'].map((value) => ({ value, words: value }))}
      />
    </div>
  );
}

function answers(piece: PieceLine, { words, kind, standing, high, wide }: Filter): boolean {
  if (kind !== '' && piece.kind !== kind) return false;
  if (standing === 'free' && piece.usedAt !== null) return false;
  if (standing === 'kept' && (piece.reservedFor === null || piece.usedAt !== null)) return false;
  if (standing === 'used' && piece.usedAt === null) return false;
  if (Number(high) > piece.heightMm || Number(wide) > piece.widthMm) return false;
  const text = [piece.name, piece.place, piece.note, piece.donor?.title, piece.donor?.shelfMark, yearsWords(piece)]
    .join(' ')
    .toLowerCase();
  return words
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}

function sorted(pieces: readonly PieceLine[], by: string): readonly PieceLine[] {
  const hue = ({ shownLab }: PieceLine) => (shownLab ? Math.atan2(shownLab[2], shownLab[1]) : 9);
  if (by === 'colour') return pieces.toSorted((a, b) => hue(a) - hue(b));
  if (by === 'date') return pieces.toSorted((a, b) => (a.yearFrom ?? 9999) - (b.yearFrom ?? 9999));
  if (by === 'size') return pieces.toSorted((a, b) => b.heightMm * b.widthMm - a.heightMm * a.widthMm);
  return pieces;
}

function PieceCard({ piece, current }: Readonly<{ piece: PieceLine; current: boolean }>) {
  const words = useLengths();
  return (
    <li className={current ? 'piece piece-current' : 'piece'}>
      <a href={addressOf('offcuts', piece.id)} aria-current={current ? 'true' : undefined}>
        <span className="piece-picture">
          <Swatch piece={piece} scale={0.36} most={130} />
        </span>
        <span className="piece-name">
          {[piece.colour, piece.pattern].filter(Boolean).join(' ') || 'no colour noted'}
        </span>
        <span className="piece-kind">
          {piece.kind} {yearsWords(piece)}
        </span>
        <span>
          {words(piece.heightMm)} × {words(piece.widthMm)}
        </span>
        {piece.usedAt !== null ? (
          <span className="piece-kind">
            <Mark kind="settled" /> used
          </span>
        ) : (
          piece.reservedFor && (
            <span className="piece-kind">
              <Mark kind="waiting" /> kept for {piece.reservedFor.title}
            </span>
          )
        )}
      </a>
    </li>
  );
}
