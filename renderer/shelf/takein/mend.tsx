/** The rows that cannot be taken in: each with its line, its reasons and the cells at fault, to be mended in place, left out or saved. */
import { useEffect, useRef, useState } from 'react';
import type { BadListRow, Checked, Looked } from '../../../core/contract/takein.ts';
import { client } from '../../app/client.ts';
import { say } from '../../app/say.ts';
import { Button, TextField } from '../../parts/controls.tsx';
import { saveFile } from '../../parts/files.ts';
import { Mark, TroubleNotice } from '../../parts/notices.tsx';
import { fixCell, leaveOut, type questionOf, takeBackIn, useList } from './list-state.ts';
import { capital, rowName, rowsInWords, shortened } from './words.ts';

type Question = ReturnType<typeof questionOf>;
type Props = Readonly<{ looked: Looked; checked: Checked; question: Question; left: number }>;

/** As many as a person mends before saving the rest as a file. */
const mostShown = 50;

export function Mend({ looked, checked, question, left }: Props) {
  const { bad, badTotal } = checked;
  const name = rowName(looked);
  const heading = useRef<HTMLHeadingElement>(null);
  const before = useRef<readonly number[]>([]);
  const lines = bad.map(({ line }) => line).join(' ');
  // A row that has just been mended goes from the page, and the keyboard must not be left nowhere.
  useEffect(() => {
    const now = lines === '' ? [] : lines.split(' ').map(Number);
    const { fixes } = useList.getState();
    const mended = before.current.filter((line) => !now.includes(line) && fixes.some((fix) => fix.line === line));
    before.current = now;
    if (mended.length === 0) return;
    say(
      mended.length === 1 ? `${name} ${mended[0]} can be taken in now.` : `${mended.length} rows can be taken in now.`,
    );
    if (document.activeElement === null || document.activeElement === document.body) heading.current?.focus();
  }, [lines, name]);

  if (badTotal === 0 && left === 0) return null;
  return (
    <section aria-labelledby="takein-mend">
      <h2 id="takein-mend" ref={heading} tabIndex={-1}>
        {badTotal === 0 ? 'No rows to mend' : `${capital(rowsInWords(badTotal))} to mend`}
      </h2>
      {badTotal > 0 && (
        <p>
          {badTotal === 1 ? 'This one is' : 'These are'} not taken in until mended here. Or save{' '}
          {badTotal === 1 ? 'it' : 'them'} as a file with the reasons, mend {badTotal === 1 ? 'it' : 'them'} there, and
          take that file in later.
        </p>
      )}
      <div className="actions">
        {badTotal > 0 && <SaveBadRows question={question} words="Save them as a file" />}
        {left > 0 && (
          <Button look="quiet" onClick={takeBackIn}>
            Show the {left === 1 ? 'row' : `${left} rows`} left out again
          </Button>
        )}
      </div>
      <ol className="takein-mend">
        {bad.slice(0, mostShown).map((row) => (
          <BadRow key={row.line} row={row} looked={looked} />
        ))}
      </ol>
      {badTotal > mostShown && (
        <p>
          {badTotal - mostShown} more are not shown. If so many rows are wrong, look at the columns first, or save them
          as a file.
        </p>
      )}
    </section>
  );
}

export function SaveBadRows({ question, words }: Readonly<{ question: Question; words: string }>) {
  const [error, setError] = useState<unknown>(null);
  return (
    <>
      <Button
        onClick={() =>
          client.takein.badRows(question).then(
            (file) => {
              setError(null);
              saveFile(file);
              say(`Saved as ${file.fileName}.`);
            },
            (thrown: unknown) => setError(thrown),
          )
        }
      >
        {words}
      </Button>
      {error !== null && <TroubleNotice error={error} />}
    </>
  );
}

function BadRow({ row, looked }: Readonly<{ row: BadListRow; looked: Looked }>) {
  const [all, setAll] = useState(false);
  const mapping = useList((list) => list.mapping);
  const title = row.cells[mapping.indexOf('title')]?.trim() ?? '';
  const whole = row.troubles.filter(({ column }) => column === null);
  const wrong = new Set(row.troubles.flatMap(({ column }) => (column === null ? [] : [column])));
  const open = all || whole.length > 0;
  return (
    <li className="takein-bad" aria-label={`${rowName(looked)} ${row.line}`}>
      <p className="takein-bad-head">
        <Mark kind="caution" /> {rowName(looked)} {row.line}
        {title !== '' && (
          <>
            : <span className="takein-title">{shortened(title, 120)}</span>
          </>
        )}
      </p>
      {whole.map(({ reason }) => (
        <p key={reason}>{reason} Put each cell right, and change at least one.</p>
      ))}
      <div className="fields">
        {looked.columns.map((column, index) =>
          open || wrong.has(index) ? (
            // biome-ignore lint/suspicious/noArrayIndexKey: columns neither move nor come and go.
            <Cell key={index} name={column.name} line={row.line} column={index} row={row} />
          ) : null,
        )}
      </div>
      <div className="actions">
        <Button look="quiet" onClick={() => leaveOut(row.line)}>
          Leave {rowName(looked).toLowerCase()} {row.line} out
        </Button>
        {whole.length === 0 && (
          <Button look="quiet" aria-expanded={all} onClick={() => setAll(!all)}>
            {all ? 'Show only the cells at fault' : `All cells of ${rowName(looked).toLowerCase()} ${row.line}`}
          </Button>
        )}
      </div>
    </li>
  );
}

type CellProps = Readonly<{ name: string; line: number; column: number; row: BadListRow }>;

/** A cell is checked again when it is left or Enter is pressed. */
function Cell({ name, line, column, row }: CellProps) {
  const given = row.cells[column] ?? '';
  const [text, setText] = useState(given);
  const reasons = row.troubles.filter((trouble) => trouble.column === column).map(({ reason }) => reason);
  const keep = () => {
    if (text !== given) fixCell({ line, column, text });
  };
  return (
    <TextField
      name={name}
      value={text}
      trouble={reasons.length === 0 ? undefined : reasons.join(' ')}
      onChange={(event) => setText(event.target.value)}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep();
      }}
    />
  );
}
