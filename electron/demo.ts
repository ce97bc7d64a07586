/**
 * `npm run demo`: the main job without a page. Makes the invented demo workshop in a folder of its own, takes in its list, ranks the shelf,
 * chooses and plans a bench week, allocates and plans the course, says what to order, and writes the printed sheets into `out/`.
 * It asks the same questions a page would ask.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createRouterClient } from '@orpc/server';
import type { FileAnswer } from '../core/contract/ask.ts';
import { assert } from '../core/result.ts';
import { gapWords } from '../core/schedule/gap-words.ts';
import { isSurveyed } from '../core/triage/fate.ts';
import { minutesWords, rangeWords } from '../core/units/durations.ts';
import { router } from './desk/router.ts';
import { closeDesk, makeDesk } from './workplace.ts';

const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-demo-'));
const desk = makeDesk('browser', { state: join(folder, 'state'), home: folder });
const out = join(import.meta.dirname, '..', 'out');
const client = createRouterClient(router, { context: desk });
/** Minutes the person at the bench would wait for a better plan, in seconds. */
const patience = 5;

try {
  mkdirSync(out, { recursive: true });
  await client.workshop.openDemo();
  await showList();
  await showShelf();
  await planBench();
  await planCourse();
  await showStock();
} finally {
  closeDesk(desk);
  rmSync(folder, { recursive: true, force: true });
}

async function showList(): Promise<void> {
  const { open } = await client.workshop.status();
  assert(open, 'the demo is open');
  title(`${open.name}: everything in it is invented`);
  const fileName = 'shelf-list.csv';
  const bytes = readFileSync(new URL(`../fixtures/demo/${fileName}`, import.meta.url));
  const looked = await client.takein.look({ fileName, base64: bytes.toString('base64') });
  const mapping = looked.columns.map(({ field }) => field);
  const { token, defaultUnit, rows, encoding, separator } = looked;
  const again = await client.takein.check({ token, mapping, defaultUnit, fixes: [], leave: [], skipDuplicates: true });
  say(`${fileName}: ${rows} rows in ${encoding}, parted by "${separator}"; ${open.books} books were taken in.`);
  say(
    `Running it again would skip ${again.duplicatesTotal} books that are here already. ${again.badTotal} rows need mending:`,
  );
  for (const { line, troubles } of again.bad) say(`  line ${line}: ${troubles.map(({ reason }) => reason).join(' ')}`);
}

async function showShelf(): Promise<void> {
  const page = await client.shelf.list({ words: '', filter: {}, sort: 'attention', offset: 0, limit: 10 });
  title(`The shelf in the order it deserves attention: the first 10 of ${page.total}`);
  for (const [index, row] of page.rows.entries()) {
    const { book, findings, proposal } = await client.shelf.book({ id: row.id });
    say(
      `${String(index + 1).padStart(3)}  ${book.title} (${book.dateText || 'undated'}): ${row.fate ?? (isSurveyed(book, findings) ? `${row.suggestedFate}?` : 'survey first')}`,
    );
    say(`     ${row.reason}`);
    const { low, likely, high } = proposal.minutes;
    if (proposal.steps.length > 0) {
      say(
        `     ${proposal.steps.map((step) => step.name).join('; ')}. ${rangeWords(low, high)}, likely ${minutesWords(likely)}.`,
      );
    }
  }
}

async function planBench(): Promise<void> {
  const startsOn = nextMonday();
  const choice = await client.bench.choose({ startsOn, keep: [], leave: [] });
  title(
    `The bench week from ${startsOn}: ${choice.chosen.length} books in ${minutesWords(choice.usedMinutes)} of ${minutesWords(choice.handMinutes)}`,
  );
  say(
    choice.optimal
      ? 'No other set of books is worth more within these hours and presses.'
      : 'The best set found in the time given.',
  );
  for (const { title: name, because } of choice.missed.slice(0, 3)) say(`  just missed: ${name}. ${because}`);
  const bookIds = choice.chosen.map(({ bookId }) => bookId);
  for await (const piece of await client.bench.plan({ startsOn, bookIds, seconds: patience })) {
    if (piece.kind !== 'done' || !piece.week.plan) continue;
    const { quality, tasks } = piece.week.plan;
    const chance = quality.chance === null ? '' : ` ${Math.round(quality.chance * 100)} weeks in 100 hold.`;
    say(
      `${tasks.length} steps; the last book is out ${when(quality.finishAt)}. Of the plan: ${gapWords(quality)}.${chance}`,
    );
    for (const task of tasks.slice(0, 8))
      say(
        `  ${when(task.startAt)}  ${task.label}, ${task.book}${task.kind === 'hands' ? '' : ` until ${when(task.heldUntil ?? task.endAt)}`}`,
      );
  }
  keep(await client.bench.printWeek({ startsOn }));
}

async function planCourse(): Promise<void> {
  const [line] = await client.course.list();
  assert(line, 'the demo has its course');
  const courseId = line.id;
  title(`${line.title}, ${line.startsOn} to ${line.endsOn}: ${line.confirmed} people, ${line.copies} copies`);
  for await (const piece of await client.course.allocate({ courseId, seconds: 4 * patience })) {
    if (piece.kind === 'impossible') say(`It cannot be done: ${piece.conflict.join(' ')} ${piece.waysOut.join(' ')}`);
  }
  for await (const piece of await client.course.plan({ courseId, seconds: patience })) if (piece.kind === 'done') break;
  const course = await client.course.open({ id: courseId });
  for (const { name, level, meets, lacks, minutes } of course.people) {
    const theirs = course.copies.filter((copy) => course.people.find((one) => one.id === copy.personId)?.name === name);
    if (theirs.length === 0) continue;
    say(`  ${name}, ${level}: ${theirs.map((copy) => copy.title).join('; ')} (${minutesWords(minutes)})`);
    say(`    meets ${meets.join(', ')}${lacks.length > 0 ? `; LACKS ${lacks.join(', ')}` : ''}`);
  }
  for (const { fits, sentence } of course.verdicts) say(`  ${fits ? 'fits' : 'LOOK'}: ${sentence}`);
  keep(await client.course.printTimetable({ courseId }));
  keep(await client.course.printCards({ courseId }));
}

async function showStock(): Promise<void> {
  const orders = await client.stockroom.orders();
  const lines = orders.suppliers.reduce((sum, supplier) => sum + supplier.lines.length, 0);
  title(
    `To order: ${lines} ${lines === 1 ? 'material' : 'materials'} from ${orders.suppliers.length} ${orders.suppliers.length === 1 ? 'supplier' : 'suppliers'}`,
  );
  for (const { supplier, orderBy, costMinor, lines: wanted } of orders.suppliers) {
    say(`${supplier}: ${(costMinor / 100).toFixed(2)} ${orders.currency}${orderBy ? `, by ${orderBy}` : ''}`);
    for (const { material, advice, because } of wanted)
      say(`  ${advice.packs} × ${material.packQuantity} ${material.unit} ${material.name}. ${because}`);
  }
  keep(await client.stockroom.printOrders());
}

function keep(file: FileAnswer): void {
  writeFileSync(join(out, file.fileName), Buffer.from(file.base64, 'base64'));
  say(`Written: out/${file.fileName}`);
}

function nextMonday(): string {
  const day = new Date(desk.now());
  day.setUTCDate(day.getUTCDate() + ((8 - day.getUTCDay()) % 7 || 7));
  return day.toISOString().slice(0, 10);
}

function when(instant: number): string {
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone: 'Europe/London',
    weekday: 'short',
    hour: '2-digit',
    minute: '2-digit',
  });
  return format.format(instant);
}

function title(words: string): void {
  console.log(`\n${words}\n${'-'.repeat(Math.min(words.length, 100))}`);
}

function say(words: string): void {
  console.log(words);
}
