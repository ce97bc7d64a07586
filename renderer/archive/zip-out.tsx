/** The whole workshop as one zip on this machine, with progress and a way to stop. */
import { useEffect, useRef, useState } from 'react';
import type { Packing } from '../../core/contract/archive.ts';
import { client, readTrouble } from '../app/client.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Notice, TroubleNotice } from '../parts/notices.tsx';
import { Progress } from './progress.tsx';
import { photographWords, sizeWords } from './words.ts';

type Done = Extract<Packing, { kind: 'done' }>;

export function ZipOut({ suggested }: Readonly<{ suggested: string }>) {
  const [to, setTo] = useState(suggested);
  const [share, setShare] = useState<number | null>(null);
  const [done, setDone] = useState<Done | null>(null);
  const [error, setError] = useState<unknown>(null);
  const running = useRef<AsyncIterator<unknown> | null>(null);
  useEffect(() => () => void running.current?.return?.(), []);

  async function pack(): Promise<void> {
    setDone(null);
    setError(null);
    setShare(0);
    try {
      const pieces = await client.archive.pack({ to });
      running.current = pieces;
      for await (const piece of pieces) {
        if (piece.kind === 'progress') setShare(piece.share);
        else setDone(piece);
      }
    } catch (thrown) {
      setError(thrown);
    } finally {
      running.current = null;
      setShare(null);
    }
  }
  const trouble = error === null ? null : readTrouble(error);
  return (
    <section className="archive-part" aria-labelledby="archive-out">
      <h3 id="archive-out">The whole workshop as one zip</h3>
      <p>
        The database, every photograph, each table as a list and a README that explains them: it opens without this
        program, and this program brings it back on any machine.
      </p>
      <TextField
        name="Write it to this file on this machine"
        value={to}
        trouble={trouble?.field === 'to' ? trouble.sentence : undefined}
        onChange={(event) => setTo(event.target.value)}
      />
      {share === null ? (
        <Button look="main" onClick={() => void pack()} disabled={to.trim() === ''}>
          Make the zip
        </Button>
      ) : (
        <Progress words="Packing" share={share} onStop={() => void running.current?.return?.()} />
      )}
      {error !== null && trouble?.field !== 'to' && <TroubleNotice error={error} />}
      {done !== null && (
        <div role="status">
          <Notice kind="settled">
            <p>
              The workshop is in <code>{done.path}</code>: {sizeWords(done.bytes)}, {photographWords(done.photographs)}.
            </p>
            {done.remarks.map((remark) => (
              <p key={remark}>{remark}</p>
            ))}
          </Notice>
        </div>
      )}
    </section>
  );
}
