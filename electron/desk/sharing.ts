/** Who may bring a tablet to the workshop: answered to this machine's own page; a device only learns that it is one. */
import type { SharingStatus } from '../../core/contract/sharing.ts';
import { answer, type Desk, desk } from './desk.ts';

const { sharing: room } = desk;

export const sharing = {
  status: room.status.handler(({ context }) => statusOf(context)),
  start: room.start.handler(async ({ input, context, errors }) => {
    answer(await context.sharing.start(input.address), errors);
    return statusOf(context);
  }),
  stop: room.stop.handler(async ({ context }) => {
    await context.sharing.stop();
    return statusOf(context);
  }),
  invite: room.invite.handler(({ input, context, errors }) => answer(context.sharing.invite(input.name), errors)),
  revoke: room.revoke.handler(({ input, context, errors }) => {
    answer(context.sharing.revoke(input.id), errors);
    return statusOf(context);
  }),
};

function statusOf({ sharing, remote }: Desk): SharingStatus {
  return {
    networks: remote ? [] : sharing.networks(),
    on: sharing.on(),
    devices: remote ? [] : sharing.devices(),
    remote,
  };
}
