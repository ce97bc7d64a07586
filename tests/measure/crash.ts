/** `npm run -s measure -- crash --kills 200 [--seed 1]`: a process that writes is killed so many times; prints what was lost. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { crash } from './crash-run.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: { kills: { type: 'string', default: '200' }, seed: { type: 'string', default: '1' } },
  });
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-crash-'));
  try {
    const tally = await crash(folder, Number(values.kills), Number(values.seed), 500);
    console.log(JSON.stringify({ ...tally, seed: Number(values.seed) }));
    if (tally.lost > 0 || tally.unsound > 0) process.exitCode = 1;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
