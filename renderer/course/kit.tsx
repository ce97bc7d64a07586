/** What the course uses up, by day, against what is in the cupboard; what to order by when. */
import type { Course } from '../../core/contract/course.ts';
import { spoiltShare } from '../../core/course/kit.ts';
import { amountWords, toMillionths } from '../../core/stock/ledger.ts';
import type { StockUnit } from '../../core/stock/material.ts';
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
        {cost > 0
          ? `To buy: about ${moneyWords(cost, currency)} in whole packs, with what the bench and other plans use before: the Stockroom’s own figures.`
          : 'Nothing is to be bought, with what the bench and other plans use before.'}{' '}
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
        <table className="table course-stacked">
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
                <td className="course-row-head">
                  <a href={addressOf('stockroom', line.materialId)}>{line.name}</a>
                </td>
                {line.byDay.map((quantity, day) => (
                  <td
                    key={days[day]}
                    className={quantity > 0 ? 'number' : 'number course-nothing'}
                    data-head={dayWords(days[day] ?? '', timeZone)}
                  >
                    {quantity > 0 ? amount(quantity, line.unit) : ''}
                  </td>
                ))}
                <td className="number" data-head="In all">
                  {amountWords(toMillionths(line.total), line.unit)}
                </td>
                <td className="number" data-head="On hand">
                  {amountWords(toMillionths(line.onHand), line.unit)}
                </td>
                <td data-head="To order" className={line.packs > 0 || line.missing > 0 ? undefined : 'course-nothing'}>
                  {line.packs > 0 && (
                    <>
                      <Mark kind={line.late ? 'harm' : 'caution'} name={line.late ? 'too late' : 'to order'} />{' '}
                      {line.packs} {line.packs === 1 ? 'pack' : 'packs'}, {moneyWords(line.costMinor, currency)}
                      {line.orderBy !== null &&
                        (line.late
                          ? ', today, and late for the first need'
                          : `, by ${dayWords(line.orderBy, timeZone)}`)}
                    </>
                  )}
                  {line.packs === 0 && line.missing > 0 && (
                    <>
                      <Mark kind="harm" name="too late" /> What is on its way comes too late.
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

/** A day's share, as finely as a hand measures it; the heading of the row has the unit. */
function amount(quantity: number, unit: StockUnit): string {
  const digits = unit === 'm' || unit === 'sheet' ? 1 : 0;
  const least = 10 ** -digits;
  if (quantity < least / 2) return `< ${least.toLocaleString()}`;
  return quantity.toLocaleString(undefined, { maximumFractionDigits: digits });
}
