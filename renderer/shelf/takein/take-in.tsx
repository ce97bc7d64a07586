/** Taking in a list: choose a file, see how its columns are understood, mend the rows that cannot be right, take in the rest. */
import { keepPreviousData, useMutation, useQuery } from '@tanstack/react-query';
import { type DragEvent, useRef, useState } from 'react';
import { largestListBytes } from '../../../core/book/columns.ts';
import type { Checked, Looked } from '../../../core/contract/takein.ts';
import { ask, client } from '../../app/client.ts';
import { useChange } from '../../app/queries.ts';
import { Button, TextField } from '../../parts/controls.tsx';
import { Notice, TroubleNotice } from '../../parts/notices.tsx';
import { Refusal } from '../../parts/refusal.ts';
import { Columns } from './columns.tsx';
import { Done } from './done.tsx';
import { type ListState, type Look, questionOf, setLooked, startOver, useList } from './list-state.ts';
import { Mend } from './mend.tsx';
import { Duplicates, Preview } from './preview.tsx';
import './takein.css';
import { capital, rowsInWords } from './words.ts';

export function TakeIn({ onDone }: Readonly<{ onDone: () => void }>) {
  const list = useList();
  const look = useMutation({ mutationFn: lookAt });
  const [over, setOver] = useState(false);
  const isFile = (event: DragEvent) => event.dataTransfer.types.includes('Files');
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping a file is a second way; the button is the one for everybody.
    <div
      className={over ? 'takein takein-over' : 'takein'}
      onDragOver={(event) => {
        if (!isFile(event)) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        const file = event.dataTransfer.files[0];
        if (file) look.mutate({ file });
      }}
    >
      <header className="takein-head">
        <h1>Take in a list</h1>
        {list.looked === null ? null : (
          <Button look="quiet" onClick={startOver}>
            Choose another file
          </Button>
        )}
      </header>
      {look.isPending && <p role="status">Reading the file …</p>}
      {look.error !== null && <TroubleNotice error={look.error} />}
      {list.done !== null ? (
        <Done done={list.done} onDone={onDone} />
      ) : list.looked === null ? (
        <Choose onFile={(file) => look.mutate({ file })} />
      ) : (
        <Work list={list} onLook={(change) => look.mutate(change)} />
      )}
    </div>
  );
}

/** Reads a file, or the same file once more in another way. */
async function lookAt({ file, change = {} }: Look): Promise<void> {
  const { file: held, looked } = useList.getState();
  if (file !== undefined) {
    if (file.size > largestListBytes) {
      throw new Refusal(
        `${file.name} has ${megabytes(file.size)}; up to ${megabytes(largestListBytes)} can be taken in at once. Split it. Nothing was kept.`,
      );
    }
    const fresh = { name: file.name, base64: await base64Of(file) };
    setLooked(fresh, await client.takein.look({ fileName: fresh.name, base64: fresh.base64 }));
  } else if (held !== null && looked !== null) {
    const { separator, encoding, headings } = looked;
    setLooked(
      held,
      await client.takein.look({ fileName: held.name, base64: held.base64, separator, encoding, headings, ...change }),
    );
  }
}

function megabytes(bytes: number): string {
  return `${Math.round(bytes / 1024 / 1024)} MB`;
}

function base64Of(file: File): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,?/, ''));
    reader.onerror = () => reject(new Refusal(`${file.name} could not be read. Is it still there?`));
    reader.readAsDataURL(file);
  });
}

function Choose({ onFile }: Readonly<{ onFile: (file: File) => void }>) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <section className="takein-choose" aria-label="The file">
      <p>
        A list saved as CSV or text, one book a row, with the columns you have in the order you have them. Sizes may be
        in millimetres, centimetres or inches, dates in Roman figures, and blanks stay blanks.
      </p>
      <p>
        Or records of a library’s catalogue: MARC 21, as it is exchanged (.mrc) or as XML. Title, author, imprint, date,
        size and pages are read; the rest is kept in the note.
      </p>
      <p>Nothing is kept until you have seen how it is understood and say so; afterwards one undo takes it all out.</p>
      <Button look="main" onClick={() => input.current?.click()}>
        Choose a file
      </Button>
      <span className="soft"> or drop it here</span>
      <input
        ref={input}
        type="file"
        hidden
        aria-label="List file"
        accept=".csv,.tsv,.txt,.mrc,.marc,.xml,text/csv,text/plain,text/tab-separated-values,application/marc,text/xml,application/xml"
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file) onFile(file);
          event.target.value = '';
        }}
      />
    </section>
  );
}

function Work({ list, onLook }: Readonly<{ list: ListState; onLook: (look: Look) => void }>) {
  const question = questionOf(list);
  const check = useQuery(ask.takein.check.queryOptions({ input: question, placeholderData: keepPreviousData }));
  const take = useChange(client.takein.take, ({ added }) =>
    added === 1 ? 'One book is in.' : `${added} books are in.`,
  );
  const { looked } = list;
  const checked = check.data;
  if (looked === null) return null;
  const good = checked?.good ?? 0;
  const names = { lotName: list.lotName, placeName: list.placeName };
  return (
    <>
      <p className="takein-file">
        <strong>{looked.fileName}</strong>, {looked.form === 'list' ? rowsInWords(looked.rows) : recordsInWords(looked)}
      </p>
      {looked.remarks.length > 0 && (
        <Notice kind="caution">
          {looked.remarks.map((remark) => (
            <p key={remark}>{remark}</p>
          ))}
        </Notice>
      )}
      <Columns list={list} looked={looked} onLook={onLook} />
      {check.error !== null && <TroubleNotice error={check.error} />}
      {checked !== undefined && (
        <>
          <Preview checked={checked} looked={looked} />
          <Mend looked={looked} checked={checked} question={question} left={list.leave.length} />
          <Duplicates checked={checked} looked={looked} skip={list.skipDuplicates} />
        </>
      )}
      <section aria-labelledby="takein-where">
        <h2 id="takein-where">For rows that do not say</h2>
        <div className="fields takein-where">
          <TextField
            name="Lot"
            value={list.lotName}
            onChange={(event) => useList.setState({ lotName: event.target.value })}
          />
          <TextField
            name="Place"
            hint="As in “Case 1 › Shelf 2”"
            value={list.placeName}
            onChange={(event) => useList.setState({ placeName: event.target.value })}
          />
        </div>
      </section>
      {take.error !== null && <TroubleNotice error={take.error} />}
      <footer className="takein-foot">
        <Button
          look="main"
          disabled={good === 0 || check.error !== null || check.isFetching || take.isPending}
          onClick={() => take.mutate({ ...question, ...names }, { onSuccess: (done) => useList.setState({ done }) })}
        >
          {good === 1 ? 'Take in one book' : `Take in ${good} books`}
        </Button>
        {(checked?.badTotal ?? 0) > 0 && !take.isPending && (
          <Button look="quiet" onClick={goToMend}>
            {capital(rowsInWords(checked?.badTotal ?? 0))} to mend
          </Button>
        )}
        <p role="status" className="soft">
          {take.isPending
            ? 'Taking in the books and assessing each …'
            : check.isFetching
              ? 'Checking the rows …'
              : outcome(checked, list.leave.length)}
        </p>
      </footer>
    </>
  );
}

/** The rest of what becomes of the rows; those to mend have a button of their own. */
function outcome(checked: Checked | undefined, left: number): string {
  if (checked === undefined) return '';
  const { badTotal, duplicatesTotal } = checked;
  const parts = [
    duplicatesTotal > 0 ? `${duplicatesTotal} here already` : '',
    left > 0 ? `${left} left out` : '',
  ].filter((part) => part !== '');
  if (parts.length === 0) return badTotal === 0 ? 'Every row can be taken in.' : '';
  return `${parts.join(', ')}.`;
}

function recordsInWords({ form, rows }: Looked): string {
  return rows === 1 ? `one ${form} record` : `${rows} ${form} records`;
}

function goToMend(): void {
  const heading = document.getElementById('takein-mend');
  heading?.scrollIntoView();
  heading?.focus({ preventScroll: true });
}
