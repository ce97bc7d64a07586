/** A damaged workshop on the first screen: what can be made good of it, and doing so. */
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { ask, client } from '../app/client.ts';
import { goTo } from '../app/route.ts';
import { say } from '../app/say.ts';
import { Button } from '../parts/controls.tsx';
import { Notice, TroubleNotice } from '../parts/notices.tsx';
import { momentWords } from './words.ts';

/** Shows nothing where the workshop in the folder is not damaged. */
export function Rescue({ folder }: Readonly<{ folder: string }>) {
  const queries = useQueryClient();
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const { data: found } = useQuery(ask.archive.lookForRescue.queryOptions({ input: { folder } }));
  if (!found) return null;
  if (found.takenAt === null) {
    return (
      <Notice kind="harm">
        <p>None of the backups in this folder is whole either. Bring the workshop back from a zip or another copy.</p>
      </Notice>
    );
  }
  const { timeZone } = new Intl.DateTimeFormat().resolvedOptions();
  const changes = found.redone.length;

  async function rescue(): Promise<void> {
    setBusy(true);
    setError(null);
    try {
      const status = await client.archive.rescue({ folder });
      goTo('shelf', null, true);
      queries.removeQueries({ type: 'inactive' });
      queries.setQueryData(ask.workshop.status.queryKey(), status);
      say('The workshop is made good and open. The damaged file lies beside it in its folder.');
    } catch (thrown) {
      setError(thrown);
    } finally {
      setBusy(false);
    }
  }

  return (
    <Notice kind="caution">
      <p>
        It can be made good from the backup of {momentWords(found.takenAt, timeZone)}
        {changes === 0
          ? '.'
          : changes === 1
            ? ' and the one change after it that the damaged file still tells of.'
            : ` and the ${changes} changes after it that the damaged file still tells of.`}{' '}
        {found.lost === null ? 'Nothing is lost.' : `What came later is lost: ${found.lost}.`} The damaged file is set
        aside, not thrown away.
      </p>
      <Button look="main" onClick={() => void rescue()} disabled={busy}>
        {busy ? 'Making it good …' : 'Make it good and open it'}
      </Button>
      {error !== null && <TroubleNotice error={error} />}
    </Notice>
  );
}
