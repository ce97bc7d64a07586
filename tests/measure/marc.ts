/**
 * Takes catalogue records into a new workshop in a temporary folder: `npm run -s measure -- marc [FILE] [--records 10000]`. Without a file,
 * invented records are written in both syntaxes. Prints one JSON line a syntax; `readMs` is reading, decoding and mapping every record.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRouterClient } from '@orpc/server';
import { router } from '../../electron/desk/router.ts';
import { makeDesk } from '../../electron/workplace.ts';
import { inventedFields, iso2709, marcXml } from '../electron/files/marc-records.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { records: { type: 'string', default: '10000' } },
  });
  const [file] = positionals;
  if (file !== undefined) return takeIn(basename(file), readFileSync(file));
  const all = Array.from({ length: Number(values.records) }, (_, n) => inventedFields(n + 1));
  await takeIn('invented.mrc', Buffer.concat(all.map((fields) => iso2709(fields))));
  const xml = all.map((fields) => marcXml(fields)).join('\n');
  await takeIn('invented.xml', Buffer.from(`<collection xmlns="http://www.loc.gov/MARC21/slim">${xml}</collection>`));
}

async function takeIn(fileName: string, bytes: Buffer): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-measure-'));
  const desk = makeDesk('browser', { state: join(folder, 'state'), home: folder });
  try {
    const client = createRouterClient(router, { context: desk });
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Measured' });
    const laps: Record<string, number> = {};
    const timed = async <T>(name: string, work: () => Promise<T>): Promise<T> => {
      const started = performance.now();
      const value = await work();
      laps[name] = Math.round(performance.now() - started);
      return value;
    };
    const base64 = bytes.toString('base64');
    const looked = await timed('readMs', () => client.takein.look({ fileName, base64 }));
    const question = {
      token: looked.token,
      mapping: looked.columns.map(({ field }) => field),
      defaultUnit: looked.defaultUnit,
      fixes: [],
      leave: [],
      skipDuplicates: true,
    };
    await timed('checkMs', () => client.takein.check(question));
    const { added, left } = await timed('takeMs', () => client.takein.take(question));
    console.log(JSON.stringify({ form: looked.form, bytes: bytes.length, records: looked.rows, added, left, ...laps }));
  } finally {
    desk.place.workshop?.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
