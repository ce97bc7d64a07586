/** The plan of the shelf: how good it is, what it leaves short, and each book's fate with its reason and the price of another. */

import { useState } from 'react';
import { type Fate, fates } from '../../../core/book/book.ts';
import type { Accepted, FateLine, FatesProposed } from '../../../core/contract/fates.ts';
import { minutesWords } from '../../../core/units/durations.ts';
import { client } from '../../app/client.ts';
import { useChange } from '../../app/queries.ts';
import { addressOf } from '../../app/route.ts';
import { Button } from '../../parts/controls.tsx';
import { Mark, Notice, TroubleNotice } from '../../parts/notices.tsx';
import { FateMark } from '../fate-mark.tsx';
import { noteAccepted, useFates } from './state.ts';

type Props = Readonly<{ proposed: FatesProposed; busy: boolean }>;

export function Decisions({ proposed, busy }: Props) {
  const without = useFates((state) => state.without);
  const [changesOnly, setChangesOnly] = useState(true);
  const [left, setLeft] = useState<Accepted['left']>([]);
  const accept = useChange(client.fates.accept, ({ changed }) => `${books(changed)} decided. Ctrl+Z takes it back.`);
  const changes = proposed.decisions.filter(isChange);
  const taken = changes.filter((line) => !without.has(line.bookId));
  const shown = changesOnly ? changes : proposed.decisions;
  const groups = fates.map((fate) => [fate, shown.filter((line) => line.fate === fate)] as const);

  function take(lines: readonly FateLine[]): void {
    const decisions = lines.map(({ bookId, fate }) => ({ bookId, fate }));
    accept.mutate(
      { decisions },
      {
        onSuccess(done) {
          const stayed = new Set(done.left.map(({ bookId }) => bookId));
          noteAccepted(new Set(lines.map(({ bookId }) => bookId).filter((id) => !stayed.has(id))));
          setLeft(done.left);
        },
      },
    );
  }

  return (
    <section aria-labelledby="weighing-plan">
      <h2 id="weighing-plan">The plan</h2>
      <Summary proposed={proposed} />
      {left.length > 0 && <Left left={left} />}
      {accept.error !== null && <TroubleNotice error={accept.error} />}
      <div className="actions weighing-accept">
        <Button look="main" disabled={busy || accept.isPending || taken.length === 0} onClick={() => take(taken)}>
          {taken.length === 0 ? 'Nothing to accept' : `Accept for ${books(taken.length).toLowerCase()}`}
        </Button>
        <label className="weighing-only">
          <input type="checkbox" checked={changesOnly} onChange={() => setChangesOnly(!changesOnly)} />
          Only what would change
        </label>
      </div>
      {shown.length === 0 && <p className="soft">Every book already has the fate this plan gives it.</p>}
      {groups.map(([fate, lines]) => lines.length > 0 && <Group key={fate} fate={fate} lines={lines} />)}
    </section>
  );
}

function isChange(line: FateLine): boolean {
  return !line.locked && line.now !== line.fate;
}

function Summary({ proposed }: Readonly<{ proposed: FatesProposed }>) {
  const { status, gap, usedMinutes, handMinutes, hourWorth, short, remarks } = proposed;
  const quality =
    status === 'best'
      ? 'No other plan is worth more: this one is proven best.'
      : gap === null
        ? 'The best found so far; how much better one could be is not known.'
        : `The best found so far; no plan can be more than ${Math.max(0.1, Math.ceil(gap * 1000) / 10)} % better.`;
  return (
    <>
      <p>
        <Mark kind={status === 'best' ? 'settled' : 'waiting'} /> {quality} It takes {minutesWords(usedMinutes)} of{' '}
        {minutesWords(handMinutes)}.{' '}
        {hourWorth > 0.05
          ? `One more hour at the bench would add about ${hourWorth.toFixed(1)} to its worth, where the most worthwhile book counts 100.`
          : 'More hours would add nothing.'}
      </p>
      {usedMinutes > handMinutes && (
        <Notice kind="caution">
          <p>What you have decided yourself takes more hours than there are; nothing else could be added.</p>
        </Notice>
      )}
      {short.length > 0 && (
        <Notice kind="caution">
          <p>
            The course still lacks{' '}
            {short
              .map(
                ({ need, copies }) =>
                  `${copies} ${copies === 1 ? 'copy' : 'copies'} for ${need.operationId} (${need.level})`,
              )
              .join(', ')}
            .{status === 'best' && ' No open book teaches more of it at that level.'}
          </p>
        </Notice>
      )}
      {remarks.map((remark) => (
        <p key={remark} className="soft">
          {remark}
        </p>
      ))}
    </>
  );
}

function Left({ left }: Readonly<{ left: Accepted['left'] }>) {
  return (
    <Notice kind="caution">
      <p>{books(left.length)} kept what they had:</p>
      <ul>
        {left.slice(0, 20).map(({ bookId, title, because }) => (
          <li key={bookId}>
            <a href={addressOf('shelf', bookId)}>{title}</a>: {because}
          </li>
        ))}
      </ul>
    </Notice>
  );
}

/** As many as are drawn before a person asks for all. */
const firstShown = 40;

function Group({ fate, lines }: Readonly<{ fate: Fate; lines: readonly FateLine[] }>) {
  const [all, setAll] = useState(false);
  const minutes = lines.reduce((sum, line) => sum + line.minutes, 0);
  return (
    <section aria-label={`To ${fate}`} className="weighing-group">
      <h3>
        <FateMark fate={fate} /> {fate.charAt(0).toUpperCase() + fate.slice(1)}{' '}
        <span className="soft">
          {books(lines.length).toLowerCase()}
          {minutes > 0 && `, ${minutesWords(minutes)}`}
        </span>
      </h3>
      <div className="table-scroll">
        <table className="table weighing-table">
          <thead>
            <tr>
              <th>
                <span className="visually-hidden">Take it</span>
              </th>
              <th>Book</th>
              <th>Now</th>
              <th className="number">Bench time</th>
              <th>Why</th>
              <th>Price of the next best</th>
            </tr>
          </thead>
          <tbody>
            {lines.slice(0, all ? undefined : firstShown).map((line) => (
              <Line key={line.bookId} line={line} />
            ))}
          </tbody>
        </table>
      </div>
      {!all && lines.length > firstShown && (
        <Button look="quiet" onClick={() => setAll(true)}>
          Show all {lines.length.toLocaleString('en')}
        </Button>
      )}
    </section>
  );
}

function Line({ line }: Readonly<{ line: FateLine }>) {
  const without = useFates((state) => state.without);
  const { bookId, title, shelfMark, now, locked, minutes, reason, otherwise } = line;
  const lock = useChange(
    client.shelf.save,
    () => `“${title}” is open again; weigh the shelf anew to see what becomes of it. Ctrl+Z takes it back.`,
  );
  function toggle(): void {
    const next = new Set(without);
    if (!next.delete(bookId)) next.add(bookId);
    useFates.setState({ without: next });
  }
  return (
    <tr>
      <td>
        {isChange(line) && (
          <input type="checkbox" aria-label={`Take it for ${title}`} checked={!without.has(bookId)} onChange={toggle} />
        )}
      </td>
      <td className="weighing-title">
        <a href={addressOf('shelf', bookId)}>{title}</a>{' '}
        {shelfMark !== null && <span className="soft">{shelfMark}</span>}
      </td>
      <td>
        {locked ? (
          <>
            <LockMark /> {now}{' '}
            {lock.isSuccess ? (
              <span className="soft">open again</span>
            ) : (
              <Button
                look="quiet"
                aria-label={`Unlock the fate of ${title}`}
                disabled={lock.isPending}
                onClick={() => lock.mutate({ id: bookId, patch: { fateLocked: false } })}
              >
                Unlock
              </Button>
            )}
          </>
        ) : (
          (now ?? <span className="soft">not decided</span>)
        )}
      </td>
      <td className="number">{minutes === 0 ? '–' : minutesWords(minutes)}</td>
      <td>{reason}</td>
      <td>
        {otherwise === null ? (
          <span className="soft">none is open</span>
        ) : (
          `${otherwise.fate}: ${priceWords(otherwise.loses)}`
        )}
      </td>
    </tr>
  );
}

/** A decision of a person's own may cost the plan something: another fate would then gain. */
function priceWords(loses: number): string {
  if (Math.abs(loses) < 0.05) return 'as good';
  return loses > 0 ? `${loses.toFixed(1)} lost` : `${(-loses).toFixed(1)} gained`;
}

function LockMark() {
  return (
    <svg className="mark" viewBox="0 0 16 16" role="img" aria-label="decided by you:">
      <path d="M3.5 7h9v6.5h-9ZM5.5 7V5a2.5 2.5 0 0 1 5 0v2" />
    </svg>
  );
}

function books(count: number): string {
  return count === 1 ? 'One book' : `${count.toLocaleString('en')} books`;
}
