/** Whether it all fits, line by line, and what is in the way where it cannot. */
import type { Allocating, Verdict } from '../../core/contract/course.ts';
import { Mark, Notice } from '../parts/notices.tsx';

export function Fits({ verdicts }: Readonly<{ verdicts: readonly Verdict[] }>) {
  const open = verdicts.filter(({ fits }) => !fits).length;
  return (
    <section className="fits" aria-label="Whether it fits">
      <h3>
        {open === 0 ? 'It all fits' : open === 1 ? 'One thing does not fit yet' : `${open} things do not fit yet`}
      </h3>
      <ul>
        {verdicts.map(({ what, fits, sentence }) => (
          <li key={`${what} ${sentence}`}>
            <Mark kind={fits ? 'settled' : 'caution'} name={fits ? 'fits' : 'does not fit'} />
            <span>
              <span className="soft">{what}.</span> {sentence}
            </span>
          </li>
        ))}
      </ul>
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
