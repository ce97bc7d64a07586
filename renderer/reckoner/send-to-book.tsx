/** Which book an answer is for. What was typed is kept there where it differs from the book's own measures. */

import { keepPreviousData, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { ShelfRow } from '../../core/contract/shelf.ts';
import type { Calculation } from '../../core/trade/calculation.ts';
import { ask, client } from '../app/client.ts';
import { say } from '../app/say.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { shortened } from '../parts/words.ts';

type Props = Readonly<{ calculation: Calculation; typed: Readonly<Record<string, string>>; onClose: () => void }>;

export function SendToBook({ calculation, typed, onClose }: Props) {
  const [words, setWords] = useState('');
  const [error, setError] = useState<unknown>(null);
  const queries = useQueryClient();
  const found = useQuery({
    ...ask.shelf.list.queryOptions({ input: { words, filter: {}, sort: 'attention', offset: 0, limit: 8 } }),
    placeholderData: keepPreviousData,
  });
  const said = Object.keys(typed).length > 0;

  async function send(row: ShelfRow): Promise<void> {
    setError(null);
    try {
      const before = await client.reckoner.kept({ bookId: row.id });
      const after = await client.reckoner.keep({ bookId: row.id, calculation: calculation.id, typed });
      say(
        JSON.stringify(before) === JSON.stringify(after)
          ? `“${shortened(row.title)}” has these measures already.`
          : `${calculation.title} kept with “${shortened(row.title)}”. Ctrl+Z takes it back.`,
      );
      void queries.invalidateQueries();
      onClose();
    } catch (thrown) {
      setError(thrown);
    }
  }

  return (
    <Dialog title={`Send “${calculation.title}” to a book`} onClose={onClose}>
      <p className="soft">
        {said
          ? 'What you typed is kept with the book where it differs from the book’s own measures; the rest follows the book.'
          : 'Nothing has been typed yet. A book has its own measures already; type what is to differ.'}
      </p>
      <TextField
        name="Find the book"
        value={words}
        onChange={(event) => setWords(event.target.value)}
        autoComplete="off"
        autoFocus
      />
      {error !== null && <TroubleNotice error={error} />}
      {found.error !== null && <TroubleNotice error={found.error} />}
      <ul className="send-books">
        {found.data?.rows.map((row) => (
          <li key={row.id}>
            <Button look="quiet" disabled={!said} onClick={() => void send(row)}>
              {shortened(row.title)}
              <span className="soft"> {[row.author, row.dateText].filter(Boolean).join(', ')}</span>
            </Button>
          </li>
        ))}
      </ul>
      {found.data?.total === 0 && <p className="soft">No book answers to that.</p>}
    </Dialog>
  );
}
