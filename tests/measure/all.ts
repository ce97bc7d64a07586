/**
 * Every figure the program is held to, one after another, each in a process of its own so that none warms another's memory:
 * `npm run -s measure -- all [--data DIR]`. DIR holds the published cases (assign, guillotine, knapsack, psplib); without it those
 * figures are left out and named. Prints a JSON line a measure, with its command and how long it took, and one for the whole.
 */
import { spawn } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

type Asked = Readonly<{ engine: string; args: readonly string[] }>;

const seeds = [1, 2, 3, 4, 5];

/** Those that need nothing but the program. */
const own: readonly Asked[] = [
  asked('shelf --books 100000'),
  asked('ranking --books 100000'),
  asked('takein --rows 5000'),
  asked('marc --records 10000'),
  asked('archive --books 5000 --photographs 200'),
  asked('photographs --count 5000'),
  asked('years --books 5000 --entries 200000 --movements 100000'),
  asked('crash --kills 200 --seed 2'),
  asked('bench --long'),
  asked('reckoner page'),
  asked('cut --lists 500 --pieces 60 --kinds 5'),
  ...seeds.map((seed) => asked(`fates --books 1000 --seed ${seed}`)),
  ...seeds.map((seed) => asked(`course --people 24 --copies 80 --operations 12 --seed ${seed}`)),
  ...seeds.map((seed) => asked(`timetable --people 12 --days 6 --copies 3 --presses 2 --seed ${seed}`)),
  asked('faults --count 40 --seed 1'),
];

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({ args: [...args], options: { data: { type: 'string' } } });
  const { data } = values;
  if (data !== undefined && !existsSync(data)) {
    console.error(`There is no folder ${data}.`);
    process.exitCode = 2;
    return;
  }
  const failed: string[] = [];
  const started = performance.now();
  for (const { engine, args: words } of [...(data === undefined ? [] : published(data)), ...own]) {
    const command = `npm run -s measure -- ${engine} ${words.join(' ')}`;
    const { code, lines, seconds } = await run(engine, words);
    if (code !== 0) failed.push(command);
    // Of hundreds of cases only what is said of all of them.
    const figures = engine === 'schedule' ? lines.slice(-1) : lines;
    console.log(JSON.stringify({ command, seconds, figures }));
  }
  const leftOut = data === undefined ? ['published cases: say where they are with --data DIR'] : [];
  console.log(JSON.stringify({ seconds: secondsSince(started), failed, leftOut }));
  if (failed.length > 0) process.exitCode = 1;
}

function published(data: string): readonly Asked[] {
  const psplib = (set: string, schedules: number, every = 1): Asked => ({
    engine: 'schedule',
    args: [
      join(data, 'psplib', `${set}.sm`),
      '--bounds',
      join(data, 'psplib', `${set}_bounds.csv`),
      '--schedules',
      String(schedules),
      '--seed',
      '3',
      '--every',
      String(every),
    ],
  });
  const cuts = (folder: string, format: string): Asked => ({
    engine: 'cut',
    args: [...filesIn(join(data, 'guillotine', folder)), '--format', format, '--seconds', '10'],
  });
  return [
    { engine: 'assign', args: [join(data, 'assign', 'assign100.txt')] },
    { engine: 'week', args: [join(data, 'knapsack', 'mknap1.txt')] },
    cuts('cgcut', 'cgcut'),
    cuts('gcut', 'gcut'),
    cuts(join('morabito_pureza', 'classic'), 'esicup'),
    ...['j30', 'j60', 'j120'].flatMap((set) => [psplib(set, 1000), psplib(set, 5000)]),
    // Every tenth case: all of them at 50,000 take hours.
    ...['j30', 'j60', 'j120'].map((set) => psplib(set, 50_000, 10)),
  ];
}

function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.txt') && !/info|readme/i.test(name))
    .map((name) => join(folder, name))
    .sort();
}

function asked(words: string): Asked {
  const [engine = '', ...args] = words.split(' ');
  return { engine, args };
}

function secondsSince(started: number): number {
  return Math.round((performance.now() - started) / 100) / 10;
}

function run(engine: string, words: readonly string[]) {
  return new Promise<{ code: number; lines: unknown[]; seconds: number }>((resolve) => {
    const started = performance.now();
    const measureFile = fileURLToPath(new URL('measure.ts', import.meta.url));
    const child = spawn(process.execPath, [measureFile, engine, ...words], { stdio: ['ignore', 'pipe', 'inherit'] });
    let said = '';
    child.stdout.on('data', (chunk) => {
      said += chunk;
    });
    child.on('close', (code) =>
      resolve({ code: code ?? 1, lines: said.split('\n').filter(Boolean).map(read), seconds: secondsSince(started) }),
    );
  });
}

/** A figure is a JSON line; anything else a measure says is kept as it is. */
function read(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return line;
  }
}
