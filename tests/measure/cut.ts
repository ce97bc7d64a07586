/**
 * The best guillotine pattern of one sheet, on published instance files: `cut FILE… --format cgcut|gcut|esicup --seconds S`. One JSON line
 * a file: value, upper bound, whether proven, seconds. Formats: cgcut and gcut as in the OR-Library (Beasley 1990), esicup as
 * "number, sheet length and width; then value, length, width, demand a line".
 *
 * `cut --lists N --pieces P --kinds K` plans N made-up case lists and holds each against shelf by height.
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { parseArgs } from 'node:util';
import { bestPattern, type PatternProblem } from '../../core/cutting/pattern.ts';
import { planCuts } from '../../core/cutting/plan.ts';
import { madeList, shelfByHeight } from './cut-lists.ts';

const formats = ['cgcut', 'gcut', 'esicup'] as const;
type Format = (typeof formats)[number];

export async function measure(args: readonly string[]): Promise<void> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string' },
      seconds: { type: 'string', default: '10' },
      lists: { type: 'string' },
      pieces: { type: 'string', default: '60' },
      kinds: { type: 'string', default: '5' },
    },
  });
  if (values.lists !== undefined) {
    measureLists(Number(values.lists), Number(values.pieces), Number(values.kinds));
    return;
  }
  const format = formats.find((one) => one === values.format);
  if (positionals.length === 0 || format === undefined) {
    console.error('Say which files and how they are written: cut FILE… --format cgcut|gcut|esicup --seconds S');
    process.exitCode = 2;
    return;
  }
  for (const file of positionals) {
    const problem = readProblem(readFileSync(file, 'utf8'), format);
    const began = performance.now();
    const until = began + Number(values.seconds) * 1000;
    const pattern = bestPattern(problem, { shouldStop: () => performance.now() >= until });
    if (!pattern.ok) throw new Error(`${file}: ${pattern.refusal.sentence}`);
    const { value, bound, optimal, builds } = pattern.value;
    const seconds = Math.round(performance.now() - began) / 1000;
    console.log(JSON.stringify({ engine: 'cut', file: basename(file), value, bound, optimal, seconds, builds }));
  }
}

function measureLists(lists: number, pieces: number, kinds: number): void {
  const sum = { cost: 0, bound: 0, shelf: 0, dearer: 0, slowest: 0, seconds: 0 };
  for (let seed = 1; seed <= lists; seed++) {
    const problem = madeList(seed, pieces, kinds);
    const began = performance.now();
    const plan = planCuts(problem, { seed });
    const seconds = (performance.now() - began) / 1000;
    if (!plan.ok) throw new Error(plan.refusal.sentence);
    const shelf = shelfByHeight(problem);
    sum.cost += plan.value.costMinor;
    sum.bound += plan.value.boundMinor;
    sum.shelf += shelf ?? 0;
    if (plan.value.uncut.length > 0 || (shelf !== null && plan.value.costMinor > shelf)) sum.dearer += 1;
    sum.slowest = Math.max(sum.slowest, seconds);
    sum.seconds += seconds;
    const { costMinor, boundMinor, areas } = plan.value;
    const waste = Math.round((areas.waste / areas.stock) * 1000) / 1000;
    console.log(JSON.stringify({ engine: 'cut', seed, pieces, costMinor, boundMinor, shelf, waste, seconds }));
  }
  console.log(JSON.stringify({ engine: 'cut', lists, pieces, kinds, ...sum, meanSeconds: sum.seconds / lists }));
}

function readProblem(text: string, format: Format): PatternProblem {
  // Some of the files end with the end-of-file letter of older systems.
  const numbers = text.replaceAll('\u001a', ' ').trim().split(/\s+/).map(Number);
  const [count = 0, height = 0, width = 0, ...rest] = numbers;
  const each = format === 'gcut' ? 3 : 4;
  if (rest.length < count * each || !numbers.every(Number.isFinite)) throw new Error(`Not a ${format} file.`);
  const pieces = Array.from({ length: count }, (_, k) => {
    const [a = 0, b = 0, c = 0, d = 0] = rest.slice(k * each, (k + 1) * each);
    if (format === 'esicup') return { value: a, height: b, width: c, most: d };
    if (format === 'cgcut') return { height: a, width: b, most: c, value: d };
    return { height: a, width: b, value: c, most: Math.floor(height / a) * Math.floor(width / b) };
  });
  return { height, width, pieces };
}
