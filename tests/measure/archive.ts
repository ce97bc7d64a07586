/**
 * Packs a workshop with many books and photographs into a zip, unpacks it, backs it up and compares: `npm run -s measure -- archive
 * [--books 5000] [--photographs 500] [--kilobytes 1000]`. Photographs are noise, as pictures are to a packer. Prints one JSON line.
 */
import { createHash, randomBytes } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRouterClient } from '@orpc/server';
import { router } from '../../electron/desk/router.ts';
import { makeDesk } from '../../electron/workplace.ts';
import { fillShelf } from './shelf-books.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      books: { type: 'string', default: '5000' },
      photographs: { type: 'string', default: '500' },
      kilobytes: { type: 'string', default: '1000' },
    },
  });
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-measure-'));
  const desk = makeDesk('browser', { state: join(folder, 'state'), home: folder });
  try {
    const client = createRouterClient(router, { context: desk });
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Measured' });
    const store = desk.place.workshop;
    if (store === null) throw new Error('the workshop is open');
    fillShelf(store, Number(values.books), 1);
    for (let n = 0; n < Number(values.photographs); n += 1) {
      const bytes = randomBytes(Number(values.kilobytes) * 1000);
      const hash = createHash('sha256').update(bytes).digest('hex');
      mkdirSync(join(store.folder, 'photographs', hash.slice(0, 2)), { recursive: true });
      writeFileSync(join(store.folder, 'photographs', hash.slice(0, 2), `${hash}.jpg`), bytes);
    }
    const laps: Record<string, number> = {};
    const timed = async <T>(name: string, work: () => Promise<T>): Promise<T> => {
      const started = performance.now();
      const value = await work();
      laps[name] = Math.round(performance.now() - started);
      return value;
    };
    const zip = join(folder, 'out.zip');
    const { backups } = await timed('backUpMs', () => client.archive.backUpNow());
    await timed('compareMs', () => client.archive.compare({ name: backups[0]?.name ?? '' }));
    await timed('packMs', async () => {
      for await (const _ of await client.archive.pack({ to: zip }));
    });
    await timed('inspectMs', () => client.archive.inspect({ path: zip }));
    await timed('unpackMs', async () => {
      for await (const _ of await client.archive.unpack({ path: zip, folder: join(folder, 'back') }));
    });
    const megabytes = (path: string) => Math.round(statSync(path).size / 1e5) / 10;
    const databaseMb = megabytes(join(folder, 'back', 'workshop.sqlite'));
    const peakMb = Math.round(process.resourceUsage().maxRSS / 1024);
    const { books, photographs } = values;
    console.log(
      JSON.stringify({
        books: Number(books),
        photographs: Number(photographs),
        databaseMb,
        zipMb: megabytes(zip),
        ...laps,
        peakMb,
      }),
    );
  } finally {
    desk.place.workshop?.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
