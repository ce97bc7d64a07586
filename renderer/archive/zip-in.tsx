/** A workshop back out of a zip: what is in it first, then into a new folder, never over one. */
import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { ZipContent } from '../../core/contract/archive.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { goTo } from '../app/route.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import './archive.css';
import { Progress } from './progress.tsx';
import { momentWords, photographWords, sizeWords } from './words.ts';

export function ZipIn({ suggestedFolder }: Readonly<{ suggestedFolder: string }>) {
  const queries = useQueryClient();
  const [path, setPath] = useState('');
  const [folder, setFolder] = useState(suggestedFolder);
  const [content, setContent] = useState<ZipContent | null>(null);
  const [share, setShare] = useState<number | null>(null);
  const [error, setError] = useState<unknown>(null);
  const running = useRef<AsyncIterator<unknown> | null>(null);
  useEffect(() => () => void running.current?.return?.(), []);

  async function look(): Promise<void> {
    setError(null);
    setContent(null);
    try {
      setContent(await client.archive.inspect({ path }));
    } catch (thrown) {
      setError(thrown);
    }
  }

  async function unpack(): Promise<void> {
    setError(null);
    setShare(0);
    try {
      const pieces = await client.archive.unpack({ path, folder });
      running.current = pieces;
      for await (const piece of pieces) {
        if (piece.kind === 'progress') setShare(piece.share);
        else {
          goTo('shelf');
          queries.removeQueries({ type: 'inactive' });
          queries.setQueryData(ask.workshop.status.queryKey(), piece.status);
          // Another workshop: what is still shown of the one before is asked anew.
          void queries.invalidateQueries();
        }
      }
    } catch (thrown) {
      setError(thrown);
    } finally {
      running.current = null;
      setShare(null);
    }
  }

  const trouble = error === null ? null : readTrouble(error);
  const at = (field: string) => (trouble?.field === field ? trouble.sentence : undefined);
  const elsewhere = error !== null && at('path') === undefined && at('folder') === undefined;
  return (
    <section className="archive-part" aria-labelledby="archive-in">
      <h3 id="archive-in">Bring a workshop back from a zip</h3>
      <TextField
        name="The zip on this machine"
        value={path}
        trouble={at('path')}
        onChange={(event) => {
          setPath(event.target.value);
          setContent(null);
          setError(null);
        }}
      />
      {content === null ? (
        <Button onClick={() => void look()} disabled={path.trim() === ''}>
          See what it holds
        </Button>
      ) : (
        <>
          <p role="status">
            “{content.workshop}”, packed {momentWords(content.madeAt, 'UTC')} (UTC) by {content.madeBy}:{' '}
            {content.books === 1 ? 'one book' : `${content.books} books`}, {photographWords(content.photographs)},{' '}
            {sizeWords(content.bytes)} when unpacked.
          </p>
          <TextField
            name="Into this new folder"
            hint="A folder that is not there yet; nothing is ever written over."
            value={folder}
            trouble={at('folder')}
            onChange={(event) => setFolder(event.target.value)}
          />
          {share === null ? (
            <Button look="main" onClick={() => void unpack()} disabled={folder.trim() === ''}>
              Unpack and open it
            </Button>
          ) : (
            <Progress words="Unpacking" share={share} onStop={() => void running.current?.return?.()} />
          )}
        </>
      )}
      {elsewhere && <TroubleNotice error={error} />}
    </section>
  );
}
