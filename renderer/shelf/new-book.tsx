/** A new book in one line of keys. Lot, place and format stay for the next one. */

import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { type FormEvent, useRef, useState } from 'react';
import { type Binding, bindings } from '../../core/book/book.ts';
import { readSize } from '../../core/units/lengths.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { say } from '../app/say.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Mark } from '../parts/notices.tsx';
import { shortened } from '../parts/words.ts';
import { Close } from './book-pane.tsx';
import './book-pane.css';
import { useAnswer } from './keep.ts';
import { clothWords, formatWords } from './known-words.ts';

type Typed = Readonly<
  Record<
    'title' | 'author' | 'dateText' | 'size' | 'binding' | 'colour' | 'shelfMark' | 'format' | 'lot' | 'place',
    string
  >
>;

const blank: Typed = {
  title: '',
  author: '',
  dateText: '',
  size: '',
  binding: '',
  colour: '',
  shelfMark: '',
  format: '',
  lot: '',
  place: '',
};

/** What the last book leaves for the next, for as long as the page is open. */
let carried: Pick<Typed, 'format' | 'lot' | 'place'> = { format: '', lot: '', place: '' };

export function NewBook() {
  const { units } = useHabits();
  const answer = useAnswer();
  const [typed, setTyped] = useState<Typed>({ ...blank, ...carried });
  const [trouble, setTrouble] = useState<Readonly<{ field: string; sentence: string }> | null>(null);
  const [last, setLast] = useState<Readonly<{ id: string; title: string }> | null>(null);
  const title = useRef<HTMLDivElement>(null);

  async function put(event: FormEvent): Promise<void> {
    event.preventDefault();
    const size = typed.size.trim() === '' ? null : readSize(typed.size, { defaultUnit: units });
    if (size?.ok === false) return setTrouble({ field: 'size', sentence: size.refusal.sentence });
    const { size: _, binding, shelfMark, ...same } = typed;
    try {
      const made = await answer(
        client.shelf.create({
          ...same,
          shelfMark: shelfMark.trim() === '' ? null : shelfMark,
          binding: binding === '' ? null : (binding as Binding),
          ...(size?.ok && { heightMm: size.value.heightMm, widthMm: size.value.widthMm }),
          ...(size?.ok && size.value.thicknessMm !== undefined && { thicknessMm: size.value.thicknessMm }),
        }),
      );
      carried = { format: typed.format, lot: typed.lot, place: typed.place };
      setTyped({ ...blank, ...carried });
      setTrouble(null);
      setLast({ id: made.book.id, title: made.book.title });
      say(`“${shortened(made.book.title)}” is on the shelf.`);
      title.current?.querySelector('input')?.focus();
    } catch (error) {
      const { sentence, field } = readTrouble(error);
      setTrouble({ sentence, field: field ?? 'title' });
    }
  }

  function field(name: keyof Typed) {
    return {
      value: typed[name],
      autoComplete: 'off',
      trouble: trouble !== null && fieldOf(trouble.field) === name ? trouble.sentence : undefined,
      onChange: (event: { target: { value: string } }) => setTyped({ ...typed, [name]: event.target.value }),
    };
  }

  const { data: lots } = useQuery(ask.shelf.lots.queryOptions());
  const { data: places } = useQuery(ask.shelf.places.queryOptions());
  return (
    <form className="pane" onSubmit={put}>
      <header className="pane-head">
        <div className="pane-top">
          <span className="soft small">Enter keeps the book and begins the next</span>
          <Close />
        </div>
        <h2>A new book</h2>
      </header>
      <section className="pane-part">
        <div ref={title} className="new-title">
          <TextField name="Title" autoFocus {...field('title')} />
        </div>
        <Alike title={typed.title} />
        <div className="fields">
          <TextField name="Author" {...field('author')} />
          <TextField name="Date" placeholder="1868, c. 1850, MDCCCLII" {...field('dateText')} />
          <TextField
            name="Height × width × thickness"
            placeholder={units === 'mm' ? '190 x 125 x 32' : '7 1/2 x 5 x 1 1/4'}
            {...field('size')}
          />
          <SelectField
            name="Binding"
            options={[{ value: '', words: 'not described' }, ...bindings.map((value) => ({ value, words: value }))]}
            {...field('binding')}
          />
          <TextField name="Colour" list="new-colours" {...field('colour')} />
          <TextField name="Shelf mark" {...field('shelfMark')} />
        </div>
        <h3>Carried over from book to book</h3>
        <div className="fields">
          <TextField name="Format" list="new-formats" {...field('format')} />
          <TextField name="Lot" list="new-lots" {...field('lot')} />
          <TextField name="Place" list="new-places" {...field('place')} />
        </div>
        <Known id="new-colours" words={clothWords} />
        <Known id="new-formats" words={formatWords} />
        <Known id="new-lots" words={lots?.map(({ name }) => name) ?? []} />
        <Known id="new-places" words={places?.map(({ name }) => name) ?? []} />
        <div className="actions new-keep">
          <Button look="main" type="submit">
            Put it on the shelf
          </Button>
          {last !== null && (
            <span>
              <Mark kind="settled" /> <a href={addressOf('shelf', last.id)}>{shortened(last.title)}</a> is on the shelf;
              survey it now or type the next.
            </span>
          )}
        </div>
      </section>
    </form>
  );
}

function Known({ id, words }: Readonly<{ id: string; words: readonly string[] }>) {
  return (
    <datalist id={id}>
      {words.map((word) => (
        <option key={word} value={word} />
      ))}
    </datalist>
  );
}

/** Books that may be the same one, so that none is put in twice unseen. */
function Alike({ title }: Readonly<{ title: string }>) {
  const words = title.trim();
  const { data } = useQuery({
    ...ask.shelf.list.queryOptions({ input: { words, filter: {}, sort: 'attention', offset: 0, limit: 3 } }),
    enabled: words.length >= 4,
    placeholderData: keepPreviousData,
  });
  if (words.length < 4 || data === undefined || data.total === 0) return null;
  return (
    <p className="small">
      <Mark kind="caution" /> On the shelf already:{' '}
      {data.rows.map((row, at) => (
        <span key={row.id}>
          {at > 0 && '; '}
          <a href={addressOf('shelf', row.id)}>{shortened(row.title)}</a>
          {row.dateText !== '' && `, ${row.dateText}`}
        </span>
      ))}
      {data.total > 3 && ` and ${(data.total - 3).toLocaleString('en')} more`}
    </p>
  );
}

function fieldOf(field: string): string {
  return ['heightMm', 'widthMm', 'thicknessMm'].includes(field) ? 'size' : field;
}
