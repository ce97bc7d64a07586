/** Tablets at the bench: the workshop shared on the local network while a person wants it, one key a device. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { ask, id, line } from './ask.ts';

export type Device = Readonly<{ id: string; name: string; addedAt: number; lastSeenAt: number }>;

export type SharingStatus = Readonly<{
  /** Addresses this machine has on its networks, and what the system calls each network. */
  networks: readonly Readonly<{ name: string; address: string }>[];
  /** Where the workshop is served to devices; null while it is not shared. */
  on: Readonly<{ address: string; since: number }> | null;
  devices: readonly Device[];
  /** Asked from a device itself, which may not change any of this. */
  remote: boolean;
}>;

/** An address that lets one device in, once, until then; and the squares of its QR code as one path, a unit a square. */
export type Invitation = Readonly<{ address: string; until: number; qr: Readonly<{ squares: number; path: string }> }>;

export const sharingContract = {
  status: ask.output(type<SharingStatus>()),
  /** Serves on this address of this machine until stopped or until the program ends. */
  start: ask.input(z.object({ address: z.string().max(64) })).output(type<SharingStatus>()),
  stop: ask.output(type<SharingStatus>()),
  /** The invitation given before dies. */
  invite: ask
    .input(z.object({ name: line.min(1, 'Say which device it is, such as “bench tablet”.').max(80) }))
    .output(type<Invitation>()),
  /** The device is let in no more, from its next question on. */
  revoke: ask.input(z.object({ id })).output(type<SharingStatus>()),
};
