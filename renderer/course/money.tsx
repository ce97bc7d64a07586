/** What it costs, from how many people it pays, and how many it could hold. */
import type { Course } from '../../core/contract/course.ts';
import { resultOf } from '../../core/course/money.ts';
import { Mark } from '../parts/notices.tsx';
import { moneyWords } from '../parts/words.ts';

/** From here on it does not matter how many more. */
const endless = 40;

export function Money({ course }: Readonly<{ course: Course }>) {
  const { money, frame, currency, limits } = course;
  const words = (minor: number) => moneyWords(minor, currency);
  const most = Math.max(money.confirmed, Math.min(24, frame.benches + 4), (money.breakEven ?? 0) + 2);
  const open = limits.filter(({ people }) => people >= endless);
  const rowLook = (people: number) =>
    people === money.confirmed ? 'course-now' : people > frame.benches ? 'soft' : undefined;
  return (
    <section aria-label="Money">
      <div className="course-two">
        <div>
          <h3>Does it pay?</h3>
          <p>
            <Mark
              kind={money.resultMinor >= 0 ? 'settled' : 'caution'}
              name={money.resultMinor >= 0 ? 'pays' : 'loses'}
            />{' '}
            {money.breakEven === null
              ? money.breakEvenWords
              : `It pays from ${money.breakEven} ${money.breakEven === 1 ? 'person' : 'people'}. With the ${money.confirmed} confirmed ${words(Math.abs(money.resultMinor))} ${money.resultMinor >= 0 ? 'are left over' : 'are lost'}.`}
          </p>
          <p className="soft">
            At {words(money.coveringFeeMinor)} a head the {Math.max(1, money.confirmed)} would just cover everything.
            Your own time is not counted.
          </p>
          {most > frame.benches && (
            <p className="soft">
              <Mark kind="caution" /> Rows so marked are for more people than the {frame.benches}{' '}
              {frame.benches === 1 ? 'bench' : 'benches'} there {frame.benches === 1 ? 'is' : 'are'}.
            </p>
          )}
          <table className="table">
            <thead>
              <tr>
                <th className="number">People</th>
                <th className="number">Fees</th>
                <th className="number">Costs</th>
                <th className="number">Left over</th>
              </tr>
            </thead>
            <tbody>
              {Array.from({ length: most }, (_, index) => index + 1).map((people) => (
                <tr key={people} className={rowLook(people)}>
                  <td className="number">
                    {people > frame.benches && <Mark kind="caution" name="more than there are benches" />} {people}
                  </td>
                  <td className="number">{words(people * frame.feeMinor)}</td>
                  <td className="number">{words(frame.fixedCostMinor + people * frame.perHeadCostMinor)}</td>
                  <td className="number">{words(resultOf(frame, people))}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <div>
          <h3>How many it could hold</h3>
          <p className="soft">
            Reckoned from what the present people use on average; what is short first stands first. Whether a number
            really fits, the timetable shows.
          </p>
          <ul className="course-list">
            {limits
              .filter(({ people }) => people < endless)
              .map((limit) => (
                <li key={limit.what}>
                  <span>{limit.what}</span>
                  <strong className="number">{limit.people}</strong>
                  <span className="small">{limit.sentence}</span>
                </li>
              ))}
          </ul>
          {open.length > 0 && (
            <p className="soft">
              Would do for {endless} or more: {open.map(({ what }) => what).join(', ')}.
            </p>
          )}
        </div>
      </div>
    </section>
  );
}
