/** What the course uses up, by day, against what is in the cupboard; what to order by when. */
import type { Course } from '../../core/contract/course.ts';
import { spoiltShare } from '../../core/course/kit.ts';
import { amountWords } from '../../core/stock/ledger.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { addressOf } from '../app/route.ts';
import { Mark } from '../parts/notices.tsx';
import { dayWords, moneyWords } from '../parts/words.ts';

export function Kit({ course }: Readonly<{ course: Course }>) {
  const { kit, frame, currency, timeZone } = course;
  const days = Array.from({ length: frame.days }, (_, day) => dateOf(dayNumber(frame.startsOn) + day));
  const cost = kit.reduce((sum, line) => sum + line.costMinor, 0);
  if (kit.length === 0) return <p className="soft">What the course uses up is known once people have their copies.</p>;
  return (
    <section aria-label="Kit">
      <p>
        {cost > 0 ? `To buy: about ${moneyWords(cost, currency)} in whole packs.` : 'All of it is on hand.'}{' '}
        <span className="soft">
          With {Math.round(spoiltShare * 100)} % more for what learners spoil: this workshop’s own figure.
          {course.timetable ? '' : ' Until the week is laid out, all of it counts on the first day.'}
        </span>
      </p>
      {course.kitRemarks.map((remark) => (
        <p key={remark}>
          <Mark kind="caution" /> {remark}
        </p>
      ))}
      <div className="table-scroll">
        <table className="table">
          <thead>
            <tr>
              <th>Material</th>
              {days.map((day) => (
                <th key={day} className="number">
                  {dayWords(day, timeZone)}
                </th>
              ))}
              <th className="number">In all</th>
              <th className="number">On hand</th>
              <th>To order</th>
            </tr>
          </thead>
          <tbody>
            {kit.map((line) => (
              <tr key={line.materialId}>
                <td>
                  <a href={addressOf('stockroom', line.materialId)}>{line.name}</a>
                </td>
                {line.byDay.map((quantity, day) => (
                  <td key={days[day]} className="number">
                    {quantity > 0 ? amount(quantity) : ''}
                  </td>
                ))}
                <td className="number">{amountWords(Math.round(line.total * 1e6), line.unit)}</td>
                <td className="number">{amount(line.onHand)}</td>
                <td>
                  {line.missing > 0 && (
                    <>
                      <Mark kind={line.late ? 'harm' : 'caution'} name={line.late ? 'too late' : 'to order'} />{' '}
                      {line.packs} {line.packs === 1 ? 'pack' : 'packs'}, {moneyWords(line.costMinor, currency)}
                      {line.orderBy !== null &&
                        `, ${line.late ? 'was to be ordered by' : 'by'} ${dayWords(line.orderBy, timeZone)}`}
                    </>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function amount(quantity: number): string {
  const digits = quantity >= 100 ? 0 : quantity >= 1 ? 1 : 2;
  return quantity.toLocaleString(undefined, { maximumFractionDigits: digits });
}
