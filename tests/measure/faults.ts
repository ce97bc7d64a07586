/**
 * Deliberate faults in core, one at a time in a copy of the sources, each held against the tests of its own module:
 * `npm run -s measure -- faults --count 40 --seed 1`. A fault is one operator or rounding turned into its neighbour on a line drawn at
 * random. Those no test notices are printed with their lines, to be read: a test is missing, or the fault changes nothing anyone can see.
 */
import { spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { chanceFrom } from '../../core/schedule/random.ts';

/** Modules whose tests are named after them. */
const modules = ['book', 'course', 'cutting', 'salvage', 'schedule', 'stock', 'trade', 'treatment', 'triage', 'units'];

const turns: readonly (readonly [string, string])[] = [
  [' < ', ' <= '],
  [' <= ', ' < '],
  [' > ', ' >= '],
  [' >= ', ' > '],
  [' + ', ' - '],
  [' - ', ' + '],
  [' * ', ' / '],
  [' / ', ' * '],
  [' && ', ' || '],
  [' || ', ' && '],
  [' === ', ' !== '],
  [' !== ', ' === '],
  ['Math.max(', 'Math.min('],
  ['Math.min(', 'Math.max('],
  ['Math.floor(', 'Math.ceil('],
  ['Math.ceil(', 'Math.floor('],
];

type Fault = Readonly<{ module: string; file: string; line: number; from: string; to: string; text: string }>;

const root = fileURLToPath(new URL('../..', import.meta.url));

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: { count: { type: 'string', default: '40' }, seed: { type: 'string', default: '1' } },
  });
  const count = Number(values.count);
  const seed = Number(values.seed);
  if (!(Number.isInteger(count) && count > 0 && Number.isInteger(seed))) {
    console.error('Say how many: npm run -s measure -- faults --count 40 [--seed 1]');
    process.exitCode = 2;
    return;
  }
  const copy = mkdtempSync(join(tmpdir(), 'kettlestitch-faults-'));
  try {
    for (const part of ['core', 'electron', 'tests', 'fixtures', 'package.json', 'tsconfig.json'])
      cpSync(join(root, part), join(copy, part), { recursive: true });
    symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
    for (const module of modules) {
      if ((await runTests(copy, module)) === 0) continue;
      console.error(`The tests of core/${module} fail without any fault; mend them first.`);
      process.exitCode = 1;
      return;
    }
    let caught = 0;
    const started = performance.now();
    for (const fault of draw(count, seed)) {
      const noticed = await isNoticed(copy, fault);
      if (noticed) caught++;
      const { module: _, ...told } = fault;
      console.log(JSON.stringify({ caught: noticed, ...told }));
    }
    const seconds = Math.round((performance.now() - started) / 1000);
    console.log(JSON.stringify({ faults: count, caught, seed, seconds }));
  } finally {
    rmSync(copy, { recursive: true, force: true });
  }
}

/** Every module gives as many in turn; within one, every place is as likely as another. */
function draw(count: number, seed: number): Fault[] {
  const random = chanceFrom(seed);
  const places = modules.map(placesIn);
  return Array.from({ length: count }, (_, at) => {
    const own = places[at % places.length] ?? [];
    return own.splice(Math.floor(random() * own.length), 1)[0] as Fault;
  });
}

function placesIn(module: string): Fault[] {
  const folder = join(root, 'core', module);
  return readdirSync(folder)
    .sort()
    .flatMap((name) => {
      const file = `core/${module}/${name}`;
      return readFileSync(join(root, file), 'utf8')
        .split('\n')
        .flatMap((text, at) =>
          turns
            .filter(([from]) => isProgram(text, text.indexOf(from)))
            .map(([from, to]) => ({ module, file, line: at + 1, from: from.trim(), to: to.trim(), text: text.trim() })),
        );
    });
}

/** Not in a comment, an import or a piece of text. */
function isProgram(text: string, at: number): boolean {
  if (at < 0 || /^\s*(\/\/|\/?\*|import |export type |type )/.test(text)) return false;
  return (text.slice(0, at).match(/['"`]/g) ?? []).length % 2 === 0;
}

/** True when a test fails, does not compile, or never ends with the fault in. */
async function isNoticed(copy: string, { module, file, line, from, to }: Fault): Promise<boolean> {
  const path = join(copy, file);
  const whole = readFileSync(path, 'utf8');
  const lines = whole.split('\n');
  const [old, other] = turns.find((turn) => turn[0].trim() === from && turn[1].trim() === to) as [string, string];
  lines[line - 1] = (lines[line - 1] ?? '').replace(old, other);
  writeFileSync(path, lines.join('\n'));
  try {
    return (await runTests(copy, module)) !== 0;
  } finally {
    writeFileSync(path, whole);
  }
}

function runTests(copy: string, module: string): Promise<number> {
  return new Promise((resolve) => {
    const words = [
      'run',
      '--config',
      'tests/vitest.config.ts',
      '--project',
      'core',
      '--bail',
      '1',
      `tests/core/${module}/`,
    ];
    const child = spawn(join(copy, 'node_modules', '.bin', 'vitest'), words, { cwd: copy, stdio: 'ignore' });
    const late = setTimeout(() => child.kill('SIGKILL'), 90_000);
    child.on('close', (code) => {
      clearTimeout(late);
      resolve(code ?? 1);
    });
  });
}
