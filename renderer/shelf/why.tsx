/** Why the book stands where it does: the named parts of its priority, how much each weighs, and the fact behind each. */

import type { BookOpened } from '../../core/contract/shelf.ts';
import { isSurveyed } from '../../core/triage/fate.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { RankRange } from '../parts/steadiness.tsx';

export function Why({ opened }: Readonly<{ opened: BookOpened }>) {
  const { priority } = opened;
  const known = isSurveyed(opened.book, opened.findings);
  const most = Math.max(1, ...priority.parts.map((part) => part.weight));
  return (
    <section className="pane-part">
      <h3>Why it stands here</h3>
      {known && (
        <table className="reasons">
          <thead className="visually-hidden">
            <tr>
              <th>Part</th>
              <th>How much of its weight</th>
              <th>Because</th>
            </tr>
          </thead>
          <tbody>
            {priority.parts.map((part) => (
              <tr key={part.name}>
                <th scope="row">{part.name}</th>
                <td className="reasons-bar">
                  <svg
                    viewBox="0 0 60 12"
                    role="img"
                    aria-label={`${Math.round(part.value * 100)} % of a weight of ${part.weight}`}
                    preserveAspectRatio="none"
                  >
                    <rect
                      className="reasons-weight"
                      x="0.5"
                      y="2.5"
                      width={Math.max(1, (59 * part.weight) / most)}
                      height="7"
                    />
                    <rect
                      className="reasons-value"
                      x="0.5"
                      y="2.5"
                      width={(59 * part.weight * part.value) / most}
                      height="7"
                    />
                  </svg>
                </td>
                <td>
                  {part.why} <span className="soft">× {part.weight}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="small soft">{scoreWords(opened)}</p>
      {known && <RankRange id={opened.book.id} />}
    </section>
  );
}

/** "Score 150: what the four parts are worth, per hour of hand-work (23 min counts as half an hour)." */
function scoreWords({ book, findings, priority, proposal }: BookOpened): string {
  const { likely } = proposal.minutes;
  if (priority.settled !== null) return `Score 0. ${priority.settled}`;
  if (!isSurveyed(book, findings)) return 'Score 0 until it is surveyed: its hand-work is not known yet.';
  if (proposal.steps.length === 0) return 'Score 0: nothing is to be done on this bench.';
  const time = likely < 30 ? `${minutesWords(likely)} counts as half an hour` : minutesWords(likely);
  const score = priority.score < 10 ? Math.round(priority.score * 10) / 10 : Math.round(priority.score);
  return `Score ${score}: what the four parts are worth, per hour of hand-work (${time}).`;
}
