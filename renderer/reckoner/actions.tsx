/** What can be done with an answer: copied, printed at its own size, kept as a picture, sent to a book. */
import { memo, useState } from 'react';
import type { Calculation, Outcome } from '../../core/trade/calculation.ts';
import { drawingFile } from '../../core/trade/drawing-file.ts';
import { measureWords } from '../../core/trade/picture.ts';
import { type Paper, papers } from '../../core/trade/tiles.ts';
import { client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { say } from '../app/say.ts';
import { Button, SelectField } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { TroubleNotice } from '../parts/notices.tsx';
import { glyphWidths } from './glyphs.ts';
import { asText, type Units } from './outcome.tsx';
import { SendToBook } from './send-to-book.tsx';

type Props = Readonly<{
  calculation: Calculation;
  typed: Readonly<Record<string, string>>;
  outcome: Outcome;
  units: Units;
  /** The book it is reckoned for, which it then need not be sent to. */
  bookId?: string;
}>;

export const Actions = memo(function Actions({ calculation, typed, outcome, units, bookId }: Props) {
  const { paper: usual } = useHabits();
  const [paper, setPaper] = useState<Paper>(usual === 'LETTER' ? 'Letter' : 'A4');
  const [sending, setSending] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const { drawing } = outcome;

  async function attempt(work: () => Promise<void>): Promise<void> {
    setError(null);
    try {
      await work();
    } catch (thrown) {
      setError(thrown);
    }
  }

  async function copy(): Promise<void> {
    await navigator.clipboard.writeText(asText(outcome, calculation.title, units));
    say('Copied.');
  }

  async function print(): Promise<void> {
    const answer = await client.reckoner.print({
      calculation: calculation.id,
      typed,
      paper,
      glyphs: glyphWidths(),
      ...(bookId === undefined ? {} : { bookId }),
    });
    saveFile(answer);
  }

  async function keepPicture(): Promise<void> {
    if (drawing === undefined) return;
    const bytes = new TextEncoder().encode(drawingFile(drawing, measureWords(units, true)));
    const base64 = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
    saveFile({ fileName: `${calculation.id}.svg`, mediaType: 'image/svg+xml', base64 });
  }

  return (
    <div className="reckoning-actions">
      {error !== null && <TroubleNotice error={error} />}
      {drawing !== undefined && (
        <SelectField
          name="Paper to print on"
          value={paper}
          onChange={(event) => setPaper(event.target.value as Paper)}
          options={papers.map((one) => ({ value: one, words: one }))}
        />
      )}
      <div className="actions">
        {bookId === undefined && (
          <Button look="main" onClick={() => setSending(true)}>
            Send to a book
          </Button>
        )}
        <Button onClick={() => void attempt(copy)}>Copy as text</Button>
        {drawing !== undefined && (
          <>
            <Button onClick={() => void attempt(keepPicture)}>Save the drawing</Button>
            <Button onClick={() => void attempt(print)}>Print at its own size</Button>
          </>
        )}
      </div>
      {sending && <SendToBook calculation={calculation} typed={typed} onClose={() => setSending(false)} />}
    </div>
  );
});
