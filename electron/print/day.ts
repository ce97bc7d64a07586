/** One day at the bench on paper: what comes out of the presses and what to do, in order, cautions beside the step, a box to tick. */
import { Rect, Svg, Text, View } from '@react-pdf/renderer';
import { createElement as h, type ReactNode } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { readHabits } from '../store/habits.ts';
import type { Workshop } from '../store/workshop.ts';
import { caution, faint, hairline, ink, paragraph, printSheet, section } from './sheet.ts';

type Line = Readonly<{ at: number; head: string; words: string; cautions: readonly string[]; done: boolean }>;

/** The day's sheet, portrait. Refuses a day on which the plan has nothing to do. */
export async function printDay(store: Workshop, week: Week, day: string): Promise<Result<FileAnswer>> {
  if (!week.plan) return refuse('There is no plan for this week yet. Plan it first.');
  const { habits } = readHabits(store.db);
  const zone = { timeZone: week.timeZone };
  const dateOf = new Intl.DateTimeFormat('en-CA', { ...zone, year: 'numeric', month: '2-digit', day: '2-digit' });
  const nameOf = new Intl.DateTimeFormat('en-GB', { ...zone, weekday: 'long', day: 'numeric', month: 'long' });
  const timeOf = new Intl.DateTimeFormat('en-GB', { ...zone, hour: '2-digit', minute: '2-digit' });
  const dueOf = (at: number) =>
    dateOf.format(at) === day ? timeOf.format(at) : `${nameOf.format(at)} ${timeOf.format(at)}`;
  const toolNames = new Map(week.tools.map((tool) => [tool.id, tool.name]));
  const tasks = week.plan.tasks.filter((task) => task.state !== 'set aside');
  const onDay = (at: number) => dateOf.format(at) === day;
  const waitOf = (task: WeekTask) =>
    tasks.find((one) => one.kind !== 'hands' && one.bookId === task.bookId && one.operationId === task.operationId);

  const lines: Line[] = [];
  for (const task of tasks) {
    const where = task.tools.map((id) => toolNames.get(id) ?? id).join(', ');
    const out = task.heldUntil ?? task.endAt;
    const done = task.state === 'finished';
    if (task.kind === 'hands' && onDay(task.startAt)) {
      const wait = waitOf(task);
      const held = wait?.tools.map((id) => toolNames.get(id) ?? id).join(', ') ?? '';
      const then = wait
        ? wait.kind === 'pressing'
          ? `Then into ${held || 'the press'}; due out ${dueOf(wait.heldUntil ?? wait.endAt)}.`
          : `Then leave it to dry until ${dueOf(wait.endAt)}.`
        : '';
      const words = [where === '' ? '' : `With ${where}.`, then].filter((part) => part !== '').join(' ');
      const head = `${timeOf.format(task.startAt)} – ${dueOf(task.endAt)}  ${task.label}: ${task.book}`;
      lines.push({ at: task.startAt, head, words, cautions: task.cautions, done });
    } else if (task.kind === 'pressing' && onDay(out)) {
      const head = `${timeOf.format(out)}  Out of ${where || 'the press'}: ${task.book}`;
      lines.push({
        at: out,
        head,
        words: `${sentenceOf(task.label)}, in since ${dueOf(task.startAt)}.`,
        cautions: [],
        done,
      });
    }
  }
  if (lines.length === 0) return refuse('The plan has nothing to do on this day. Choose another one.', 'day');
  lines.sort((a, b) => a.at - b.at);

  const noon = Date.parse(`${day}T12:00:00Z`);
  const title = new Intl.DateTimeFormat('en-GB', {
    timeZone: 'UTC',
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    year: 'numeric',
  }).format(noon);
  const steps = lines.filter((line) => !line.head.includes('  Out of ')).length;
  const hasCautions = lines.some((line) => line.cautions.length > 0);
  const bytes = await printSheet({
    title,
    lead: `${steps} ${steps === 1 ? 'step' : 'steps'} at the bench, by the plan of ${nameOf.format(week.plan.madeAt)} ${timeOf.format(week.plan.madeAt)}`,
    workshop: habits,
    body: [
      section('In order'),
      ...lines.map(lineView),
      ...(hasCautions
        ? [paragraph('Follow your local rules; for objects of value ask an accredited conservator.')]
        : []),
    ],
  });
  return ok({
    fileName: `bench-day-${day}.pdf`,
    mediaType: 'application/pdf',
    base64: bytes.toString('base64'),
  });
}

function sentenceOf(label: string): string {
  return label.charAt(0).toUpperCase() + label.slice(1);
}

function lineView(line: Line, index: number): ReactNode {
  const box = h(Rect, {
    x: 1,
    y: 1,
    width: 11,
    height: 11,
    stroke: ink,
    strokeWidth: 0.9,
    fill: line.done ? ink : '#ffffff',
  });
  return h(
    View,
    {
      key: index,
      wrap: false,
      style: { flexDirection: 'row', borderBottomWidth: 0.5, borderBottomColor: hairline, paddingVertical: 5 },
    },
    h(Svg, { width: 14, height: 14, style: { marginRight: 8 } }, box),
    h(
      View,
      { style: { flex: 1 } },
      h(Text, { style: { fontSize: 10.5 } }, line.head),
      line.words === '' ? null : h(Text, { style: { color: faint } }, line.words),
      ...line.cautions.map(caution),
    ),
  );
}
