/** What each column of the list holds, as proposed and as the person changes it. */
import { type Column, type ListField, listFields } from '../../../core/book/columns.ts';
import type { Looked } from '../../../core/contract/takein.ts';
import { SelectField } from '../../parts/controls.tsx';
import { Notice } from '../../parts/notices.tsx';
import { type ListState, type Look, mapColumn, useList } from './list-state.ts';

const fieldWords: Readonly<Record<ListField, string>> = {
  'shelf mark': 'Shelf mark',
  title: 'Title',
  author: 'Author',
  imprint: 'Publisher or imprint',
  date: 'Date',
  size: 'Size, height × width × thickness',
  height: 'Height',
  width: 'Width',
  thickness: 'Thickness',
  format: 'Format',
  pages: 'Pages',
  binding: 'Binding',
  colour: 'Colour of the covering',
  grain: 'Grain of the cloth',
  condition: 'Condition',
  lot: 'Lot',
  place: 'Place',
  fate: 'Fate',
  use: 'What it is for',
  significance: 'Significance',
  scarcity: 'Scarcity',
  completeness: 'Complete or not',
  note: 'Note',
  price: 'Price, kept in the note',
};

const leftOut = 'left out';
const options = [
  { value: leftOut, words: 'Leave this column out' },
  ...listFields.map((field) => ({ value: field as string, words: fieldWords[field] })),
];

type Props = Readonly<{ list: ListState; looked: Looked; onLook: (look: Look) => void }>;

export function Columns({ list, looked, onLook }: Props) {
  const leavingOut = looked.columns.filter((column, index) => !list.mapping[index] && column.samples.length > 0);
  return (
    <section aria-labelledby="takein-columns">
      <h2 id="takein-columns">What the columns hold</h2>
      {leavingOut.length > 0 && (
        <Notice kind="caution">
          <p>
            Something is written in {leavingOut.map((column) => `“${column.name}”`).join(', ')} that will be left out.
            Say what {leavingOut.length === 1 ? 'it holds' : 'they hold'}, if it should be kept.
          </p>
        </Notice>
      )}
      <ul className="takein-columns">
        {looked.columns.map((column, index) => {
          const field = list.mapping[index] ?? null;
          return (
            // The same heading may stand twice; the place in the list tells them apart.
            // biome-ignore lint/suspicious/noArrayIndexKey: columns neither move nor come and go.
            <li key={index} className={field === null ? 'takein-column takein-column-out' : 'takein-column'}>
              <SelectField
                name={column.name}
                hint={hintOf(column, field)}
                options={options}
                value={field ?? leftOut}
                onChange={(event) => mapColumn(index, listFields.find((known) => known === event.target.value) ?? null)}
              />
            </li>
          );
        })}
      </ul>
      {looked.form === 'list' && (
        <details className="takein-reading">
          <summary>How the file is read</summary>
          <div className="fields">
            <SelectField
              name="Figures without a unit are"
              value={list.defaultUnit}
              options={[
                { value: 'mm', words: 'Millimetres' },
                { value: 'cm', words: 'Centimetres' },
                { value: 'in', words: 'Inches' },
              ]}
              onChange={(event) => useList.setState({ defaultUnit: event.target.value as Looked['defaultUnit'] })}
            />
            <SelectField
              name="Between the cells stands"
              value={looked.separator}
              options={[
                { value: ';', words: 'a semicolon ;' },
                { value: ',', words: 'a comma ,' },
                { value: '\t', words: 'a tab' },
                { value: '|', words: 'a bar |' },
              ]}
              onChange={(event) => onLook({ change: { separator: event.target.value as Looked['separator'] } })}
            />
            <SelectField
              name="Letters are written in"
              value={looked.encoding}
              options={[
                { value: 'utf-8', words: 'UTF-8' },
                { value: 'windows-1252', words: 'Windows-1252' },
                { value: 'utf-16le', words: 'UTF-16, little end first' },
                { value: 'utf-16be', words: 'UTF-16, big end first' },
              ]}
              onChange={(event) => onLook({ change: { encoding: event.target.value as Looked['encoding'] } })}
            />
            <SelectField
              name="The first row is"
              value={looked.headings ? 'headings' : 'book'}
              options={[
                { value: 'headings', words: 'the headings' },
                { value: 'book', words: 'a book already' },
              ]}
              onChange={(event) => onLook({ change: { headings: event.target.value === 'headings' } })}
            />
          </div>
        </details>
      )}
    </section>
  );
}

/** Some cells, and how sure the proposal is while the person has not changed it. */
function hintOf(column: Column, field: ListField | null): string {
  const cells = column.samples.map((sample) => (sample.length > 32 ? `${sample.slice(0, 31)}…` : sample));
  const samples = cells.length === 0 ? 'every cell seen is empty' : cells.join(' · ');
  const unit = column.unit === null ? '' : ` (in ${column.unit})`;
  if (field === null || field !== column.field || column.sureness === 'sure') return samples + unit;
  return column.sureness === 'likely'
    ? `likely by its heading; ${samples}${unit}`
    : `likely by its cells; ${samples}${unit}`;
}
