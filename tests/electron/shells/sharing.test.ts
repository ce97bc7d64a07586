import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createRouterClient } from '@orpc/server';
import { expect, onTestFinished, test } from 'vitest';
import { openBrowserShell, type Pace } from '../../../electron/browser.ts';
import { router } from '../../../electron/desk/router.ts';
import { makeSharing } from '../../../electron/sharing.ts';
import { enter } from '../contract/ways.ts';
import { testDesk } from '../test-desk.ts';

const calm: Pace = { questions: { perSecond: 100, burst: 500 }, keys: { perSecond: 10, burst: 50 } };

/** The loopback address stands in for one of the network: it is what every machine has. */
function shared(pace: Pace = calm) {
  const desk = testDesk();
  const page = new Map([['/', { body: new Uint8Array(2), mediaType: 'text/html', forever: false }]]);
  desk.sharing.serveWith(({ host, port, keys }) =>
    openBrowserShell({ context: { ...desk, remote: true }, router, page, port, shared: { host, keys, pace } }),
  );
  onTestFinished(() => desk.sharing.stop());
  return { desk, here: createRouterClient(router, { context: desk }) };
}

async function letIn(here: ReturnType<typeof shared>['here'], name: string) {
  const invitation = await here.sharing.invite({ name });
  return { invitation, ...(await enter(invitation.address)) };
}

test('the workshop is shared only when a person says so, one device a code, and stopped again', async () => {
  const { desk, here } = shared();
  expect(await here.sharing.status()).toEqual({
    networks: [{ name: 'this machine', address: '127.0.0.1' }],
    on: null,
    devices: [],
    remote: false,
  });
  await expect(here.sharing.invite({ name: 'Tablet' })).rejects.toThrow('Share the workshop first');
  await expect(here.sharing.start({ address: '203.0.113.7' })).rejects.toThrow('no such address now');

  const { on } = await here.sharing.start({ address: '127.0.0.1' });
  expect(on?.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
  const { invitation, client, origin } = await letIn(here, 'Bench tablet');
  expect(invitation.qr.squares).toBeGreaterThan(20);
  expect((await client.workshop.status()).open).toBeNull();
  expect((await here.sharing.status()).devices).toMatchObject([{ name: 'Bench tablet', addedAt: desk.clock.now }]);
  const again = await enter(invitation.address);
  expect(again.cookie).toBe('');

  await here.sharing.stop();
  await expect(fetch(`${origin}/`)).rejects.toThrow();
});

test('a code that has lain about for longer than ten minutes lets nobody in', async () => {
  const { desk, here } = shared();
  await here.sharing.start({ address: '127.0.0.1' });
  const { address } = await here.sharing.invite({ name: 'Tablet' });
  desk.clock.now += 10 * 60_000 + 1;
  expect((await enter(address)).cookie).toBe('');
});

test('a device may work in the workshop, but not open another, nor let others in', async () => {
  const { desk, here } = shared();
  await here.sharing.start({ address: '127.0.0.1' });
  await here.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  const { client } = await letIn(here, 'Tablet');
  expect((await client.shelf.create({ title: 'Seen from the bench' })).book.title).toBe('Seen from the bench');
  expect(await client.sharing.status()).toMatchObject({ networks: [], devices: [], remote: true });
  const refused = 'This is done at the workshop’s own machine, not from a device.';
  await expect(client.workshop.open({ folder: '/' })).rejects.toThrow(refused);
  await expect(client.workshop.create({ folder: '/', name: 'x' })).rejects.toThrow(refused);
  await expect(client.workshop.openDemo()).rejects.toThrow(refused);
  await expect(client.sharing.invite({ name: 'Another' })).rejects.toThrow(refused);
  await expect(client.sharing.stop()).rejects.toThrow(refused);
});

test('a device that is shut out is out at its next question, and the others stay', async () => {
  const { here } = shared();
  await here.sharing.start({ address: '127.0.0.1' });
  const lost = await letIn(here, 'Lost tablet');
  const kept = await letIn(here, 'Kept tablet');
  const { devices } = await here.sharing.status();
  await here.sharing.revoke({ id: devices.find(({ name }) => name === 'Lost tablet')?.id ?? '' });
  await expect(lost.client.workshop.status()).rejects.toThrow('key of this address');
  expect(await kept.client.workshop.status()).toMatchObject({ open: null });
});

test('devices are known again after a restart, and no key of theirs is on the disk', async () => {
  const { desk, here } = shared();
  await here.sharing.start({ address: '127.0.0.1' });
  const { cookie } = await letIn(here, 'Tablet');
  const session = cookie.split('=')[1] ?? '';
  expect(session).not.toBe('');
  expect(readFileSync(join(desk.folder, 'devices.json'), 'utf8')).not.toContain(session);
  const next = makeSharing(desk.folder, () => desk.clock.now);
  expect(next.devices()).toMatchObject([{ name: 'Tablet' }]);
});

test('whoever asks faster than a person, or tries keys, is told to wait', async () => {
  const { here } = shared({ questions: { perSecond: 0.001, burst: 8 }, keys: { perSecond: 0.001, burst: 3 } });
  await here.sharing.start({ address: '127.0.0.1' });
  const { on } = await here.sharing.status();
  const tries = [];
  for (let turn = 0; turn < 5; turn++) tries.push((await fetch(`${on?.address}/enter`)).status);
  expect(tries).toEqual([200, 200, 200, 429, 429]);
  const asked = [];
  for (let turn = 0; turn < 5; turn++) asked.push((await fetch(`${on?.address}/`)).status);
  expect(asked).toEqual([401, 401, 401, 429, 429]);
});

test('another name for the same address is refused, so that no page elsewhere can be pointed at it', async () => {
  const { here } = shared();
  const { on } = await here.sharing.start({ address: '127.0.0.1' });
  expect((await fetch(`http://localhost:${new URL(on?.address ?? '').port}/`)).status).toBe(421);
});
