/** The first rows as they will be understood, what the list adds beside books, and the books that are in the workshop already. */
import type { Checked, Looked } from '../../../core/contract/takein.ts';
import { useList } from './list-state.ts';
import { rowName, rowsInWords, shortened } from './words.ts';

export function Preview({ checked, looked }: Readonly<{ checked: Checked; looked: Looked }>) {
  const adds = [
    checked.findings > 0 ? `${checked.findings} findings are read out of the conditions.` : '',
    namesInWords('New lots', checked.newLots),
    namesInWords('New places', checked.newPlaces),
    ...checked.remarks,
  ].filter((words) => words !== '');
  return (
    <section aria-labelledby="takein-preview">
      <h2 id="takein-preview">As it will be understood</h2>
      {checked.preview.length === 0 ? (
        <p>No row can be taken in as it stands.</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways is reached by keyboard.
        <section className="table-scroll" aria-label="The first rows" tabIndex={0}>
          <table className="table takein-preview">
            <thead>
              <tr>
                <th scope="col">{rowName(looked)}</th>
                <th scope="col">Mark</th>
                <th scope="col">Book</th>
                <th scope="col">Date</th>
                <th scope="col">Size</th>
                <th scope="col">Binding</th>
                <th scope="col">Findings</th>
                <th scope="col">Note</th>
              </tr>
            </thead>
            <tbody>
              {checked.preview.map((row) => (
                <tr key={row.line}>
                  <td className="number">{row.line}</td>
                  <td>{row.shelfMark}</td>
                  <td>
                    <span className="takein-title">{shortened(row.title, 90)}</span>
                    {row.author !== '' && <span className="soft"> {row.author}</span>}
                  </td>
                  <td>{row.date}</td>
                  <td className="takein-size">{row.size}</td>
                  <td>{row.binding}</td>
                  <td>{row.findings.join('; ')}</td>
                  <td className="soft small takein-note">{shortened(row.note, 140)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      {adds.map((words) => (
        <p key={words} className="takein-adds">
          {words}
        </p>
      ))}
    </section>
  );
}

type DuplicatesProps = Readonly<{ checked: Checked; looked: Looked; skip: boolean }>;

export function Duplicates({ checked, looked, skip }: DuplicatesProps) {
  const { duplicates, duplicatesTotal } = checked;
  if (duplicatesTotal === 0 && skip) return null;
  return (
    <section aria-labelledby="takein-known">
      <h2 id="takein-known">In the workshop already</h2>
      <p>
        {skip
          ? `${rowsInWords(duplicatesTotal)} of books that are here already ${duplicatesTotal === 1 ? 'is' : 'are'} skipped.`
          : 'Second copies are taken in, save those whose shelf mark is taken.'}
      </p>
      <label className="takein-check">
        <input
          type="checkbox"
          checked={!skip}
          onChange={(event) => useList.setState({ skipDuplicates: !event.target.checked })}
        />
        These are second copies: take them in too
      </label>
      {duplicates.length > 0 && (
        <details>
          <summary>Show which</summary>
          <ul className="takein-known">
            {duplicates.map(({ line, title, because }) => (
              <li key={line}>
                {rowName(looked)} {line}: <span className="takein-title">{shortened(title, 90)}</span>, {because}
              </li>
            ))}
            {duplicatesTotal > duplicates.length && <li>and {duplicatesTotal - duplicates.length} more</li>}
          </ul>
        </details>
      )}
    </section>
  );
}

function namesInWords(what: string, names: readonly string[]): string {
  if (names.length === 0) return '';
  const shown = names.slice(0, 8).map((name) => shortened(name, 60));
  const rest = names.length - shown.length;
  return `${what}: ${shown.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}.`;
}
