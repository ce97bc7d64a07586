/** What may harm whoever handles the book. Each is decided in writing, and until then the book is kept out of every plan. */
import { useState } from 'react';
import type { BookOpened, NotedHazard } from '../../core/contract/shelf.ts';
import { client, readTrouble } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { Button, LongField } from '../parts/controls.tsx';
import { Mark, Notice } from '../parts/notices.tsx';
import { dayWords } from '../parts/words.ts';
import { useAnswer } from './keep.ts';

export function Hazards({ opened }: Readonly<{ opened: BookOpened }>) {
  const open = opened.hazards.some((hazard) => hazard.state === 'raised');
  return (
    <section className="pane-part" aria-label="Hazards">
      {opened.hazards.map((hazard) => (
        <Hazard key={`${hazard.id} ${hazard.state}`} hazard={hazard} />
      ))}
      {open && (
        <p className="small soft">
          Follow your local rules; for objects of value ask an accredited conservator. Until this is decided the book is
          not planned, not taught with and not broken up.
        </p>
      )}
    </section>
  );
}

function Hazard({ hazard }: Readonly<{ hazard: NotedHazard }>) {
  const { timeZone } = useHabits();
  const answer = useAnswer();
  const [decision, setDecision] = useState('');
  const [trouble, setTrouble] = useState<string | undefined>();
  async function decide(state: 'raised' | 'confirmed' | 'cleared'): Promise<void> {
    try {
      await answer(client.shelf.decideHazard({ id: hazard.id, state, decision: state === 'raised' ? '' : decision }));
    } catch (error) {
      setTrouble(readTrouble(error).sentence);
    }
  }
  if (hazard.state !== 'raised') {
    const confirmed = hazard.state === 'confirmed';
    return (
      <Notice kind={confirmed ? 'harm' : 'settled'}>
        <p>
          <strong>
            {capital(hazard.kind)}: {hazard.state}
          </strong>
          {hazard.decidedAt !== null && <span className="soft"> {dayWords(hazard.decidedAt, timeZone)}</span>}
        </p>
        <p>{hazard.decision}</p>
        <Button look="quiet" onClick={() => decide('raised')}>
          Look at it again
        </Button>
      </Notice>
    );
  }
  return (
    <Notice kind="caution">
      <p>
        <strong>Possible {hazard.kind}</strong>
      </p>
      <p>{hazard.reason}</p>
      <LongField
        name="What you looked at and what was decided"
        value={decision}
        trouble={trouble}
        rows={2}
        onChange={(event) => setDecision(event.target.value)}
      />
      <div className="actions">
        <Button onClick={() => decide('confirmed')}>
          <Mark kind="harm" /> Confirm it
        </Button>
        <Button onClick={() => decide('cleared')}>
          <Mark kind="settled" /> Clear it
        </Button>
      </div>
    </Notice>
  );
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
