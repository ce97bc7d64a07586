/** Tablets at the bench: sharing on, a code to scan, who has been let in, and how to shut one out. */
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { Device, Invitation, SharingStatus } from '../../core/contract/sharing.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Caution, TroubleNotice } from '../parts/notices.tsx';
import { ask, client } from './client.ts';
import './sharing.css';

export function Sharing() {
  const queries = useQueryClient();
  const { data: status } = useQuery({
    ...ask.sharing.status.queryOptions(),
    refetchInterval: (q) => (q.state.data?.on ? 5000 : false),
  });
  const [invitation, setInvitation] = useState<Invitation | null>(null);
  const [error, setError] = useState<unknown>(null);
  if (status === undefined || status.remote) return null;

  async function change(asked: () => Promise<SharingStatus>): Promise<void> {
    setError(null);
    try {
      queries.setQueryData(ask.sharing.status.queryKey(), await asked());
    } catch (thrown) {
      setError(thrown);
    }
  }
  async function invite(name: string): Promise<void> {
    setError(null);
    try {
      setInvitation(await client.sharing.invite({ name }));
    } catch (thrown) {
      setError(thrown);
    }
  }
  async function stop(): Promise<void> {
    setInvitation(null);
    await change(() => client.sharing.stop());
  }

  return (
    <section className="habits-part sharing" aria-labelledby="sharing-title">
      <h3 id="sharing-title">Tablets at the bench</h3>
      {status.on === null ? (
        <Off status={status} start={(address) => change(() => client.sharing.start({ address }))} />
      ) : (
        <>
          <p>
            Shared at <code>{status.on.address}</code> until you stop it or close the program.
          </p>
          <Button look="main" onClick={stop}>
            Stop sharing
          </Button>
          <Invite invite={invite} />
          {invitation !== null && <Code invitation={invitation} />}
        </>
      )}
      {error !== null && <TroubleNotice error={error} />}
      <Devices devices={status.devices} revoke={(id) => change(() => client.sharing.revoke({ id }))} />
    </section>
  );
}

function Off({ status, start }: Readonly<{ status: SharingStatus; start: (address: string) => void }>) {
  const [address, setAddress] = useState('');
  const chosen = address || (status.networks[0]?.address ?? '');
  if (status.networks.length === 0) {
    return <p className="soft">This machine is on no network now, so there is nobody to share with.</p>;
  }
  return (
    <>
      <p>
        The workshop is seen from this machine alone. Shared, a tablet on your own network can look things up, start and
        finish steps and take photographs.
      </p>
      <Caution sentence="What goes over the network is not encrypted: whoever can listen on it can read what a tablet reads, names of course people among it. Share only on a network that is yours, and stop when the day is done." />
      <div className="habits-open">
        <SelectField
          name="On the network"
          value={chosen}
          options={status.networks.map((network) => ({
            value: network.address,
            words: `${network.address} (${network.name})`,
          }))}
          onChange={(event) => setAddress(event.target.value)}
        />
        <Button onClick={() => start(chosen)}>Share the workshop</Button>
      </div>
    </>
  );
}

function Invite({ invite }: Readonly<{ invite: (name: string) => void }>) {
  const [name, setName] = useState('');
  return (
    <form
      className="habits-open"
      onSubmit={(event) => {
        event.preventDefault();
        invite(name);
      }}
    >
      <TextField name="A device to let in" value={name} onChange={(event) => setName(event.target.value)} />
      <Button type="submit" disabled={name.trim() === ''}>
        Show its code
      </Button>
    </form>
  );
}

function Code({ invitation: { address, until, qr } }: Readonly<{ invitation: Invitation }>) {
  const time = new Intl.DateTimeFormat(undefined, { timeStyle: 'short' }).format(until);
  return (
    <figure className="sharing-code">
      <svg viewBox={`-4 -4 ${qr.squares + 8} ${qr.squares + 8}`} role="img" aria-label="Code that lets the device in">
        <rect x="-4" y="-4" width={qr.squares + 8} height={qr.squares + 8} fill="#fff" />
        <path d={qr.path} fill="#000" />
      </svg>
      <figcaption>
        <p>
          Point the device’s camera at the code, or type the address below. It lets one device in, once, until {time}.
        </p>
        <code>{address}</code>
      </figcaption>
    </figure>
  );
}

function Devices({ devices, revoke }: Readonly<{ devices: readonly Device[]; revoke: (id: string) => void }>) {
  if (devices.length === 0) return null;
  const when = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });
  return (
    <ul className="sharing-devices" aria-label="Devices that are let in">
      {devices.map((device) => (
        <li key={device.id}>
          <span>
            {device.name} <span className="soft small">seen {when.format(device.lastSeenAt)}</span>
          </span>
          <Button look="quiet" onClick={() => revoke(device.id)} aria-label={`Shut out ${device.name}`}>
            Shut out
          </Button>
        </li>
      ))}
    </ul>
  );
}
