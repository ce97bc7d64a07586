/** Why the book stands where it does: the named parts of its priority, how much each weighs, and the fact behind each. */

import type { BookOpened } from '../../core/contract/shelf.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { RankRange } from '../parts/steadiness.tsx';

export function Why({ opened }: Readonly<{ opened: BookOpened }>) {
  const { priority, proposal } = opened;
  const most = Math.max(1, ...priority.parts.map((part) => part.weight));
  return (
    <section className="pane-part">
      <h3>Why it stands here</h3>
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
      <p className="small soft">
        Score {priority.score.toFixed(1)}: the weighted mean of these, out of 100,{' '}
        {proposal.steps.length === 0
          ? 'is nothing while no treatment is proposed.'
          : `divided by the hours of hand-work (${minutesWords(proposal.minutes.likely)}; under half an hour counts as half).`}
      </p>
      <RankRange id={opened.book.id} />
    </section>
  );
}
