/** The ways of treating a book side by side, least intervention first: hours, what stays, what is given up, what each needs. */
import { useQuery } from '@tanstack/react-query';
import type { BookOpened } from '../../core/contract/shelf.ts';
import type { Alternative } from '../../core/treatment/compose.ts';
import { minutesWords, rangeWords } from '../../core/units/durations.ts';
import { ask } from '../app/client.ts';
import { Button } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import './ways.css';

type Props = Readonly<{
  opened: BookOpened;
  onAgree: (operations: readonly string[]) => void;
  /** Goes on from this way by hand. */
  onEdit: (operations: readonly string[]) => void;
  onLeave: () => void;
}>;

export function Ways({ opened, onAgree, onEdit, onLeave }: Props) {
  const { data, error } = useQuery(ask.operations.alternatives.queryOptions({ input: { bookId: opened.book.id } }));
  if (error !== null) return <TroubleNotice error={error} />;
  if (data === undefined) return <p className="soft">Working out the ways …</p>;
  return (
    <ul className="ways" aria-label="Ways of treating it">
      {data.map((way) => (
        <Way
          key={way.key}
          way={way}
          stopped={opened.stopped !== null}
          onAgree={onAgree}
          onEdit={onEdit}
          onLeave={onLeave}
        />
      ))}
    </ul>
  );
}

type WayProps = Omit<Props, 'opened'> & Readonly<{ way: Alternative; stopped: boolean }>;

function Way({ way, stopped, onAgree, onEdit, onLeave }: WayProps) {
  const { proposal, answers, givesUp } = way;
  const ids = proposal.steps.map(({ operationId }) => operationId);
  const tools = [...new Set(proposal.steps.flatMap((step) => step.tools))];
  const needs = [...new Set(proposal.needs.map(({ kind }) => kind))];
  return (
    <li className="way">
      <h4>{way.name}</h4>
      <p className="soft">{way.words}</p>
      <dl className="way-facts">
        <dt>Hand-work</dt>
        <dd>
          {ids.length === 0 ? 'none' : rangeWords(proposal.minutes.low, proposal.minutes.high)}
          {proposal.waitMinutes > 0 && <span className="soft">, then {minutesWords(proposal.waitMinutes)} drying</span>}
        </dd>
        <dt>Answers</dt>
        <dd>
          {answers.answered} of {answers.of} findings
        </dd>
        <dt>Stays</dt>
        <dd>{ids.length === 0 ? 'everything as it is' : proposal.keeps.join('; ') || 'see its steps'}</dd>
        <dt>Gives up</dt>
        <dd>{givesUp.length === 0 ? 'nothing' : givesUp.join('; ')}</dd>
        <dt>Needs</dt>
        <dd>{[...tools, ...needs].join(', ') || 'nothing'}</dd>
      </dl>
      {ids.length > 0 && (
        <details>
          <summary>{ids.length === 1 ? 'Its one step' : `Its ${ids.length} steps`}</summary>
          <ol>
            {proposal.steps.map((step) => (
              <li key={step.operationId}>{step.name}</li>
            ))}
          </ol>
        </details>
      )}
      {proposal.remarks.map((remark) => (
        <p key={remark} className="soft">
          {remark}
        </p>
      ))}
      <div className="actions">
        {ids.length === 0 ? (
          <Button aria-label={`Decide: ${way.name}`} onClick={onLeave}>
            Decide to leave it
          </Button>
        ) : (
          <>
            <Button aria-label={`Agree to: ${way.name}`} disabled={stopped} onClick={() => onAgree(ids)}>
              Agree to this
            </Button>
            <Button look="quiet" aria-label={`Go on by hand from: ${way.name}`} onClick={() => onEdit(ids)}>
              Go on by hand
            </Button>
          </>
        )}
      </div>
    </li>
  );
}
