/** What is to become of the book: said by the person, suggested with a reason until then. */
import { useState } from 'react';
import { type Fate, fates, type Stage, stages } from '../../core/book/book.ts';
import type { BookOpened, BookPatch } from '../../core/contract/shelf.ts';
import { isSurveyed } from '../../core/triage/fate.ts';
import { readTrouble } from '../app/client.ts';
import { SavedSelect } from '../parts/saved.tsx';
import { FateMark } from './fate-mark.tsx';
import { useKeep } from './keep.ts';

export function FateChoice({ opened }: Readonly<{ opened: BookOpened }>) {
  const { book, findings, suggestedFate } = opened;
  const keep = useKeep(book.id);
  const [trouble, setTrouble] = useState<string | null>(null);
  async function save(patch: BookPatch): Promise<void> {
    try {
      await keep(patch);
      setTrouble(null);
    } catch (error) {
      setTrouble(readTrouble(error).sentence);
    }
  }
  const choices: readonly (Fate | null)[] = [...fates, null];
  return (
    <section className="pane-part" id="pane-fate">
      <h3 id="fate-name">Fate</h3>
      <div className="fate-choices" role="radiogroup" aria-labelledby="fate-name">
        {choices.map((fate) => (
          <label key={fate ?? 'none'} className={book.fate === fate ? 'fate-way fate-chosen' : 'fate-way'}>
            <input
              type="radio"
              name="fate"
              className="visually-hidden"
              checked={book.fate === fate}
              onChange={() => save({ fate })}
            />
            {fate !== null && <FateMark fate={fate} />}
            {fate ?? 'not decided'}
          </label>
        ))}
      </div>
      {trouble !== null && (
        <p className="field-trouble" role="alert">
          {trouble}
        </p>
      )}
      {book.fate === null || !book.fateLocked ? (
        <p>
          Suggested: <strong>{isSurveyed(book, findings) ? suggestedFate.fate : 'survey first'}</strong>.{' '}
          <span className="soft">
            {isSurveyed(book, findings) ? suggestedFate.reason : 'Neither its damage nor its hand-work is known yet.'}
          </span>
        </p>
      ) : null}
      <div className="fate-more">
        <label className="check">
          <input
            type="checkbox"
            checked={book.fateLocked}
            disabled={book.fate === null}
            onChange={(event) => save({ fateLocked: event.target.checked })}
          />
          Locked: no proposal may change it
        </label>
        <SavedSelect
          name="Stands"
          className="field-inline"
          value={book.stage}
          options={stages.map((stage) => ({ value: stage, words: stage }))}
          keep={(stage: Stage) => keep({ stage })}
        />
      </div>
    </section>
  );
}
