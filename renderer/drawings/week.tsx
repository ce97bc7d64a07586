/** The week as lanes: hand-work solid, drying open, presses below in lanes of their own, nights folded, now as a line. */
import type { KeyboardEvent } from 'react';
import { drawLanes, type LaneTask, timeScale } from '../../core/schedule/lanes.ts';
import './week.css';

export type WeekBar = LaneTask &
  Readonly<{ name: string; state: 'planned' | 'started' | 'paused' | 'finished' | 'set aside' }>;
export type WeekLane = Readonly<{ key: string; title: string; group: 'book' | 'tool' | 'person' }>;

type Props = Readonly<{
  lanes: readonly WeekLane[];
  bars: readonly WeekBar[];
  windows: readonly Readonly<{ from: number; to: number }>[];
  range: Readonly<{ from: number; to: number }>;
  /** First instant of each day shown. */
  days: readonly number[];
  now: number;
  timeZone: string;
  width: number;
  selected: string | null;
  onSelect: (id: string) => void;
  label: string;
}>;

const rowHeight = 26;
const barHeight = 16;
const headHeight = 40;
const groupGap = 14;

export function WeekDrawing(props: Props) {
  const { lanes, bars, windows, range, days, now, timeZone, width, selected, onSelect } = props;
  const titleWidth = width < 560 ? 96 : 190;
  const chart = Math.max(200, width - titleWidth - 8);
  const drawing = drawLanes(
    bars,
    lanes.map((lane) => lane.key),
    windows,
    range,
    chart,
    days,
  );
  const byId = new Map(bars.map((bar) => [bar.id, bar]));
  const x = timeScale(windows, range, chart);
  const firstOther = lanes.findIndex((lane) => lane.group === 'tool');
  const gapBefore = (lane: number) => (firstOther > 0 && lane >= firstOther ? groupGap : 0);
  const y = (lane: number, row: number) => headHeight + row * rowHeight + gapBefore(lane);
  const height = headHeight + drawing.rows * rowHeight + (firstOther > 0 ? groupGap : 0) + 6;
  const dayName = new Intl.DateTimeFormat(undefined, {
    timeZone,
    weekday: width < 900 ? 'short' : 'long',
    day: 'numeric',
  });
  const hourName = new Intl.DateTimeFormat(undefined, { timeZone, hour: 'numeric', hourCycle: 'h23' });
  const hoursFit = chart / Math.max(1, drawing.ticks.length) > 14;
  const inOrder = bars.toSorted((a, b) => a.startAt - b.startAt || (a.id < b.id ? -1 : 1));

  function onKey(event: KeyboardEvent<SVGElement>, id: string) {
    const at = inOrder.findIndex((bar) => bar.id === id);
    const step =
      event.key === 'ArrowRight' || event.key === 'ArrowDown'
        ? 1
        : event.key === 'ArrowLeft' || event.key === 'ArrowUp'
          ? -1
          : 0;
    if (event.key === 'Enter' || event.key === ' ') onSelect(id);
    else if (step === 0) return;
    else {
      const next = inOrder[at + step];
      if (next) {
        onSelect(next.id);
        document.getElementById(`bar-${next.id}`)?.focus();
      }
    }
    event.preventDefault();
  }

  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing is no fieldset
    <svg className="week" width={width} height={height} role="group" aria-label={props.label}>
      <defs>
        <pattern id="week-finished" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line className="week-hatch" x1="0" y1="0" x2="0" y2="5" />
        </pattern>
      </defs>
      <g transform={`translate(${titleWidth} 0)`}>
        {drawing.folds.map((fold) => (
          <rect
            key={fold.x}
            className="week-night"
            x={fold.x}
            y={headHeight - 6}
            width={fold.width}
            height={height - headHeight}
          />
        ))}
        {drawing.ticks.map((tick) =>
          tick.kind === 'day' ? (
            <text key={`d${tick.at}`} className="week-day" x={tick.x + 3} y={14}>
              {dayName.format(tick.at)}
            </text>
          ) : (
            hoursFit && (
              <g key={`h${tick.at}`}>
                <line className="week-hour" x1={tick.x} x2={tick.x} y1={headHeight - 6} y2={height - 6} />
                <text className="week-hour-name" x={tick.x + 2} y={30}>
                  {hourName.format(tick.at)}
                </text>
              </g>
            )
          ),
        )}
      </g>
      {drawing.lanes.map((lane, index) => {
        const top = y(index, lane.firstRow);
        return (
          <g key={lane.key}>
            <line className="week-rule" x1={0} x2={width} y1={top} y2={top} />
            <text className={`week-lane week-lane-${lanes[index]!.group}`} x={0} y={top + 17}>
              <title>{lanes[index]!.title}</title>
              {shorten(lanes[index]!.title, titleWidth)}
            </text>
          </g>
        );
      })}
      <g transform={`translate(${titleWidth} 0)`}>
        {drawing.bars.map((bar) => {
          const task = byId.get(bar.id)!;
          const top = y(bar.lane, bar.row) + (rowHeight - barHeight) / 2;
          const classes = `week-bar week-${bar.kind} week-${task.state.replace(' ', '-')}${bar.id === selected ? ' week-selected' : ''}`;
          return (
            // biome-ignore lint/a11y/useSemanticElements: a bar is drawn, and a button cannot stand inside a drawing
            <g
              key={`${bar.lane}-${bar.id}`}
              id={`bar-${bar.id}`}
              className={classes}
              role="button"
              tabIndex={bar.id === (selected ?? inOrder[0]?.id) ? 0 : -1}
              aria-label={task.name}
              aria-pressed={bar.id === selected}
              onClick={() => onSelect(bar.id)}
              onKeyDown={(event) => onKey(event, bar.id)}
            >
              <title>{task.name}</title>
              {bar.heldWidth > 0.5 && (
                <rect
                  className="week-held"
                  x={bar.x + bar.width}
                  y={top + barHeight / 2 - 2}
                  width={bar.heldWidth}
                  height={4}
                />
              )}
              <rect
                className="week-body"
                x={bar.x}
                y={top}
                width={Math.max(2, bar.width)}
                height={barHeight}
                rx={1.5}
              />
              {task.state === 'finished' && (
                <rect fill="url(#week-finished)" x={bar.x} y={top} width={Math.max(2, bar.width)} height={barHeight} />
              )}
            </g>
          );
        })}
        {now > range.from && now < range.to && (
          <g className="week-now">
            <line x1={x(now)} x2={x(now)} y1={headHeight - 10} y2={height - 4} />
            <text x={x(now) + 3} y={headHeight - 4}>
              now
            </text>
          </g>
        )}
      </g>
    </svg>
  );
}

/** About as many characters as the lane's title has room for. */
function shorten(title: string, width: number): string {
  const room = Math.floor(width / 6.6);
  return title.length > room ? `${title.slice(0, room - 1).trimEnd()}…` : title;
}
