/** Whether it all fits, line by line, and what is in the way where it cannot. */
import { useState } from 'react';
import type { Allocating, Verdict } from '../../core/contract/course.ts';
import { Button } from '../parts/controls.tsx';
import { Mark, Notice } from '../parts/notices.tsx';

/** On a narrow page only the beginning of what needs a look, until the rest is asked for. */
export function Fits({ verdicts }: Readonly<{ verdicts: readonly Verdict[] }>) {
  const [all, setAll] = useState(false);
  const toSee = verdicts.filter(({ fits }) => !fits);
  const fit = verdicts.length - toSee.length;
  return (
    <section className={all ? 'fits' : 'fits fits-short'} aria-label="Whether it fits">
      <div className="actions">
        <h3>{toSee.length === 0 ? 'It all fits' : `${fit} fit · ${toSee.length} to look at`}</h3>
        {verdicts.length > 0 && (
          <Button look="quiet" className="fits-open" aria-expanded={all} onClick={() => setAll(!all)}>
            {all ? 'Show less' : 'Show all'}
          </Button>
        )}
      </div>
      {verdicts.length > 0 && (
        <ul>
          {verdicts.map(({ what, fits, sentence }) => (
            <li key={`${what} ${sentence}`} className={fits ? 'fits-yes' : undefined}>
              <Mark kind={fits ? 'settled' : 'caution'} name={fits ? 'fits' : 'to look at'} />
              <span>
                <span className="soft">{what}.</span> {sentence}
              </span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

export function Impossible({ found }: Readonly<{ found: Extract<Allocating, { kind: 'impossible' }> }>) {
  const { conflict, smallest, waysOut } = found;
  return (
    <div role="alert">
      <Notice kind="caution">
        <p>
          The copies cannot be shared out so that everything asked is met.{' '}
          {conflict.length === 1
            ? 'This cannot be had:'
            : smallest
              ? 'These cannot all be had at once; without any one of them the rest could be:'
              : 'These are in each other’s way:'}
        </p>
        <ul>
          {conflict.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
        {waysOut.length > 0 && (
          <>
            <p>The cheapest way out:</p>
            <ul>
              {waysOut.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
          </>
        )}
      </Notice>
    </div>
  );
}
