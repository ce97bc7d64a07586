/** The operations of this bench: those the program brings, those changed here, and the workshop's own; each can be opened and changed. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { ListedOperation } from '../../../core/contract/operations.ts';
import { rangeWords } from '../../../core/units/durations.ts';
import { ask, client } from '../../app/client.ts';
import { useChange, useHabits } from '../../app/queries.ts';
import { goTo } from '../../app/route.ts';
import { Button, TextField } from '../../parts/controls.tsx';
import { TroubleNotice } from '../../parts/notices.tsx';
import { dayWords } from '../../parts/words.ts';
import { OperationForm } from './operation-form.tsx';
import './operations.css';

const standings = { brought: 'as the program brings it', changed: 'changed here', own: 'your own' } as const;

export function Operations() {
  const { data, error } = useQuery(ask.operations.list.queryOptions());
  const [open, setOpen] = useState<string | null>(null);
  const [words, setWords] = useState('');
  if (error !== null) return <TroubleNotice error={error} />;
  if (data === undefined) return <p className="soft">Fetching the operations …</p>;
  const chosen = data.find(({ operation }) => operation.id === open);
  if (open !== null && (open === '' || chosen !== undefined)) {
    return <One key={open} listed={chosen ?? null} all={data} onClose={() => setOpen(null)} />;
  }
  const shown = data.filter(({ operation }) => operation.name.toLowerCase().includes(words.trim().toLowerCase()));
  return (
    <div className="operations">
      <header className="operations-head">
        <h2>Operations of this bench</h2>
        <div className="actions">
          <Button look="main" onClick={() => setOpen('')}>
            New operation
          </Button>
          <Button look="quiet" onClick={() => goTo('shelf')}>
            Back to the shelf
          </Button>
        </div>
      </header>
      <p className="soft">
        Proposals, estimates, the bench, courses and the cupboard all work with these, in this order. What was agreed
        for a book keeps what was meant when it was agreed.
      </p>
      <TextField name="Find" type="search" value={words} onChange={(event) => setWords(event.target.value)} />
      <div className="table-scroll">
        <table className="table">
          <thead>
            <tr>
              <th>Operation</th>
              <th>For</th>
              <th className="number">Minutes</th>
              <th>Standing</th>
            </tr>
          </thead>
          <tbody>
            {shown.map(({ operation, standing }) => (
              <tr key={operation.id}>
                <th scope="row">
                  <Button look="quiet" onClick={() => setOpen(operation.id)}>
                    {operation.name}
                  </Button>
                </th>
                <td>{operation.level}</td>
                <td className="number">{rangeWords(operation.minutes.low, operation.minutes.high)}</td>
                <td className={standing === 'brought' ? 'soft' : ''}>{standings[standing]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {shown.length === 0 && <p className="soft">No operation is called so.</p>}
    </div>
  );
}

type OneProps = Readonly<{ listed: ListedOperation | null; all: readonly ListedOperation[]; onClose: () => void }>;

function One({ listed, all, onClose }: OneProps) {
  const { timeZone } = useHabits();
  const withdraw = useChange(client.operations.withdraw, () => 'Withdrawn. Ctrl+Z takes it back.');
  return (
    <div className="operations">
      <header className="operations-head">
        <h2>{listed?.operation.name ?? 'A new operation'}</h2>
        <Button look="quiet" onClick={onClose}>
          Back to the operations
        </Button>
      </header>
      {listed !== null && (
        <p className="soft">
          {standings[listed.standing]}
          {listed.versions.map(({ version, madeAt, withdrawn }) => (
            <span key={version}>
              {' · '}version {version} {withdrawn ? 'withdrew it' : 'written'} {dayWords(madeAt, timeZone)}
            </span>
          ))}
        </p>
      )}
      <OperationForm operation={listed?.operation ?? null} all={all} onDone={onClose} />
      {listed !== null && listed.standing !== 'brought' && (
        <div className="actions">
          <Button
            look="harm"
            disabled={withdraw.isPending}
            onClick={() => withdraw.mutate({ id: listed.operation.id }, { onSuccess: onClose })}
          >
            {listed.standing === 'own' ? 'Withdraw this operation' : 'Go back to how the program brings it'}
          </Button>
        </div>
      )}
      {withdraw.error !== null && <TroubleNotice error={withdraw.error} />}
    </div>
  );
}
