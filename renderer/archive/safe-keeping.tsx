/** Safe keeping: backups and going back, the whole workshop as one zip and back out of it, and lists to take away. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ask, client } from '../app/client.ts';
import { say } from '../app/say.ts';
import { Button } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { TroubleNotice } from '../parts/notices.tsx';
import './archive.css';
import { Backups } from './backups.tsx';
import { ZipIn } from './zip-in.tsx';
import { ZipOut } from './zip-out.tsx';

export function SafeKeepingPage() {
  const state = useQuery(ask.archive.state.queryOptions());
  if (state.error !== null) return <TroubleNotice error={state.error} again={() => void state.refetch()} />;
  if (state.data === undefined) return null;
  return (
    <div className="archive">
      <h2>Safe keeping</h2>
      <p>
        Every change is on the disk when the page says so, in the folder <code>{state.data.folder}</code>. Disks break:
        take a zip to a stick or another machine now and then.
      </p>
      <Backups backups={state.data.backups} />
      <ZipOut suggested={state.data.suggestedZip} />
      <ZipIn suggestedFolder={state.data.suggestedFolder} />
      <Lists />
    </div>
  );
}

function Lists() {
  const [error, setError] = useState<unknown>(null);
  const [busy, setBusy] = useState(false);
  async function take(): Promise<void> {
    setError(null);
    setBusy(true);
    try {
      const file = await client.archive.lists();
      saveFile(file);
      say(`${file.fileName} is ready.`);
    } catch (thrown) {
      setError(thrown);
    } finally {
      setBusy(false);
    }
  }
  return (
    <section className="archive-part" aria-labelledby="archive-lists">
      <h3 id="archive-lists">Everything as lists</h3>
      <p>
        Each table as a CSV file that any spreadsheet opens, all in one zip: books, findings, the Day-book, the stock
        ledger, courses and the rest. Lengths are in micrometres, as the database has them.
      </p>
      <Button onClick={() => void take()} disabled={busy}>
        {busy ? 'Writing the lists …' : 'Take everything away as lists'}
      </Button>
      {error !== null && <TroubleNotice error={error} />}
    </section>
  );
}
