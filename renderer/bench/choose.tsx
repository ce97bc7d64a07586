/** Which books the week should hold: the proposed set, what just missed and why, and the person's own say in both. */

import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { minutesWords } from '../../core/units/durations.ts';
import { ask } from '../app/client.ts';
import { addressOf } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { EmptyRoom, TroubleNotice } from '../parts/notices.tsx';

type Props = Readonly<{
  startsOn: string;
  planned: readonly string[];
  /** Set aside in the plan that holds. */
  aside: readonly string[];
  busy: boolean;
  /** Open bench minutes of the week. */
  openMinutes: number;
  onPlan: (bookIds: readonly string[]) => void;
}>;

export function ChooseWeek({ startsOn, planned, aside, busy, openMinutes, onPlan }: Props) {
  const [keep, setKeep] = useState<readonly string[]>(planned);
  const [leave, setLeave] = useState<readonly string[]>(aside);
  const choice = useQuery({
    ...ask.bench.choose.queryOptions({ input: { startsOn, keep: [...keep], leave: [...leave] } }),
    placeholderData: keepPreviousData,
  });
  if (choice.error) return <TroubleNotice error={choice.error} again={() => void choice.refetch()} />;
  if (!choice.data) return <p role="status">Choosing …</p>;
  const { chosen, missed, usedMinutes, handMinutes, optimal } = choice.data;
  if (chosen.length + missed.length === 0) {
    return (
      <EmptyRoom title="No book is ready for the bench">
        <p>Survey some books on the Shelf first: what is loose, torn or missing decides what there is to do.</p>
        <a href={addressOf('shelf')}>To the Shelf</a>
      </EmptyRoom>
    );
  }
  const without = (list: readonly string[], id: string) => list.filter((one) => one !== id);
  return (
    <section className="choose" aria-label="Choose the books">
      <p>
        {chosen.length} {chosen.length === 1 ? 'book' : 'books'}, {minutesWords(usedMinutes)} of{' '}
        {minutesWords(handMinutes)} bench time
        {openMinutes > handMinutes &&
          `; the other ${minutesWords(openMinutes - handMinutes)} is kept for what takes longer than likely`}
        .{' '}
        {optimal
          ? 'No other set is worth more within these hours and presses.'
          : 'A better set may exist; this is the best found.'}
      </p>
      <meter
        aria-label="bench time used"
        min={0}
        max={Math.max(1, handMinutes)}
        value={Math.min(usedMinutes, handMinutes)}
      />
      <div className="choose-lists">
        <BookList
          title="In the week"
          rows={chosen.map((row) => ({ ...row, words: row.reason }))}
          action="Leave out"
          onAct={(id) => {
            setKeep(without(keep, id));
            setLeave([...leave, id]);
          }}
        />
        <BookList
          title="Just missed"
          rows={missed.map((row) => ({ ...row, words: row.because }))}
          action="Put in"
          onAct={(id) => {
            setLeave(without(leave, id));
            setKeep([...keep, id]);
          }}
        />
      </div>
      <div className="actions">
        <Button
          look="main"
          disabled={busy || chosen.length === 0}
          onClick={() => onPlan(chosen.map((row) => row.bookId))}
        >
          Plan the week
        </Button>
        {leave.length > 0 && <Button onClick={() => setLeave([])}>Consider all again</Button>}
      </div>
    </section>
  );
}

type Row = Readonly<{ bookId: string; title: string; minutes: number; words: string }>;

function BookList(
  props: Readonly<{ title: string; rows: readonly Row[]; action: string; onAct: (id: string) => void }>,
) {
  const { title, rows, action, onAct } = props;
  return (
    <div>
      <h3>{title}</h3>
      {rows.length === 0 && <p className="soft">None.</p>}
      <ul className="choose-list">
        {rows.map((row) => (
          <li key={row.bookId}>
            <div>
              <a className="book-name" href={addressOf('shelf', row.bookId)}>
                {row.title}
              </a>
              <p className="small soft">{row.words}</p>
            </div>
            <span className="number">{minutesWords(row.minutes)}</span>
            <Button look="quiet" aria-label={`${action}: ${row.title}`} onClick={() => onAct(row.bookId)}>
              {action}
            </Button>
          </li>
        ))}
      </ul>
    </div>
  );
}
