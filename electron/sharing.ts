/**
 * Sharing with tablets at the bench: a second server on one address of the local network, off until a person turns it on and off again
 * when the program ends. Every device has a key of its own, kept here as a digest only, and can be shut out by itself.
 */
import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { isIPv4 } from 'node:net';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { v7 } from 'uuid';
import { z } from 'zod';
import type { Device, Invitation } from '../core/contract/sharing.ts';
import { ok, type Result, refuse } from '../core/result.ts';
import type { BrowserShell } from './browser.ts';
import { qrPath } from './files/qr.ts';
import { digest, type Keys, sameDigest } from './security.ts';

/** Opens the server on this address with these keys; the shell hands it in, since it has the page and the answers. */
export type Serve = (where: Readonly<{ host: string; port: number; keys: Keys }>) => Promise<BrowserShell>;

export type Sharing = Readonly<{
  networks(): readonly Readonly<{ name: string; address: string }>[];
  on(): Readonly<{ address: string; since: number }> | null;
  devices(): readonly Device[];
  serveWith(serve: Serve): void;
  start(address: string): Promise<Result<null>>;
  stop(): Promise<void>;
  invite(name: string): Result<Invitation>;
  revoke(id: string): Result<null>;
}>;

/** Common practice, no source: long enough to fetch a tablet from the next room, too short for a picture of the code to be of use later. */
const invitationMs = 10 * 60_000;
/** The same each time, so that a device finds the workshop again; any free one where it is taken. From the range for private use. */
const usualPort = 58_213;
/** A device's last visit is written down no more often than this. */
const seenEveryMs = 60_000;

const keptDevices = z.array(
  z.object({ id: z.string(), name: z.string(), addedAt: z.number(), lastSeenAt: z.number(), digest: z.string() }),
);
type KeptDevice = z.infer<typeof keptDevices>[number];

/** `stateFolder` keeps the devices from one start to the next; it is this machine's, never part of a workshop. */
export function makeSharing(stateFolder: string, now: () => number, addresses = ownAddresses): Sharing {
  const file = join(stateFolder, 'devices.json');
  let devices = readDevices(file);
  let serve: Serve | null = null;
  let shell: BrowserShell | null = null;
  let on: { host: string; address: string; since: number } | null = null;
  let waiting: { digest: Buffer; name: string; until: number } | null = null;

  function keep(changed: readonly KeptDevice[]): void {
    devices = [...changed];
    const staging = `${file}.new`;
    writeFileSync(staging, JSON.stringify(devices, null, 2), { mode: 0o600 });
    renameSync(staging, file);
  }

  const keys: Keys = {
    issue: () => '',
    exchange(key) {
      if (waiting === null || waiting.until < now() || !sameDigest(digest(key), waiting.digest)) return null;
      const session = secret();
      const at = now();
      keep([
        ...devices,
        { id: v7(), name: waiting.name, addedAt: at, lastSeenAt: at, digest: digest(session).toString('hex') },
      ]);
      waiting = null;
      return session;
    },
    knows(session) {
      const asked = digest(session);
      const known = devices.find((device) => sameDigest(Buffer.from(device.digest, 'hex'), asked));
      if (known === undefined) return false;
      if (now() - known.lastSeenAt > seenEveryMs) {
        keep(devices.map((device) => (device === known ? { ...device, lastSeenAt: now() } : device)));
      }
      return true;
    },
  };

  async function stop(): Promise<void> {
    const open = shell;
    shell = null;
    on = null;
    waiting = null;
    await open?.close();
  }

  return {
    networks: addresses,
    on: () => (on === null ? null : { address: on.address, since: on.since }),
    devices: () => devices.map(({ digest: _, ...device }) => device),
    serveWith(given) {
      serve = given;
    },
    async start(address) {
      if (serve === null) return refuse('This program was started without a page to share.', 'address');
      if (!addresses().some((own) => own.address === address)) {
        return refuse('This machine has no such address now. Look whether it is still on the network.', 'address');
      }
      await stop();
      for (const port of [usualPort, 0]) {
        try {
          shell = await serve({ host: address, port, keys });
          break;
        } catch (error) {
          const { code } = error as NodeJS.ErrnoException;
          if (code === 'EADDRINUSE' && port !== 0) continue;
          if (code === 'EADDRINUSE' || code === 'EADDRNOTAVAIL' || code === 'EACCES') {
            return refuse('The system does not let the workshop be served on this address.', 'address');
          }
          throw error;
        }
      }
      if (shell !== null) on = { host: address, address: `http://${address}:${shell.port}`, since: now() };
      return ok(null);
    },
    stop,
    invite(name) {
      if (on === null) return refuse('Share the workshop first; then a device can be let in.', 'name');
      const key = secret();
      const until = now() + invitationMs;
      waiting = { digest: digest(key), name, until };
      const address = `${on.address}/enter#key=${key}`;
      return ok({ address, until, qr: qrPath(address) });
    },
    revoke(id) {
      if (!devices.some((device) => device.id === id)) return refuse('This device has been shut out already.', 'id');
      keep(devices.filter((device) => device.id !== id));
      return ok(null);
    },
  };
}

/** A list that cannot be read lets nobody in: every device asks anew. */
function readDevices(file: string): KeptDevice[] {
  if (!existsSync(file)) return [];
  try {
    return keptDevices.parse(JSON.parse(readFileSync(file, 'utf8')));
  } catch {
    return [];
  }
}

function ownAddresses(): readonly Readonly<{ name: string; address: string }>[] {
  return Object.entries(networkInterfaces()).flatMap(([name, addresses]) =>
    (addresses ?? [])
      .filter(({ address, internal }) => !internal && isIPv4(address))
      .map(({ address }) => ({ name, address })),
  );
}

function secret(): string {
  return randomBytes(32).toString('base64url');
}
