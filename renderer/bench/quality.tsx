/** How good the plan is: when it is over, how much better it could be at most, how sure it is. */
import type { Quality } from '../../core/contract/bench.ts';
import { gapWords } from '../../core/schedule/gap-words.ts';
import { Mark } from '../parts/notices.tsx';
import { clockWords, dayWords } from '../parts/words.ts';

export function QualityLine({ quality, timeZone }: Readonly<{ quality: Quality; timeZone: string }>) {
  const { finishAt, chance, runs, late, remarks } = quality;
  const better = gapWords(quality);
  const doubtful = late > 0 || (chance !== null && chance < likely);
  return (
    <div className="quality">
      <p>
        <Mark kind={doubtful ? 'caution' : 'settled'} name={doubtful ? 'doubtful' : 'in time'} /> The last book is out{' '}
        <strong>
          {dayWords(finishAt, timeZone)} {clockWords(finishAt, timeZone)}
        </strong>
        .{late > 0 && ` ${late} ${late === 1 ? 'step falls' : 'steps fall'} after the week’s end.`}
      </p>
      <p>
        {better[0]?.toUpperCase()}
        {better.slice(1)}.
      </p>
      {chance !== null && <p>{chanceWords(chance, runs)}</p>}
      {remarks.map((remark) => (
        <p key={remark} className="soft">
          {remark}
        </p>
      ))}
    </div>
  );
}

/** A week that holds less often than this is not called safe. Our own choice. */
const likely = 0.6;

/** Fewer simulated weeks than this leave the chance uncertain by more than 5 in 100 either way. */
const enoughRuns = 100;

function chanceWords(chance: number, runs: number): string {
  const from = runs > 0 && runs < enoughRuns ? ` Only ${runs} weeks were simulated, so take it as a rough figure.` : '';
  const said = `In ${Math.round(chance * 100)} of 100 simulated weeks everything is out by the week’s end.`;
  return chance < likely ? `${said} Leave a book out to be surer.${from}` : `${said}${from}`;
}
