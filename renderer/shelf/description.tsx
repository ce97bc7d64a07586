/** What the book is, field by field; each keeps itself. */
import { useQuery } from '@tanstack/react-query';
import {
  type Binding,
  bindings,
  type Completeness,
  completenesses,
  type GrainPattern,
  grainPatterns,
  type Scarcity,
  scarcities,
  type Use,
  uses,
} from '../../core/book/book.ts';
import type { BookOpened } from '../../core/contract/shelf.ts';
import { formatInches, formatMm, readLength } from '../../core/units/lengths.ts';
import { ask } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { Refusal } from '../parts/refusal.ts';
import { SavedSelect, SavedText } from '../parts/saved.tsx';
import { useKeep } from './keep.ts';
import { clothWords, formatWords } from './known-words.ts';

export function Description({ opened }: Readonly<{ opened: BookOpened }>) {
  const { book, lot, place } = opened;
  const keep = useKeep(book.id);
  const { data: lots } = useQuery(ask.shelf.lots.queryOptions());
  const { data: places } = useQuery(ask.shelf.places.queryOptions());
  return (
    <section className="pane-part" id="pane-description">
      <h3>Description</h3>
      <SavedText name="Title" value={book.title} keep={(title) => keep({ title })} />
      <div className="fields">
        <SavedText name="Author" value={book.author} keep={(author) => keep({ author })} />
        <SavedText name="Imprint" value={book.imprint} keep={(imprint) => keep({ imprint })} />
        <SavedText
          name="Date, as written"
          value={book.dateText}
          hint={yearsRead(book.dateText, book.yearFrom, book.yearTo)}
          keep={(dateText) => keep({ dateText })}
        />
        <SavedText
          name="Shelf mark"
          value={book.shelfMark ?? ''}
          keep={(text) => keep({ shelfMark: text.trim() === '' ? null : text })}
        />
        <MeasureField name="Height" mm={book.heightMm} keep={(heightMm) => keep({ heightMm })} />
        <MeasureField name="Width" mm={book.widthMm} keep={(widthMm) => keep({ widthMm })} />
        <MeasureField name="Thickness" mm={book.thicknessMm} keep={(thicknessMm) => keep({ thicknessMm })} />
        <SavedText name="Format" value={book.format} known={formatWords} keep={(format) => keep({ format })} />
        <SavedText
          name="Pages, as written"
          value={book.pagesText}
          hint={book.pages === null ? '' : `${book.pages} pages`}
          keep={(pagesText) => keep({ pagesText })}
        />
        <SavedSelect
          name="Binding"
          value={book.binding ?? ''}
          options={withNone(bindings, 'not described')}
          keep={(binding) => keep({ binding: binding === '' ? null : (binding as Binding) })}
        />
        <SavedText name="Colour" value={book.colour} known={clothWords} keep={(colour) => keep({ colour })} />
        <SavedSelect
          name="Grain"
          value={book.pattern ?? ''}
          options={withNone(grainPatterns, 'not described')}
          keep={(pattern) => keep({ pattern: pattern === '' ? null : (pattern as GrainPattern) })}
        />
        <SavedText
          name="Lot"
          value={lot}
          known={lots?.map(({ name }) => name)}
          hint="A new name makes a new lot."
          keep={(name) => keep({ lot: name })}
        />
        <SavedText
          name="Place"
          value={place}
          known={places?.map(({ name }) => name)}
          hint="Within another: Back room › Case 2."
          keep={(name) => keep({ place: name })}
        />
        <SavedSelect
          name="Will be used for"
          value={book.use}
          options={plain(uses)}
          keep={(use: Use) => keep({ use })}
        />
        <SavedSelect
          name="Significance"
          value={`${book.significance}`}
          options={['none', 'some', 'considerable', 'outstanding'].map((words, value) => ({
            value: `${value}`,
            words,
          }))}
          keep={(value) => keep({ significance: Number(value) as 0 | 1 | 2 | 3 })}
        />
        <SavedSelect
          name="Scarcity"
          value={book.scarcity}
          options={plain(scarcities)}
          keep={(scarcity: Scarcity) => keep({ scarcity })}
        />
        <SavedSelect
          name="Complete"
          value={book.completeness}
          options={plain(completenesses)}
          keep={(completeness: Completeness) => keep({ completeness })}
        />
      </div>
      <SavedText long name="Note" value={book.note} keep={(note) => keep({ note })} />
    </section>
  );
}

type MeasureProps = Readonly<{ name: string; mm: number | null; keep: (mm: number | null) => Promise<unknown> }>;

/** Written in any unit, "9 1/8 in" or "22,5 cm"; shown in the workshop's own with the other below. */
function MeasureField({ name, mm, keep }: MeasureProps) {
  const { units } = useHabits();
  const shown = mm === null ? '' : units === 'mm' ? formatMm(mm) : formatInches(mm);
  const other = mm === null ? 'not measured' : `= ${units === 'mm' ? formatInches(mm) : formatMm(mm)}`;
  return (
    <SavedText
      name={name}
      value={shown}
      hint={other}
      keep={(text) => {
        if (text.trim() === '') return keep(null);
        const read = readLength(text, { defaultUnit: units });
        return read.ok ? keep(read.value) : Promise.reject(new Refusal(read.refusal.sentence));
      }}
    />
  );
}

function yearsRead(text: string, from: number | null, to: number | null): string {
  if (text.trim() === '') return '';
  if (from === null || to === null) return 'No year was read from this; it is kept as written.';
  return from === to ? `${from}` : `${from} to ${to}`;
}

function plain<T extends string>(words: readonly T[]): readonly Readonly<{ value: T; words: string }>[] {
  return words.map((value) => ({ value, words: value }));
}

function withNone(words: readonly string[], none: string): readonly Readonly<{ value: string; words: string }>[] {
  return [{ value: '', words: none }, ...plain(words)];
}
