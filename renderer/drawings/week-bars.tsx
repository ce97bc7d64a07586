/** The bars of the week, and where one that is held would go. */
import { memo, useMemo } from 'react';
import type { LaneDrawing } from '../../core/schedule/lanes.ts';
import { rowTop, type Sizes, type WeekBar, type WeekLane } from './week-layout.ts';

const touchWidth = 22;

type BarsProps = Readonly<{
  drawing: LaneDrawing;
  lanes: readonly WeekLane[];
  byId: ReadonlyMap<string, WeekBar>;
  sizes: Sizes;
  selected: string | null;
  focusable: string | null;
}>;

export const Bars = memo(function Bars({ drawing, lanes, byId, sizes, selected, focusable }: BarsProps) {
  // A short bar is drawn over its long neighbours, and can be touched a little beside itself.
  const ordered = useMemo(() => drawing.bars.toSorted((a, b) => b.width - a.width), [drawing]);
  return (
    <g transform={`translate(${sizes.title} 0)`}>
      {/* Under all bars, so that no book's doubt hides another step. */}
      <g className="week-fades">
        {drawing.bars.map(
          (bar) =>
            bar.fadeWidth > 1 &&
            lanes[bar.lane]?.group !== 'tool' && (
              <rect
                key={bar.id}
                fill="url(#week-fade)"
                x={bar.x + Math.max(2, bar.width) + bar.heldWidth}
                y={rowTop(lanes, sizes, bar.lane, bar.row) + (sizes.row - sizes.bar / 2) / 2}
                width={bar.fadeWidth}
                height={sizes.bar / 2}
              />
            ),
        )}
      </g>
      {ordered.map((bar) => {
        const task = byId.get(bar.id)!;
        const top = rowTop(lanes, sizes, bar.lane, bar.row) + (sizes.row - sizes.bar) / 2;
        const width = Math.max(2, bar.width);
        const beside = Math.max(3, (touchWidth - bar.width) / 2);
        const again = lanes[bar.lane]?.group === 'tool';
        const classes = [
          'week-bar',
          `week-${bar.kind}`,
          `week-${task.state.replace(' ', '-')}`,
          bar.id === selected ? 'week-selected' : '',
          task.movable && !again ? 'week-can-move' : '',
        ].join(' ');
        // A bar stands once for the keyboard and for those who listen; in the lane of its press it is drawn again.
        const named = again
          ? ({ 'aria-hidden': true } as const)
          : ({
              role: 'button',
              tabIndex: bar.id === focusable ? 0 : -1,
              'aria-label': task.name,
              'aria-pressed': bar.id === selected,
            } as const);
        return (
          <g key={`${lanes[bar.lane]?.key}-${bar.id}`} className={classes} data-bar={bar.id} {...named}>
            <title>{task.name}</title>
            <rect
              className="week-touch"
              x={bar.x - beside}
              y={top - (sizes.row - sizes.bar) / 2}
              width={bar.width + 2 * beside}
              height={sizes.row}
            />
            {bar.heldWidth > 0.5 && (
              <rect
                className="week-held"
                x={bar.x + bar.width}
                y={top + sizes.bar / 2 - 2}
                width={bar.heldWidth}
                height={4}
              />
            )}
            {(bar.kind === 'hands' ? openParts(bar.x, width, drawing.folds) : [{ x: bar.x, width }]).map((part) => (
              <rect
                key={part.x}
                className="week-body"
                x={part.x}
                y={top}
                width={part.width}
                height={sizes.bar}
                rx={1.5}
              />
            ))}
            {task.state === 'finished' && (
              <rect fill="url(#week-finished)" x={bar.x} y={top} width={width} height={sizes.bar} />
            )}
            {task.pinned && !again && (
              <path className="week-pin" d={`M${bar.x + 3} ${top + 5}v-6m-3 -3a3 3 0 1 0 6 0a3 3 0 1 0 -6 0`} />
            )}
          </g>
        );
      })}
    </g>
  );
});

/** Where a bar or a lane is being put. `minutes` counts the quarters of an hour by keys, null while dragged. */
export type Ghost = Readonly<{ id: string; whole: boolean; startAt: number; minutes: number | null }>;

type GhostProps = Omit<BarsProps, 'selected' | 'focusable'> &
  Readonly<{ ghost: Ghost; x: (instant: number) => number; timeZone: string }>;

/** Where it will go, with its time beside it. */
export function GhostBars({ ghost, drawing, lanes, byId, sizes, x, timeZone }: GhostProps) {
  const task = byId.get(ghost.id);
  if (!task) return null;
  const shift = x(ghost.startAt) - x(task.startAt);
  const moving = drawing.bars.filter((bar) => {
    const other = byId.get(bar.id)!;
    if (lanes[bar.lane]?.group === 'tool') return false;
    return bar.id === ghost.id || (ghost.whole && other.lane === task.lane && other.movable);
  });
  const own = moving.find((bar) => bar.id === ghost.id);
  return (
    <g className="week-ghost">
      {moving.map((bar) => (
        <rect
          key={bar.id}
          x={bar.x + shift}
          y={rowTop(lanes, sizes, bar.lane, bar.row) + (sizes.row - sizes.bar) / 2}
          width={Math.max(2, bar.width)}
          height={sizes.bar}
          rx={1.5}
        />
      ))}
      {own && (
        <text x={x(ghost.startAt) + 3} y={Math.max(11, rowTop(lanes, sizes, own.lane, own.row) - 2)}>
          {timeWords(ghost.startAt, timeZone)}
        </text>
      )}
    </g>
  );
}

export function timeWords(instant: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    timeZone,
    weekday: 'short',
    hour: '2-digit',
    minute: '2-digit',
  }).format(instant);
}

/** The stretches of a bar in open hours: hands rest at night, and a step that pauses is drawn with its pauses. */
function openParts(
  x: number,
  width: number,
  folds: readonly Readonly<{ x: number; width: number }>[],
): readonly Readonly<{ x: number; width: number }>[] {
  const parts: { x: number; width: number }[] = [];
  let from = x;
  for (const fold of folds.toSorted((a, b) => a.x - b.x)) {
    const to = Math.min(fold.x, x + width);
    if (to - from > 0.5) parts.push({ x: from, width: to - from });
    from = Math.max(from, fold.x + fold.width);
  }
  if (x + width - from > 0.5) parts.push({ x: from, width: x + width - from });
  return parts.length > 0 ? parts : [{ x, width }];
}
