/** The bench week on paper: the lanes as a picture, then each day's steps in order with room for a pencil. */
import { Line, Rect, Svg, Text, View } from '@react-pdf/renderer';
import { createElement as h, type ReactNode } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { drawLanes, type LaneTask } from '../../core/schedule/lanes.ts';
import { readHabits } from '../store/habits.ts';
import type { Workshop } from '../store/workshop.ts';
import { caution, faint, hairline, ink, printSheet, section, table, widthWithin } from './sheet.ts';

const day = 86_400_000;

/** The week's sheet, landscape. Refuses a week that has no plan. */
export async function printWeek(store: Workshop, week: Week): Promise<Result<FileAnswer>> {
  if (!week.plan) return refuse('There is no plan for this week yet. Plan it first.');
  const { habits } = readHabits(store.db);
  const { tasks, quality } = week.plan;
  const zone = { timeZone: week.timeZone };
  const dayOf = new Intl.DateTimeFormat('en-GB', { ...zone, weekday: 'long', day: 'numeric', month: 'long' });
  const timeOf = new Intl.DateTimeFormat('en-GB', { ...zone, hour: '2-digit', minute: '2-digit' });
  const toolNames = new Map(week.tools.map((tool) => [tool.id, tool.name]));
  const books = new Set(tasks.map((task) => task.bookId)).size;

  const days = Map.groupBy(tasks, (task) => dayOf.format(task.startAt));
  const body: ReactNode[] = pictures(week, tasks, widthWithin(habits, 'landscape'));
  for (const [name, members] of days) {
    body.push(section(name));
    body.push(
      table(
        [
          { head: 'From', share: 0.6 },
          { head: 'To', share: 0.6 },
          { head: 'Step', share: 3 },
          { head: 'Book', share: 4 },
          { head: 'Where', share: 2 },
          { head: 'Done', share: 0.7 },
        ],
        members.map((task) => [
          timeOf.format(task.startAt),
          `${timeOf.format(task.endAt)}${dayOf.format(task.endAt) === name ? '' : ' next'}`,
          task.kind === 'hands' ? task.label : `${task.label} (leave it)`,
          task.book,
          task.tools.map((id) => toolNames.get(id) ?? id).join(', '),
          task.kind === 'hands' ? '……' : '',
        ]),
      ),
    );
  }
  const cautions = [...new Set(tasks.flatMap((task) => task.cautions))];
  if (cautions.length > 0) body.push(section('Take care'), ...cautions.map(caution));

  const chance = quality.chance === null ? '' : `, ${Math.round(quality.chance * 100)} % sure of the week`;
  const bytes = await printSheet({
    title: `Bench week from ${dayOf.format(week.hours[0]?.from ?? 0)}`,
    lead: `${books} ${books === 1 ? 'book' : 'books'}; the last is out ${dayOf.format(quality.finishAt)} ${timeOf.format(quality.finishAt)}${chance}`,
    workshop: habits,
    orientation: 'landscape',
    body,
  });
  return ok({
    fileName: `bench-week-${week.startsOn}.pdf`,
    mediaType: 'application/pdf',
    base64: bytes.toString('base64'),
  });
}

/** So many books stand in one picture; more go into further ones, so that none is cut by the page's end. */
const lanesInPicture = 28;

/** The same lanes as on the page, from the same geometry. */
function pictures(week: Week, tasks: readonly WeekTask[], width: number): ReactNode[] {
  const books = [...new Set(tasks.map((task) => task.bookId))];
  const count = Math.ceil(books.length / lanesInPicture);
  return Array.from({ length: count }, (_, index) => {
    const lanes = books.slice(index * lanesInPicture, (index + 1) * lanesInPicture);
    return picture(week, tasks, lanes, width);
  });
}

function picture(week: Week, tasks: readonly WeekTask[], lanes: readonly string[], width: number): ReactNode {
  const titles = 150;
  const rowHeight = 13;
  const start = week.hours[0]?.from ?? 0;
  const first = start - (start % day);
  const range = { from: first, to: first + 7 * day };
  const nameOf = new Map(tasks.map((task) => [task.bookId, task.book]));
  const laneTasks: LaneTask[] = tasks.map((task) => ({ ...task, lane: task.bookId, likelyUntil: task.p80At }));
  const windows = week.hours.filter((window) => window.from < range.to);
  const drawing = drawLanes(
    laneTasks,
    lanes,
    windows,
    range,
    width - titles,
    windows.map((window) => window.from),
  );
  const height = drawing.rows * rowHeight + 4;
  return h(
    View,
    { wrap: false, style: { height, marginBottom: 8 } },
    h(
      Svg,
      { width, height },
      ...drawing.folds.map((fold) => h(Rect, { x: titles + fold.x, y: 0, width: fold.width, height, fill: '#efece6' })),
      ...drawing.lanes.map((lane) =>
        h(Line, {
          x1: 0,
          x2: width,
          y1: lane.firstRow * rowHeight,
          y2: lane.firstRow * rowHeight,
          stroke: hairline,
          strokeWidth: 0.5,
        }),
      ),
      ...drawing.bars.map((bar) =>
        h(Rect, {
          x: titles + bar.x + bar.width + bar.heldWidth,
          y: bar.row * rowHeight + rowHeight / 2 - 0.5,
          width: bar.fadeWidth,
          height: 1,
          fill: hairline,
        }),
      ),
      ...drawing.bars.map((bar) =>
        h(Rect, {
          x: titles + bar.x,
          y: bar.row * rowHeight + 3,
          width: Math.max(1, bar.width),
          height: rowHeight - 6,
          fill: bar.kind === 'hands' ? ink : '#ffffff',
          stroke: ink,
          strokeWidth: 0.6,
        }),
      ),
    ),
    ...drawing.lanes.map((lane) =>
      h(
        Text,
        {
          style: {
            position: 'absolute',
            left: 0,
            top: lane.firstRow * rowHeight + 2,
            width: titles - 6,
            fontSize: 7,
            color: faint,
            maxLines: 1,
            textOverflow: 'ellipsis',
          },
        },
        nameOf.get(lane.key) ?? '',
      ),
    ),
  );
}
