/** The treatment proposed from the survey, or the one that was agreed: each step with its time, waiting, materials and cautions. */

import { useState } from 'react';
import type { BookOpened } from '../../core/contract/shelf.ts';
import type { MaterialNeed } from '../../core/stock/material.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { minutesWords, rangeWords } from '../../core/units/durations.ts';
import { client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { Button } from '../parts/controls.tsx';
import { Caution, Mark, Notice, TroubleNotice } from '../parts/notices.tsx';
import { dayWords } from '../parts/words.ts';
import { useAnswer } from './keep.ts';
import { OwnTreatment } from './own-treatment.tsx';
import { Ways } from './ways.tsx';

export function Treatment({ opened }: Readonly<{ opened: BookOpened }>) {
  const { agreed, proposal, stopped } = opened;
  const { timeZone } = useHabits();
  const answer = useAnswer();
  const [error, setError] = useState<unknown>(null);
  const [asProposed, setAsProposed] = useState(false);
  const showAgreed = agreed !== null && !asProposed;
  const steps = showAgreed ? agreed.steps : proposal.steps;
  const [ways, setWays] = useState(false);
  const [own, setOwn] = useState<readonly string[] | null>(null);

  async function settle(asked: () => Promise<BookOpened>): Promise<void> {
    setError(null);
    try {
      await answer(asked());
      setAsProposed(false);
      setWays(false);
      setOwn(null);
    } catch (thrown) {
      setError(thrown);
    }
  }
  const id = opened.book.id;
  const agree = () => settle(() => client.shelf.agree({ id }));
  const agreeTo = (operations: readonly string[]) =>
    settle(() => client.operations.agree({ bookId: id, operations: [...operations] }));

  return (
    <section className="pane-part" id="pane-treatment">
      <h3>{showAgreed ? 'Agreed treatment' : 'Proposed treatment'}</h3>
      {agreed !== null && (
        <p>
          <Mark kind="settled" /> Agreed {dayWords(agreed.agreedAt, timeZone)}.{' '}
          {agreed.current ? (
            <span className="soft">What is proposed now is the same.</span>
          ) : (
            <>
              What is proposed now is not the same.{' '}
              <Button look="quiet" onClick={() => setAsProposed(!asProposed)}>
                {asProposed ? 'Show what was agreed' : 'Show what is proposed now'}
              </Button>
            </>
          )}
        </p>
      )}
      {steps.length === 0 ? (
        <p className="soft">
          {opened.findings.length === 0
            ? 'A treatment is proposed as soon as the survey notes what is wrong.'
            : 'Nothing here is to be treated on this bench.'}
        </p>
      ) : (
        <>
          {!showAgreed && <Total opened={opened} />}
          <ol className="steps">
            {steps.map((step) => (
              <StepLine key={step.operationId} step={step} />
            ))}
          </ol>
          {!showAgreed && <Needs needs={proposal.needs} />}
        </>
      )}
      {!showAgreed && proposal.keeps.length > 0 && (
        <p>
          <strong>Stays original:</strong> {proposal.keeps.join('; ')}.
        </p>
      )}
      {!showAgreed && proposal.remarks.map((remark) => <Notice key={remark}>{remark}</Notice>)}
      {error !== null && <TroubleNotice error={error} />}
      {steps.length > 0 && !showAgreed && (
        <div className="actions">
          <Button look="main" onClick={agree} disabled={stopped !== null}>
            Agree to this treatment
          </Button>
          {stopped !== null && <span className="soft">{stopped}</span>}
        </div>
      )}
      <div className="actions">
        <Button look="quiet" aria-expanded={ways} onClick={() => setWays(!ways)}>
          {ways ? 'Hide the other ways' : 'Other ways of treating it'}
        </Button>
        {own === null && (
          <Button look="quiet" onClick={() => setOwn(steps.map(({ operationId }) => operationId))}>
            {showAgreed ? 'Change the agreed steps' : 'Change the steps by hand'}
          </Button>
        )}
      </div>
      {ways && (
        <Ways
          opened={opened}
          onAgree={agreeTo}
          onEdit={setOwn}
          onLeave={() => settle(() => client.shelf.save({ id, patch: { fate: 'leave' } }))}
        />
      )}
      {own !== null && (
        <OwnTreatment
          key={own.join('|')}
          bookId={id}
          start={own}
          stopped={stopped !== null}
          onAgree={agreeTo}
          onClose={() => setOwn(null)}
        />
      )}
    </section>
  );
}

function Total({ opened }: Readonly<{ opened: BookOpened }>) {
  const { minutes, waitMinutes, level } = opened.proposal;
  return (
    <p className="treatment-total">
      <strong>{rangeWords(minutes.low, minutes.high)}</strong> of hand-work, most likely {minutesWords(minutes.likely)}
      {waitMinutes > 0 && <>; {minutesWords(waitMinutes)} of drying and pressing</>}
      {'. '}
      <span className="soft">
        Eight times in ten it lies in this range. For {level === 'improver' ? 'an' : 'a'} {level}.
      </span>
    </p>
  );
}

function StepLine({ step }: Readonly<{ step: Step }>) {
  return (
    <li className="step">
      <div className="step-head">
        <span className="step-name">{step.name}</span>
        <span className="step-time">
          {rangeWords(step.learned?.low ?? step.minutes.low, step.learned?.high ?? step.minutes.high)}
        </span>
      </div>
      {step.learned !== undefined && (
        <p className="step-why">
          Most likely {minutesWords(step.minutes.likely)}, eight times in ten in this range:{' '}
          {step.learned.observations === 0
            ? 'the published time at your pace in other work.'
            : `learned from ${step.learned.observations} ${step.learned.observations === 1 ? 'time' : 'times'} in your day-book.`}
        </p>
      )}
      <p className="step-why">
        {step.why}
        {step.wait !== null && (
          <>
            {' · '}
            <span className="step-wait">
              then {minutesWords(step.wait.minutes)}{' '}
              {step.wait.held === 'air' ? 'in the open air' : heldWords(step.wait.held)}, {step.wait.what}
            </span>
          </>
        )}
      </p>
      {step.needs.length > 0 && (
        <p className="step-needs">{step.needs.map((need) => `${need.kind} ${quantityWords(need)}`).join(' · ')}</p>
      )}
      {step.cautions.map((caution) => (
        <Caution key={caution.sentence} sentence={caution.sentence} />
      ))}
      <details className="step-source">
        <summary>Where this comes from</summary>
        <p>
          {step.source}{' '}
          {step.level === 'newcomer'
            ? ''
            : `For ${step.level === 'improver' ? 'an improver' : 'a journeyman'} or better.`}
        </p>
        {step.needs.map((need) => (
          <p key={`${need.kind} ${need.working}`}>
            {need.kind}: {need.working}
          </p>
        ))}
      </details>
    </li>
  );
}

function Needs({ needs }: Readonly<{ needs: readonly MaterialNeed[] }>) {
  if (needs.length === 0) return null;
  const totals = new Map<string, { kind: string; unit: MaterialNeed['unit']; quantity: number; cuts: number }>();
  for (const { kind, unit, quantity, cut } of needs) {
    const key = `${kind} ${unit}`;
    const sum = totals.get(key) ?? { kind, unit, quantity: 0, cuts: 0 };
    totals.set(key, { ...sum, quantity: sum.quantity + quantity, cuts: sum.cuts + (cut?.count ?? 0) });
  }
  return (
    <details className="needs">
      <summary>Materials in all ({totals.size})</summary>
      <table className="table">
        <tbody>
          {[...totals.values()].map(({ kind, unit, quantity, cuts }) => (
            <tr key={`${kind} ${unit}`}>
              <th scope="row">{kind}</th>
              <td className="number">{amountWords(quantity, unit)}</td>
              <td className="soft">{cuts > 0 ? `${cuts} ${cuts === 1 ? 'piece' : 'pieces'} to cut` : ''}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function quantityWords({ unit, quantity, cut }: MaterialNeed): string {
  if (cut === null) return amountWords(quantity, unit);
  const size = `${Math.round(cut.heightMm)} × ${Math.round(cut.widthMm)} mm`;
  return cut.count === 1 ? size : `${cut.count} of ${size}`;
}

function amountWords(quantity: number, unit: MaterialNeed['unit']): string {
  if (unit === 'm2') return quantity < 0.1 ? `${Math.round(quantity * 10_000)} cm²` : `${quantity.toFixed(2)} m²`;
  if (unit === 'm') return quantity < 1 ? `${Math.round(quantity * 1000)} mm` : `${quantity.toFixed(2)} m`;
  if (quantity < 0.1) return `under 0.1 ${unit}`;
  const figure = quantity < 10 ? Math.round(quantity * 10) / 10 : Math.round(quantity);
  return unit === 'piece' ? `× ${figure}` : `${figure} ${unit}`;
}

function heldWords(tool: string): string {
  return tool === 'weights' ? 'under weights' : `in the ${tool}`;
}
