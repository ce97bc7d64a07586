/** One day of the day-book: what was done, what went into which book, and the correction of either by another line. */
import { useState } from 'react';
import type { DayEntry, UsedLine } from '../../core/contract/daybook.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { clockWords, moneyWords } from '../parts/words.ts';
import { amount } from './uses.tsx';

type DayProps = Readonly<{ day: string; entries: readonly DayEntry[]; used: readonly UsedLine[] }>;

export function Day({ day, entries, used }: DayProps) {
  const minutes = entries.reduce((sum, entry) => sum + (entry.minutes ?? 0), 0);
  return (
    <section>
      <h2 className="daybook-day">
        {day} {minutes > 0 && <span className="soft">{minutesWords(minutes)}</span>}
      </h2>
      <ul className="daybook-list">
        {entries.map((entry) => (
          <Entry key={entry.id} entry={entry} />
        ))}
      </ul>
      {used.length > 0 && <Used used={used} />}
    </section>
  );
}

function Entry({ entry }: Readonly<{ entry: DayEntry }>) {
  const { timeZone } = useHabits();
  const [open, setOpen] = useState(false);
  const { answers, corrected, minutes } = entry;
  const words = [entry.operation, entry.note].filter(Boolean).join('. ');
  return (
    <li className={corrected ? 'daybook-corrected' : undefined}>
      <span className="soft">{clockWords(entry.at, timeZone)}</span>
      <div>
        {answers !== null && <strong>Takes back: </strong>}
        {words}
        {entry.bookId !== null && (
          <>
            {' · '}
            <a className="daybook-book" href={addressOf('shelf', entry.bookId)}>
              {entry.book}
            </a>
          </>
        )}
        {corrected && <span className="soft small"> corrected</span>}
        {!corrected && answers === null && !open && (
          <Button
            look="quiet"
            className="daybook-correct"
            aria-label={`This is wrong: ${words}`}
            onClick={() => setOpen(true)}
          >
            This is wrong
          </Button>
        )}
      </div>
      <span className="number">
        {minutes === null ? '' : `${minutes < 0 ? '−' : ''}${minutesWords(Math.abs(minutes))}`}
      </span>
      {open && <Correction entry={entry} onDone={() => setOpen(false)} />}
    </li>
  );
}

function Correction({ entry, onDone }: Readonly<{ entry: DayEntry; onDone: () => void }>) {
  const [reason, setReason] = useState('');
  const [minutes, setMinutes] = useState('');
  const correct = useChange(client.daybook.correct, ({ words }) => words);
  const trouble = correct.error ? readTrouble(correct.error) : null;
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  return (
    <form
      className="daybook-correction"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const right = minutes.trim() === '' ? {} : { minutes: Number(minutes) };
        correct.mutate({ entryId: entry.id, reason: reason.trim(), ...right }, { onSuccess: onDone });
      }}
    >
      <div className="fields">
        <TextField
          name="What was wrong with it"
          autoFocus
          value={reason}
          onChange={(event) => setReason(event.target.value)}
          trouble={at('reason')}
          hint="The entry stays; another takes it back."
        />
        {entry.minutes !== null && (
          <TextField
            name="Right minutes"
            inputMode="numeric"
            value={minutes}
            onChange={(event) => setMinutes(event.target.value)}
            trouble={at('minutes')}
            hint="Empty: it was not done at all."
          />
        )}
      </div>
      {trouble && trouble.field !== 'reason' && trouble.field !== 'minutes' && <TroubleNotice error={correct.error} />}
      <div className="actions">
        <Button look="main" type="submit" disabled={correct.isPending}>
          Correct it
        </Button>
        <Button onClick={onDone}>Leave it</Button>
      </div>
    </form>
  );
}

/** What went into books on a day. */
function Used({ used }: Readonly<{ used: readonly UsedLine[] }>) {
  return (
    <details className="daybook-used">
      <summary>
        {used.length} {used.length === 1 ? 'material' : 'materials'} used
      </summary>
      <ul className="daybook-list">
        {used.map((line) => (
          <UsedItem key={line.movementId} line={line} />
        ))}
      </ul>
    </details>
  );
}

function UsedItem({ line }: Readonly<{ line: UsedLine }>) {
  const { timeZone, currency } = useHabits();
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState('');
  const answer = useChange(client.stockroom.answerMovement, ({ words }) => words);
  return (
    <li>
      <span className="soft">{clockWords(line.at, timeZone)}</span>
      <div>
        {line.quantity < 0 && <strong>Takes back: </strong>}
        <a href={addressOf('stockroom', line.materialId)}>{line.material}</a>
        {line.lot !== '' && <span className="soft"> {line.lot}</span>}
        {line.bookId !== null && (
          <>
            {' · '}
            <a className="daybook-book" href={addressOf('shelf', line.bookId)}>
              {line.book}
            </a>
          </>
        )}
        <span className="soft small"> {line.reason}</span>
        {!line.closed && !open && (
          <Button
            look="quiet"
            className="daybook-correct"
            aria-label={`This is wrong: ${line.material}, ${line.book}`}
            onClick={() => setOpen(true)}
          >
            This is wrong
          </Button>
        )}
      </div>
      <span className="number">
        {amount(line.quantity, line.unit)}
        <span className="soft small daybook-cost">{moneyWords(Math.round(line.costMinor), currency)}</span>
      </span>
      {open && (
        <form
          className="daybook-correction"
          onSubmit={(event) => {
            event.preventDefault();
            answer.mutate({ movementId: line.movementId, reason }, { onSuccess: () => setOpen(false) });
          }}
        >
          <TextField
            name="What was wrong with it"
            autoFocus
            value={reason}
            onChange={(event) => setReason(event.target.value)}
            trouble={answer.error ? readTrouble(answer.error).sentence : undefined}
            hint="The line stays in the ledger; its opposite is entered after it. What is right is entered in the Stockroom."
          />
          <div className="actions">
            <Button look="main" type="submit" disabled={answer.isPending}>
              Enter the opposite
            </Button>
            <Button onClick={() => setOpen(false)}>Leave it</Button>
          </div>
        </form>
      )}
    </li>
  );
}
