/** A book's treatment record: the fields that only a person can fill, its photographs, how it reads now, and its printed shapes. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { photographAddress } from '../../core/contract/photographs.ts';
import type { RecordOpened } from '../../core/contract/record.ts';
import type { RecordPart, RecordWords } from '../../core/treatment/record-shape.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Clamped } from '../parts/clamped.tsx';
import { Button, TextField } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { Caution, TroubleNotice } from '../parts/notices.tsx';
import { Photographs } from '../parts/photographs.tsx';
import { SavedText } from '../parts/saved.tsx';
import './record.css';

export function TreatmentRecord({ bookId }: Readonly<{ bookId: string }>) {
  const opened = useQuery(ask.record.open.queryOptions({ input: { bookId } }));
  return (
    <div className="record">
      <p className="record-back">
        <a href={addressOf('day-book')}>All of the Day-book</a>
      </p>
      {opened.error && <TroubleNotice error={opened.error} again={() => void opened.refetch()} />}
      {opened.data && <Opened key={bookId} opened={opened.data} />}
    </div>
  );
}

function Opened({ opened }: Readonly<{ opened: RecordOpened }>) {
  const { bookId, words, document } = opened;
  const save = useChange(client.record.save);
  const keep = (changes: Parameters<typeof client.record.save>[0]['changes']) => save.mutateAsync({ bookId, changes });
  return (
    <>
      <header className="record-head">
        <h2>
          <Clamped words={document.title} />
        </h2>
        <p className="soft">
          {document.lead}. <a href={addressOf('shelf', bookId)}>The book on the Shelf</a>
        </p>
        <Prints bookId={bookId} />
      </header>
      <div className="record-columns">
        <section className="record-form" aria-label="What only you can say">
          <h3>What only you can say</h3>
          {proseFields.map(({ key, name, hint }) => (
            <SavedText
              key={key}
              long
              name={name}
              hint={hint}
              value={words[key]}
              keep={(text) => keep({ [key]: text })}
            />
          ))}
          <Kept kept={words.kept} keep={(kept) => keep({ kept: [...kept] })} />
          <div className="fields">
            <SavedText name="Treated by" value={words.signedBy} keep={(signedBy) => keep({ signedBy })} />
            <TextField
              name="Signed on"
              type="date"
              value={words.signedOn ?? ''}
              onChange={(event) => {
                const signedOn = event.target.value === '' ? null : event.target.value;
                save.mutate({ bookId, changes: { signedOn } });
              }}
            />
          </div>
          {save.error && <TroubleNotice error={save.error} />}
          <Photographs heading="Photographs" subject={{ kind: 'book', bookId }} />
        </section>
        <section className="record-paper" aria-label="How the record reads now">
          {document.sections.map(({ title, parts }) => (
            <section key={title}>
              <h3>{title}</h3>
              {parts.map((part, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: parts have no other name than their place
                <Part key={at} part={part} bookId={bookId} />
              ))}
            </section>
          ))}
        </section>
      </div>
    </>
  );
}

const proseFields: readonly Readonly<{
  key: Exclude<keyof RecordWords, 'kept' | 'signedOn' | 'signedBy'>;
  name: string;
  hint: string;
}>[] = [
  {
    key: 'description',
    name: 'Description',
    hint: 'Structure, materials, marks of ownership: what makes this copy itself.',
  },
  { key: 'conditionBefore', name: 'Condition before', hint: 'What the survey’s lines do not say.' },
  { key: 'purpose', name: 'Why, and what was agreed', hint: 'For whom, with whom, what was considered and left.' },
  { key: 'departures', name: 'Where the work differed', hint: 'What was done otherwise than agreed, and why.' },
  { key: 'conditionAfter', name: 'Condition after', hint: 'How it opens, what is still weak.' },
  { key: 'care', name: 'Use and care', hint: 'Empty: the usual words. Cautions for hazards are always said.' },
];

type KeptProps = Readonly<{ kept: RecordWords['kept']; keep: (kept: RecordWords['kept']) => Promise<unknown> }>;

function Kept({ kept, keep }: KeptProps) {
  const [what, setWhat] = useState('');
  const [where, setWhere] = useState('');
  const change = (at: number, part: Partial<RecordWords['kept'][number]>) =>
    keep(kept.map((one, other) => (other === at ? { ...one, ...part } : one)));
  return (
    <fieldset className="record-kept">
      <legend>Original material taken off and kept</legend>
      {kept.map((one, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines have no other name than their place
        <div key={at} className="record-kept-line">
          <SavedText name={`What, ${at + 1}`} value={one.what} keep={(text) => change(at, { what: text })} />
          <SavedText name={`Where it is, ${at + 1}`} value={one.where} keep={(text) => change(at, { where: text })} />
          <Button
            look="quiet"
            aria-label={`Take off the line of ${one.what}`}
            onClick={() => void keep(kept.filter((_, other) => other !== at))}
          >
            Take off
          </Button>
        </div>
      ))}
      <form
        className="record-kept-line"
        onSubmit={(event) => {
          event.preventDefault();
          if (what.trim() === '') return;
          void keep([...kept, { what: what.trim(), where: where.trim() }]).then(
            () => {
              setWhat('');
              setWhere('');
            },
            () => undefined,
          );
        }}
      >
        <TextField name="What is kept" value={what} onChange={(event) => setWhat(event.target.value)} />
        <TextField name="Where it now is" value={where} onChange={(event) => setWhere(event.target.value)} />
        <Button type="submit" disabled={what.trim() === ''}>
          Add
        </Button>
      </form>
    </fieldset>
  );
}

function Prints({ bookId }: Readonly<{ bookId: string }>) {
  const print = useChange(client.record.print);
  const page = useChange(client.record.page);
  const card = useChange(client.record.card);
  const busy = print.isPending || page.isPending || card.isPending;
  const error = print.error ?? page.error ?? card.error;
  return (
    <>
      <div className="actions">
        <Button look="main" disabled={busy} onClick={() => print.mutate({ bookId }, { onSuccess: saveFile })}>
          Record as PDF
        </Button>
        <Button disabled={busy} onClick={() => card.mutate({ bookId }, { onSuccess: saveFile })}>
          Card for the book
        </Button>
        <Button disabled={busy} onClick={() => page.mutate({ bookId }, { onSuccess: saveFile })}>
          Record as a web page
        </Button>
        {busy && <span role="status">Setting it …</span>}
      </div>
      {error && <TroubleNotice error={error} />}
    </>
  );
}

function Part({ part, bookId }: Readonly<{ part: RecordPart; bookId: string }>) {
  switch (part.kind) {
    case 'words':
      return <p>{part.words}</p>;
    case 'missing':
      return <p className="soft">{part.words}</p>;
    case 'caution':
      return <Caution sentence={part.words} />;
    case 'table': {
      const { columns, rows } = part;
      return (
        <div className="table-scroll">
          <table className="table">
            {columns.some(({ head }) => head !== '') && (
              <thead>
                <tr>
                  {columns.map(({ head, align }) => (
                    <th key={head} scope="col" className={align === 'right' ? 'number' : undefined}>
                      {head}
                    </th>
                  ))}
                </tr>
              </thead>
            )}
            <tbody>
              {rows.map((row, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: rows of a finished table
                <tr key={at}>
                  {row.map((cell, column) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: cells of a finished table
                    <td key={column} className={columns[column]?.align === 'right' ? 'number' : undefined}>
                      {cell}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      );
    }
    case 'photographs':
      return <Pictures part={part} bookId={bookId} />;
  }
}

function Pictures({ part, bookId }: Readonly<{ part: Extract<RecordPart, { kind: 'photographs' }>; bookId: string }>) {
  const subject = { kind: 'book', bookId } as const;
  const { data = [] } = useQuery(ask.photographs.list.queryOptions({ input: { subject } }));
  return (
    <div className="record-pictures">
      {part.photographs.map(({ id, words }) => {
        const found = data.find((one) => one.id === id);
        return found === undefined ? null : (
          <figure key={id}>
            <img src={photographAddress(found.hash, 'small')} alt={words || found.fileName} loading="lazy" />
            <figcaption className="small soft">{words || found.fileName}</figcaption>
          </figure>
        );
      })}
    </div>
  );
}
