/** Whether the copy is complete: leaves held against the collation of a perfect copy, plates against their list. */
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { whatLacks } from '../../core/book/completeness.ts';
import type { BookOpened } from '../../core/contract/shelf.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { Button } from '../parts/controls.tsx';
import { SavedText } from '../parts/saved.tsx';
import { useAnswer } from './keep.ts';

export function Completeness({ opened }: Readonly<{ opened: BookOpened }>) {
  const { id } = opened.book;
  const queries = useQueryClient();
  const { data: kept = {} } = useQuery(ask.reckoner.kept.queryOptions({ input: { bookId: id } }));
  const answer = useAnswer();
  const [trouble, setTrouble] = useState<string | null>(null);
  const { statement = '', copy = '' } = kept.collation ?? {};
  const { called = '', found = '' } = kept.plates ?? {};
  const keep = async (calculation: 'collation' | 'plates', typed: Readonly<Record<string, string>>) => {
    await client.reckoner.keep({ bookId: id, calculation, typed: { ...typed } });
    await queries.invalidateQueries();
  };
  const read = whatLacks({ statement, copy, called, found });
  const note = async (part: 'leaves' | 'plates', names: readonly string[]) => {
    setTrouble(null);
    try {
      const words = names.join(', ');
      await answer(
        client.shelf.addFinding({
          bookId: id,
          part,
          damage: 'missing',
          severity: 3,
          count: Math.min(9999, names.length),
          note: words.length > 150 ? `${words.slice(0, 149)}…` : words,
        }),
      );
    } catch (error) {
      setTrouble(readTrouble(error).sentence);
    }
  };
  const noted = (part: string) =>
    opened.findings.some((finding) => finding.part === part && finding.damage === 'missing');
  return (
    <details className="completeness">
      <summary>Complete? Hold it against its collation</summary>
      <div className="fields">
        <SavedText
          name="Collation of a perfect copy"
          value={statement}
          keep={(typed) => keep('collation', { statement: typed })}
        />
        <SavedText name="Leaves in this copy" value={copy} keep={(typed) => keep('collation', { copy: typed })} />
        <SavedText name="Plates called for" value={called} keep={(typed) => keep('plates', { called: typed })} />
        <SavedText name="Plates in this copy" value={found} keep={(typed) => keep('plates', { found: typed })} />
      </div>
      {!read.ok && <p className="field-trouble">{read.refusal.sentence}</p>}
      {read.ok && read.value.compared.length > 0 && (
        <>
          {read.value.compared.map((what) => {
            const names = what === 'leaves' ? read.value.leaves : read.value.plates;
            return (
              <p key={what}>
                {names.length === 0 ? `No ${what} are missing.` : `Missing ${what}: ${names.join(', ')}.`}{' '}
                {names.length > 0 && !noted(what) && (
                  <Button onClick={() => void note(what, names)}>Note the missing {what}</Button>
                )}
              </p>
            );
          })}
          {read.value.extraLeaves.length > 0 && <p>Besides, it has {read.value.extraLeaves.join(', ')}.</p>}
          {read.value.leaves.length + read.value.plates.length > 0 && opened.book.completeness !== 'incomplete' && (
            <Button onClick={() => void answer(client.shelf.save({ id, patch: { completeness: 'incomplete' } }))}>
              Note it as incomplete
            </Button>
          )}
          {read.value.leaves.length + read.value.plates.length === 0 && opened.book.completeness !== 'complete' && (
            <Button onClick={() => void answer(client.shelf.save({ id, patch: { completeness: 'complete' } }))}>
              Note it as complete
            </Button>
          )}
        </>
      )}
      {trouble !== null && (
        <p className="field-trouble" role="alert">
          {trouble}
        </p>
      )}
    </details>
  );
}
