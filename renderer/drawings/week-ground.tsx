/** What lies under the bars of the week: days and hours, nights folded, lanes with their titles. */
import { memo } from 'react';
import type { LaneDrawing } from '../../core/schedule/lanes.ts';
import { rowTop, type Sizes, type WeekLane } from './week-layout.ts';

const headHeight = 40;

export function Defs() {
  return (
    <defs>
      <pattern id="week-finished" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line className="week-hatch" x1="0" y1="0" x2="0" y2="5" />
      </pattern>
      <linearGradient id="week-fade">
        <stop className="week-fade-from" offset="0" />
        <stop className="week-fade-to" offset="1" />
      </linearGradient>
    </defs>
  );
}

type HeadProps = Readonly<{ drawing: LaneDrawing; width: number; chart: number; title: number; timeZone: string }>;

/** Days and hours over the lanes; it stays in sight while they scroll. */
export const Head = memo(function Head({ drawing, width, chart, title, timeZone }: HeadProps) {
  const days = drawing.ticks.filter((tick) => tick.kind === 'day');
  const room = chart / Math.max(1, days.length);
  const dayName = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    weekday: room > 110 ? 'long' : 'short',
    ...(room > 44 ? { day: 'numeric' } : {}),
  });
  const hourName = new Intl.DateTimeFormat('en-GB', { timeZone, hour: 'numeric', hourCycle: 'h23' });
  const hoursFit = chart / Math.max(1, drawing.ticks.length) > 14;
  return (
    <svg className="week week-head" width={width} height={headHeight} aria-hidden="true">
      <g transform={`translate(${title} 0)`}>
        {drawing.ticks.map((tick) =>
          tick.kind === 'day' ? (
            <text key={`d${tick.at}`} className="week-day" x={tick.x + 3} y={14}>
              {dayName.format(tick.at)}
            </text>
          ) : (
            hoursFit && (
              <text key={`h${tick.at}`} className="week-hour-name" x={tick.x + 2} y={32}>
                {hourName.format(tick.at)}
              </text>
            )
          ),
        )}
      </g>
    </svg>
  );
});

type GroundProps = Readonly<{
  drawing: LaneDrawing;
  lanes: readonly WeekLane[];
  width: number;
  height: number;
  sizes: Sizes;
  grips: boolean;
}>;

/** Nights, hours, and the lanes with their titles. */
export const Ground = memo(function Ground({ drawing, lanes, width, height, sizes, grips }: GroundProps) {
  const hoursFit = (width - sizes.title) / Math.max(1, drawing.ticks.length) > 14;
  return (
    <>
      <g transform={`translate(${sizes.title} 0)`}>
        {drawing.folds.map((fold) => (
          <rect key={fold.x} className="week-night" x={fold.x} y={0} width={fold.width} height={height} />
        ))}
        {drawing.ticks.map(
          (tick) =>
            (hoursFit || tick.kind === 'day') && (
              <line key={`${tick.kind}${tick.at}`} className="week-hour" x1={tick.x} x2={tick.x} y1={0} y2={height} />
            ),
        )}
      </g>
      {drawing.lanes.map((lane, index) => {
        const { group, title, key } = lanes[index]!;
        const top = rowTop(lanes, sizes, index, lane.firstRow);
        const held = grips && group === 'book';
        return (
          <g key={lane.key} className={held ? 'week-lane-grip' : undefined} data-lane={held ? key : undefined}>
            <line className="week-rule" x1={0} x2={width} y1={top} y2={top} />
            {held && <rect className="week-touch" x={0} y={top} width={sizes.title - 4} height={sizes.row} />}
            {held && <path className="week-dots" d={dots(5, top + sizes.row / 2)} />}
            <text className={`week-lane week-lane-${group}`} x={held ? 14 : 0} y={top + sizes.row / 2 + 4}>
              <title>{title}</title>
              {shorten(title, sizes.title - (held ? 14 : 0))}
            </text>
          </g>
        );
      })}
    </>
  );
});

function dots(x: number, y: number): string {
  return [-4, 0, 4].map((dy) => `M${x - 2} ${y + dy}h.01M${x + 2} ${y + dy}h.01`).join('');
}

/** About as many characters as the lane's title has room for; its end is kept, where volumes differ. */
function shorten(title: string, width: number): string {
  const room = Math.floor(width / 7);
  if (title.length <= room) return title;
  const end = room < 18 ? 0 : Math.floor(room * 0.35);
  if (end === 0) return `${title.slice(0, room - 1).trimEnd()}…`;
  return `${title.slice(0, room - end - 1).trimEnd()}…${title.slice(-end).trimStart()}`;
}
