/** How many people the course holds, laid out for each number, with what is short and what one more press, tutor or day would change. */
import { useEffect, useRef, useState } from 'react';
import type { Course } from '../../core/contract/course.ts';
import type { AtNumber, HowMany } from '../../core/course/how-many.ts';
import { client } from '../app/client.ts';
import { Button } from '../parts/controls.tsx';
import { Mark, TroubleNotice, Working } from '../parts/notices.tsx';

const from = 4;
const to = 16;

export function Capacity({ course }: Readonly<{ course: Course }>) {
  const [found, setFound] = useState<HowMany | null>(null);
  const [words, setWords] = useState<string | null>(null);
  const [error, setError] = useState<unknown>(null);
  const running = useRef<AsyncIterator<unknown> | null>(null);
  // Leaving the room does not leave the engine running for nobody.
  useEffect(() => () => void running.current?.return?.(), []);

  async function count() {
    setError(null);
    setFound(null);
    setWords('Laying out the week for each number …');
    try {
      const pieces = await client.coursePlan.howMany({ courseId: course.id, from, to });
      running.current = pieces;
      for await (const piece of pieces) {
        setFound(piece.soFar);
        if (piece.kind === 'progress') setWords(piece.words);
      }
    } catch (caught) {
      setError(caught);
    } finally {
      running.current = null;
      setWords(null);
    }
  }

  return (
    <section aria-label="How many it could hold">
      <h3>How many it could hold</h3>
      <p className="soft">
        The week is laid out for {from} to {to} people; those beyond the present ones work on the like of what the
        others work on.
      </p>
      <div className="actions">
        <Button look={found === null ? 'main' : 'plain'} disabled={words !== null} onClick={() => void count()}>
          {found === null ? 'Reckon it' : 'Reckon it again'}
        </Button>
      </div>
      {error !== null && <TroubleNotice error={error} />}
      {words !== null && <Working words={words} onStop={() => void client.course.stop().catch(setError)} />}
      {found !== null && found.at.length > 0 && <Chart found={found} now={course.money.confirmed} />}
      {found !== null && <Answers found={found} isDone={words === null} />}
    </section>
  );
}

const column = 40;
const bar = 120;

/** A column a number of people: how full the shared thing most in demand is, solid where the week holds, open where it does not. */
function Chart({ found, now }: Readonly<{ found: HowMany; now: number }>) {
  const most = Math.max(1.2, ...found.at.map(({ busiest }) => busiest.share));
  const y = (share: number) => 14 + bar * (1 - share / most);
  const width = column * (to - from + 1) + 44;
  return (
    <div className="course-picture">
      <svg
        className="howmany"
        width={width}
        height={bar + 56}
        role="img"
        aria-label={`Fits up to ${found.most}: ${found.at.map(sentenceOf).join('; ')}`}
      >
        <line className="howmany-full" x1={36} x2={width} y1={y(1)} y2={y(1)} />
        <text className="howmany-axis" x={32} y={y(1) + 4} textAnchor="end">
          full
        </text>
        {found.at.map((one) => {
          const x = 44 + (one.people - from) * column;
          const fits = one.late === 0;
          return (
            <g key={one.people}>
              <title>{sentenceOf(one)}</title>
              <rect
                className={fits ? 'howmany-fits' : 'howmany-late'}
                x={x}
                y={y(one.busiest.share)}
                width={column - 12}
                height={14 + bar - y(one.busiest.share)}
              />
              {one.short.length > 0 && fits && (
                <path className="howmany-short" d={`M${x} ${14 + bar - 3}h${column - 12}`} />
              )}
              <text
                className={one.people === now ? 'howmany-now' : 'howmany-axis'}
                x={x + (column - 12) / 2}
                y={bar + 32}
                textAnchor="middle"
              >
                {one.people}
              </text>
            </g>
          );
        })}
        <text className="howmany-axis" x={44} y={bar + 50}>
          people; filled: the week holds; outlined: it does not; a red foot: benches, beds or copies are short
        </text>
      </svg>
    </div>
  );
}

function sentenceOf({ people, short, busiest }: AtNumber): string {
  const rest = short.length > 0 ? `short of ${short.join(', ')}` : 'fits';
  return `${people} people: ${rest} (${busiest.what} ${Math.round(busiest.share * 100)} %)`;
}

function Answers({ found, isDone }: Readonly<{ found: HowMany; isDone: boolean }>) {
  const firstShort = found.at.find(({ short }) => short.length > 0);
  const last = found.at.at(-1)?.people ?? from;
  return (
    <>
      <p>
        {found.most < from
          ? `Not even ${from} fit into the week as it is.`
          : found.most >= last
            ? `The week holds ${last} people${isDone ? '' : ' so far'}.`
            : `The week holds ${found.most} people.`}{' '}
        {firstShort && (
          <>
            <Mark kind="caution" /> First short, at {firstShort.people}: {firstShort.short.join('; ')}.
          </>
        )}
      </p>
      {found.oneMore.length > 0 && (
        <ul className="course-list">
          {found.oneMore.map((more) => (
            <li key={more.what}>
              <span>With {more.words}</span>
              <strong className="number">{more.most}</strong>
              <span className="small">
                {more.most > found.most ? `${more.most - found.most} more than now.` : 'No more than now.'}
              </span>
            </li>
          ))}
        </ul>
      )}
      <details>
        <summary>Number by number</summary>
        <ul className="course-list">
          {found.at.map((one) => (
            <li key={one.people}>
              <span>{sentenceOf(one)}</span>
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}
