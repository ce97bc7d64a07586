/** One person's data handed over, or erased for good once their name is typed; backups made before are offered to be deleted. */
import { useState } from 'react';
import type { Erased, Guest } from '../../core/contract/course-people.ts';
import { client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { useFile } from './gathering.ts';

type Props = Readonly<{ guest: Pick<Guest, 'personId' | 'name'>; onErased: (erased: Erased) => void }>;

export function ErasePerson({ guest, onErased }: Props) {
  const [name, setName] = useState('');
  const [asking, setAsking] = useState(false);
  const erase = useChange(client.coursePeople.erase);
  const { trouble, hand } = useFile();
  const { personId } = guest;

  return (
    <section aria-label={`Data of ${guest.name}`} className="course-data">
      <div className="actions">
        <Button look="quiet" onClick={() => void hand(() => client.coursePeople.takeOut({ personId, form: 'pdf' }))}>
          All we keep, to read
        </Button>
        <Button look="quiet" onClick={() => void hand(() => client.coursePeople.takeOut({ personId, form: 'json' }))}>
          All we keep, as data
        </Button>
        <Button look="harm" aria-expanded={asking} onClick={() => setAsking(!asking)}>
          Erase for good
        </Button>
      </div>
      {trouble !== null && <TroubleNotice error={trouble} />}
      {asking && (
        <form
          className="course-form"
          onSubmit={(event) => {
            event.preventDefault();
            erase.mutate({ personId, name }, { onSuccess: onErased });
          }}
        >
          <p>
            Everything about {guest.name} leaves the workshop and its history. Undo cannot bring it back. To take
            somebody off the course and keep the way back, choose “Take off the course” instead.
          </p>
          <TextField
            name={`Type the name, ${guest.name}`}
            value={name}
            onChange={(event) => setName(event.target.value)}
          />
          {erase.error && <TroubleNotice error={erase.error} />}
          <Button type="submit" look="harm" disabled={erase.isPending}>
            Erase {guest.name} for good
          </Button>
        </form>
      )}
    </section>
  );
}

/** What was erased and what still holds the person; stays when they are gone from the list. */
export function ErasedForGood({ erased, onClose }: Readonly<{ erased: Erased; onClose: () => void }>) {
  const remove = useChange(client.coursePeople.removeBackups, ({ removed }) =>
    removed === 1 ? 'The backup is deleted.' : `${removed} backups are deleted.`,
  );
  return (
    <Dialog title="Erased for good" onClose={onClose}>
      <p>{erased.sentence}</p>
      {remove.error && <TroubleNotice error={remove.error} />}
      <div className="actions">
        {erased.backups.length > 0 && (
          <Button look="harm" onClick={() => remove.mutate({ names: [...erased.backups] }, { onSuccess: onClose })}>
            Delete {erased.backups.length === 1 ? 'the backup' : `the ${erased.backups.length} backups`} made before
          </Button>
        )}
        <Button onClick={onClose}>Close</Button>
      </div>
    </Dialog>
  );
}
