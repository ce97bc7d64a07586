/** The first screen: no workshop is open yet. Three ways in, and a fourth for a folder that is there already. */
import { useQueryClient } from '@tanstack/react-query';
import { lazy, type ReactNode, Suspense, useState } from 'react';
import type { WorkshopStatus } from '../../core/contract/workshop.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Notice, TroubleNotice } from '../parts/notices.tsx';
import { ask, client, readTrouble } from './client.ts';
import { goTo } from './route.ts';
import './first-run.css';

/** Seldom needed: not part of what is fetched first. */
const Rescue = lazy(() => import('../archive/rescue.tsx').then((file) => ({ default: file.Rescue })));
const ZipIn = lazy(() => import('../archive/zip-in.tsx').then((file) => ({ default: file.ZipIn })));

type Way = 'demo' | 'list' | 'empty' | 'open';

export function FirstRun({ status }: Readonly<{ status: WorkshopStatus }>) {
  const queries = useQueryClient();
  const { notOpened } = status;
  const [folder, setFolder] = useState(notOpened?.folder ?? status.suggestedFolder);
  const [name, setName] = useState('My bindery');
  const [busy, setBusy] = useState<Way | null>(null);
  const [failed, setFailed] = useState<Readonly<{ way: Way; error: unknown }> | null>(null);

  async function enter(way: Way): Promise<void> {
    setBusy(way);
    setFailed(null);
    try {
      const opened = await (way === 'demo'
        ? client.workshop.openDemo()
        : way === 'open'
          ? client.workshop.open({ folder })
          : client.workshop.create({ folder, name }));
      goTo('shelf', way === 'list' ? 'take-in' : null, true);
      queries.removeQueries({ type: 'inactive' });
      queries.setQueryData(ask.workshop.status.queryKey(), opened);
    } catch (error) {
      setFailed({ way, error });
    } finally {
      setBusy(null);
    }
  }

  const trouble = failed === null ? null : readTrouble(failed.error);
  const folderTrouble = trouble?.field === 'folder' ? trouble.sentence : undefined;
  const nameTrouble = trouble?.field === 'name' ? trouble.sentence : undefined;
  const elsewhere = failed !== null && folderTrouble === undefined && nameTrouble === undefined;
  return (
    <main className="first">
      <Stitch />
      <h1>Kettlestitch</h1>
      <p className="first-lead">
        The shelf of books waiting, the bench, the stock cupboard and the course, kept straight in one place. It works
        alone: no account and no network, and all of it is one folder that you can copy to a stick.
      </p>
      {notOpened !== null && failed === null && (
        <div className="first-not-opened" role="alert">
          <Notice kind="caution">
            <p>{notOpened.sentence}</p>
            <Button onClick={() => enter('open')} disabled={busy !== null}>
              Try again
            </Button>
          </Notice>
          <Suspense>
            <Rescue folder={notOpened.folder} />
          </Suspense>
        </div>
      )}
      <div className="first-ways">
        <WayIn
          title="Look around first"
          words="An invented workshop: a full shelf, a cupboard, presses, and a week’s course for eight."
          action="Open the demo workshop"
          working={busy === 'demo' ? 'Making the demo …' : null}
          disabled={busy !== null}
          onGo={() => enter('demo')}
        />
        <WayIn
          title="Start with your own list"
          words="A spreadsheet saved as CSV, with whatever columns you have. You see what was understood before anything is kept."
          action="Start with a list"
          working={busy === 'list' ? 'Making the workshop …' : null}
          disabled={busy !== null}
          onGo={() => enter('list')}
        />
        <WayIn
          title="Start empty"
          words="Put in books one by one; each takes a few seconds."
          action="Start an empty workshop"
          working={busy === 'empty' ? 'Making the workshop …' : null}
          disabled={busy !== null}
          onGo={() => enter('empty')}
        />
      </div>
      {elsewhere && <TroubleNotice error={failed.error} />}
      <fieldset className="first-place">
        <legend>Where your own workshop is kept</legend>
        <TextField
          name="Folder"
          value={folder}
          trouble={folderTrouble}
          hint="A new or an empty folder. The demo has a folder of its own."
          onChange={(event) => setFolder(event.target.value)}
        />
        <TextField
          name="Its name"
          value={name}
          trouble={nameTrouble}
          onChange={(event) => setName(event.target.value)}
        />
        <Button onClick={() => enter('open')} disabled={busy !== null}>
          {busy === 'open' ? 'Opening …' : 'Open the workshop in this folder'}
        </Button>
        {failed?.way === 'open' && folderTrouble !== undefined && (
          <Suspense>
            <Rescue key={folderTrouble} folder={folder} />
          </Suspense>
        )}
      </fieldset>
      <details className="first-zip">
        <summary>Bring a workshop back from a zip</summary>
        <Suspense>
          <ZipIn suggestedFolder={status.suggestedFolder} />
        </Suspense>
      </details>
      <Notice kind="caution">
        <p>
          Old books can hold arsenic, lead, mould and dust that harm you. Kettlestitch says what may be there; it does
          not test. Follow your local rules; for objects of value ask an accredited conservator.
        </p>
      </Notice>
    </main>
  );
}

type WayProps = Readonly<{
  title: string;
  words: ReactNode;
  action: string;
  working: string | null;
  disabled: boolean;
  onGo: () => void;
}>;

function WayIn({ title, words, action, working, disabled, onGo }: WayProps) {
  return (
    <section className="first-way">
      <h2>{title}</h2>
      <p>{words}</p>
      <Button look="main" onClick={onGo} disabled={disabled}>
        {working ?? action}
      </Button>
    </section>
  );
}

/** Sections of a book from behind, with the thread that ties each to its neighbour. */
function Stitch() {
  const sections = [0, 1, 2, 3, 4];
  return (
    <svg className="first-stitch" viewBox="0 0 320 62" aria-hidden="true">
      {sections.map((section) => (
        <path key={section} className="first-section" d={`M18 ${7 + section * 12}H302`} />
      ))}
      <path
        className="first-thread"
        d="M30 55H104M124 55H196M216 55H290C298 55 298 43 290 43H216M196 43H124M104 43H30C21 43 20 50 26 50S36 31 30 31H104M124 31H196M216 31H290C299 31 300 38 294 38S284 19 290 19H216M196 19H124M104 19H30C21 19 20 26 26 26S34 12 30 7H104M124 7H196M216 7H262"
      />
    </svg>
  );
}
