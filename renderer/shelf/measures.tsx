/** The measures of one book: its case, spine piece, linings and endpapers from its own size and binding, and what it differs in. */
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { BookOpened } from '../../core/contract/shelf.ts';
import { calculationsOn, measured, type OnBook } from '../../core/trade/book-measures.ts';
import type { Field } from '../../core/trade/calculation.ts';
import { ask, client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { TradeDrawing } from '../drawings/trade.tsx';
import { Button } from '../parts/controls.tsx';
import { Notice } from '../parts/notices.tsx';
import { SavedSelect, SavedText } from '../parts/saved.tsx';
import { Actions } from '../reckoner/actions.tsx';
import { glyphWidths } from '../reckoner/glyphs.ts';
import { Figures, Why } from '../reckoner/outcome.tsx';
import './measures.css';

type Keep = (calculation: string, typed: Readonly<Record<string, string>>) => Promise<unknown>;

export function Measures({ opened: { book } }: Readonly<{ opened: BookOpened }>) {
  const queries = useQueryClient();
  const options = ask.reckoner.kept.queryOptions({ input: { bookId: book.id } });
  const { data: kept } = useQuery(options);
  const size = measured(book);
  const shown = useMemo(() => (kept === undefined ? [] : calculationsOn(book, kept)), [book, kept]);

  const keep: Keep = async (calculation, typed) => {
    const next = await client.reckoner.keep({ bookId: book.id, calculation, typed });
    queries.setQueryData(options.queryKey, next);
    void queries.invalidateQueries({ predicate: ({ queryKey }) => queryKey !== options.queryKey });
  };

  return (
    <section className="pane-part" id="pane-measures">
      <h3>Measures</h3>
      {!size.ok && (
        <Notice>{size.refusal.sentence} Its case, linings, spine piece and endpapers follow from that.</Notice>
      )}
      {size.ok && shown.map((one) => <MeasuresOf key={one.calculation.id} on={one} bookId={book.id} keep={keep} />)}
    </section>
  );
}

function MeasuresOf({ on, bookId, keep }: Readonly<{ on: OnBook; bookId: string; keep: Keep }>) {
  const { calculation, typed, differs } = on;
  const { units } = useHabits();
  const answer = useMemo(
    () => calculation.reckon(typed, { unit: units, glyphs: glyphWidths() }),
    [calculation, typed, units],
  );
  const names = Object.keys(differs).flatMap((key) => calculation.fields[key]?.label ?? []);
  return (
    <details className="measures">
      <summary>
        {calculation.title}
        {names.length > 0 && <span className="soft"> · differs in {names.join(', ').toLowerCase()}</span>}
      </summary>
      {!answer.ok && (
        <Notice kind="caution">
          <p>{answer.refusal.sentence}</p>
        </Notice>
      )}
      {answer.ok && <Figures figures={answer.value.figures} units={units} />}
      {answer.ok && answer.value.drawing && <TradeDrawing drawing={answer.value.drawing} units={units} />}
      <details>
        <summary>Where this book differs</summary>
        <div className="fields">
          {Object.entries(calculation.fields).map(([key, field]) => (
            <FieldOnBook
              key={key}
              field={field}
              value={typed[key] ?? ''}
              itself={differs[key]}
              keep={(value) => keep(calculation.id, { [key]: value })}
            />
          ))}
        </div>
        {names.length > 0 && (
          <div className="actions">
            <Button
              onClick={() =>
                void keep(calculation.id, Object.fromEntries(Object.keys(differs).map((key) => [key, ''])))
              }
            >
              Back to the book’s own measures
            </Button>
          </div>
        )}
      </details>
      {answer.ok && (
        <details>
          <summary>Pieces to cut, and how it comes about</summary>
          <Why outcome={answer.value} units={units} />
        </details>
      )}
      {answer.ok && (
        <Actions calculation={calculation} typed={typed} outcome={answer.value} units={units} bookId={bookId} />
      )}
    </details>
  );
}

type FieldProps = Readonly<{
  field: Field;
  value: string;
  /** What the book itself gives, where something else was kept. */
  itself: string | undefined;
  keep: (value: string) => Promise<unknown>;
}>;

function FieldOnBook({ field, value, itself, keep }: FieldProps) {
  const own = itself === undefined ? field.hint : `the book itself: ${itself === '' ? 'worked out' : itself}`;
  const name = field.kind === 'number' && field.unit !== '' ? `${field.label}, ${field.unit}` : field.label;
  if (field.kind === 'choice') {
    return (
      <SavedSelect
        name={name}
        value={value}
        hint={own}
        options={field.options.map((option) => ({ value: option, words: option }))}
        keep={keep}
      />
    );
  }
  return <SavedText name={name} value={value} hint={own} long={field.kind === 'text'} keep={keep} />;
}
