/**
 * Runs one engine on files from anywhere and prints JSON, so that anyone can hold it against published cases:
 * `npm run -s measure -- ENGINE [arguments]`. Each engine's measure says its own arguments when they are wrong.
 */
import { readdirSync } from 'node:fs';

const engines = readdirSync(new URL('.', import.meta.url))
  .filter((name) => name.endsWith('.ts') && name !== 'measure.ts' && !name.includes('-'))
  .map((name) => name.slice(0, -3))
  .sort();

const [engine, ...args] = process.argv.slice(2);
if (engine === undefined || !engines.includes(engine)) {
  console.error(`Say what to measure: npm run -s measure -- ENGINE. There are: ${engines.join(', ')}.`);
  process.exitCode = 2;
} else {
  const { measure } = (await import(`./${engine}.ts`)) as { measure(args: readonly string[]): Promise<void> };
  await measure(args);
}
