/**
 * Takes a list into a new workshop in a temporary folder: `npm run -s measure -- takein [FILE] [--rows 5000]`. Without a file the demo list is
 * repeated under new shelf marks to as many rows. Prints one JSON line; `takeMs` holds reading the rows, writing, journal and assessment.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRouterClient } from '@orpc/server';
import { router } from '../../electron/desk/router.ts';
import { makeDesk } from '../../electron/workplace.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { rows: { type: 'string', default: '5000' } },
  });
  const [file] = positionals;
  const bytes = file === undefined ? repeatedDemo(Number(values.rows)) : readFileSync(file);
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
    const fileName = basename(file ?? 'demo list.csv');
    const looked = await timed('lookMs', () => client.takein.look({ fileName, base64: bytes.toString('base64') }));
    const question = {
      token: looked.token,
      mapping: looked.columns.map(({ field }) => field),
      defaultUnit: looked.defaultUnit,
      fixes: [],
      leave: [],
      skipDuplicates: true,
    };
    const checked = await timed('checkMs', () => client.takein.check(question));
    const taken = await timed('takeMs', () => client.takein.take(question));
    await timed('undoMs', () => client.workshop.undo());
    const { added, left } = taken;
    console.log(JSON.stringify({ rows: looked.rows, added, left, findings: checked.findings, ...laps }));
  } finally {
    desk.place.workshop?.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

function repeatedDemo(rows: number): Buffer {
  const list = readFileSync(new URL('../../fixtures/demo/shelf-list.csv', import.meta.url), 'latin1');
  const [headings = '', ...books] = list.split('\r\n').filter((line) => line !== '');
  const lines = Array.from({ length: rows }, (_, index) => {
    const book = books[index % books.length] ?? '';
    return `M${index + 1}${book.slice(book.indexOf(';'))}`;
  });
  return Buffer.from([headings, ...lines].join('\r\n'), 'latin1');
}
