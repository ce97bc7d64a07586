/**
 * The week as lanes: hand-work solid, drying open, presses below in lanes of their own, nights folded, now as a line, uncertainty as a
 * fading end. Its days stay in sight while the lanes scroll. Where `onMove` is given, bars and books can be dragged along time, with a
 * finger, a mouse or Shift and the arrows.
 */
import { type KeyboardEvent, memo, type PointerEvent, useMemo, useRef, useState } from 'react';
import {
  drawLanes,
  instantAt,
  type LaneDrawing,
  type LaneTask,
  stepOpen,
  timeScale,
} from '../../core/schedule/lanes.ts';
import './week.css';

export type WeekBar = LaneTask &
  Readonly<{
    name: string;
    state: 'planned' | 'started' | 'paused' | 'finished' | 'set aside';
    pinned?: boolean;
    /** May be put elsewhere. */
    movable?: boolean;
  }>;
export type WeekLane = Readonly<{ key: string; title: string; group: 'book' | 'tool' | 'person' }>;
type Span = Readonly<{ from: number; to: number }>;

type Props = Readonly<{
  lanes: readonly WeekLane[];
  bars: readonly WeekBar[];
  windows: readonly Span[];
  range: Span;
  /** First instant of each day shown. */
  days: readonly number[];
  now: number;
  timeZone: string;
  width: number;
  selected: string | null;
  onSelect: (id: string) => void;
  label: string;
  /** Put a bar, or its whole lane from its next step on, at another instant. */
  onMove?: (id: string, startAt: number, whole: boolean) => void;
  /** A key on the selected bar; true where it was taken. */
  onKey?: (id: string, event: KeyboardEvent) => boolean;
  /** Open hours beyond those shown, so that a bar can be moved out of sight. */
  hours?: readonly Span[];
}>;

const headHeight = 40;
const groupGap = 14;
const quarter = 15 * 60_000;
const touchWidth = 22;
/** A finger trembles less than this many pixels. */
const dragFrom = 5;

type Sizes = Readonly<{ row: number; bar: number; title: number }>;

/** A finger needs more room than a mouse. */
function sizesFor(width: number): Sizes {
  const finger = typeof matchMedia === 'function' && matchMedia('(pointer: coarse)').matches;
  return { row: finger ? 34 : 26, bar: finger ? 22 : 16, title: width < 560 ? 96 : 196 };
}

/** Where a bar or a lane is being put. `minutes` counts the quarters of an hour by keys, null while dragged. */
type Ghost = Readonly<{ id: string; whole: boolean; startAt: number; minutes: number | null }>;
type Grip = Readonly<{ id: string; whole: boolean; fromX: number; pointer: number }>;

export function WeekDrawing(props: Props) {
  const {
    lanes,
    bars,
    windows,
    range,
    days,
    now,
    timeZone,
    width,
    selected,
    onSelect,
    onMove,
    hours = windows,
  } = props;
  const sizes = useMemo(() => sizesFor(width), [width]);
  const chart = Math.max(200, width - sizes.title - 8);
  const drawing = useMemo(
    () =>
      drawLanes(
        bars,
        lanes.map((lane) => lane.key),
        windows,
        range,
        chart,
        days,
      ),
    [bars, lanes, windows, range, chart, days],
  );
  const byId = useMemo(() => new Map(bars.map((bar) => [bar.id, bar])), [bars]);
  const x = timeScale(windows, range, chart);
  const [ghost, setGhost] = useState<Ghost | null>(null);
  const grip = useRef<Grip | null>(null);
  const dragged = useRef(false);
  const body = useRef<SVGSVGElement>(null);
  const height = bodyHeight(lanes, drawing, sizes);
  const focusable = selected !== null && byId.has(selected) ? selected : (drawing.bars[0]?.id ?? null);

  function nextOfLane(id: string): WeekBar | undefined {
    const { lane } = byId.get(id) ?? {};
    return bars.filter((bar) => bar.lane === lane && bar.movable).toSorted((a, b) => a.startAt - b.startAt)[0];
  }

  function put(at: Ghost | null): void {
    const bar = at && byId.get(at.id);
    setGhost(null);
    if (at && bar && at.startAt !== bar.startAt) onMove?.(at.id, at.startAt, at.whole);
  }

  function onPointerDown(event: PointerEvent<SVGSVGElement>): void {
    dragged.current = false;
    if (!onMove || event.button !== 0) return;
    const { bar, lane } = dataOf(event.target);
    const id = lane === undefined ? bar : bars.find((one) => one.lane === lane && one.movable)?.id;
    const first = lane === undefined || id === undefined ? id : nextOfLane(id)?.id;
    if (first === undefined || !byId.get(first)?.movable) return;
    grip.current = { id: first, whole: lane !== undefined, fromX: event.clientX, pointer: event.pointerId };
  }

  function onPointerMove(event: PointerEvent<SVGSVGElement>): void {
    const held = grip.current;
    if (!held || held.pointer !== event.pointerId) return;
    const by = event.clientX - held.fromX;
    if (!dragged.current && Math.abs(by) < dragFrom) return;
    if (!dragged.current) body.current?.setPointerCapture(held.pointer);
    dragged.current = true;
    const bar = byId.get(held.id);
    if (!bar) return;
    const startAt = snapped(instantAt(windows, range, chart, x(bar.startAt) + by), windows);
    if (ghost?.startAt !== startAt) setGhost({ id: held.id, whole: held.whole, startAt, minutes: null });
  }

  function onPointerEnd(event: PointerEvent<SVGSVGElement>): void {
    if (grip.current?.pointer !== event.pointerId) return;
    grip.current = null;
    put(event.type === 'pointerup' && dragged.current ? ghost : null);
  }

  function select(id: string): void {
    onSelect(id);
    const element = body.current?.querySelector<SVGElement>(`[data-bar="${CSS.escape(id)}"][role="button"]`);
    element?.focus({ preventScroll: true });
    element?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  function onKey(event: KeyboardEvent<SVGSVGElement>): void {
    const { bar: id } = dataOf(event.target);
    if (id === undefined) return;
    const along = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
    const across = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    if (event.key === 'Escape' && ghost) setGhost(null);
    else if (along !== 0 && event.shiftKey && onMove) nudge(id, along * 15, event.ctrlKey || event.metaKey);
    else if (along !== 0 || across !== 0) {
      const next = along === 0 ? acrossLanes(drawing, lanes, byId, id, across) : alongLane(bars, byId, id, along);
      if (next) select(next);
    } else if (id !== selected && (event.key === 'Enter' || event.key === ' ')) onSelect(id);
    else if (!props.onKey?.(id, event)) {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      onSelect(id);
    }
    event.preventDefault();
  }

  function nudge(id: string, minutes: number, whole: boolean): void {
    const first = whole ? nextOfLane(id) : byId.get(id);
    if (!first?.movable) return;
    const all = minutes + (ghost?.id === first.id && ghost.minutes !== null ? ghost.minutes : 0);
    setGhost({ id: first.id, whole, startAt: stepOpen(hours, first.startAt, all), minutes: all });
  }

  function onKeyUp(event: KeyboardEvent<SVGSVGElement>): void {
    if (event.key === 'Shift' && ghost?.minutes != null) put(ghost);
  }

  return (
    <div className="week-drawing" style={{ width }}>
      <Head drawing={drawing} width={width} chart={chart} title={sizes.title} timeZone={timeZone} />
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing is no fieldset */}
      <svg
        ref={body}
        className={onMove ? 'week week-movable' : 'week'}
        width={width}
        height={height}
        role="group"
        aria-label={props.label}
        onClick={(event) => {
          const { bar } = dataOf(event.target);
          if (bar !== undefined && !dragged.current) onSelect(bar);
        }}
        onKeyDown={onKey}
        onKeyUp={onKeyUp}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerEnd}
        onPointerCancel={onPointerEnd}
      >
        <Defs />
        <Ground
          drawing={drawing}
          lanes={lanes}
          width={width}
          height={height}
          sizes={sizes}
          grips={onMove !== undefined}
        />
        <Bars drawing={drawing} lanes={lanes} byId={byId} sizes={sizes} selected={selected} focusable={focusable} />
        <g transform={`translate(${sizes.title} 0)`}>
          {now > range.from && now < range.to && (
            <g className="week-now">
              <line x1={x(now)} x2={x(now)} y1={0} y2={height} />
              <text x={x(now) + 3} y={height - 2}>
                now
              </text>
            </g>
          )}
          {ghost && (
            <GhostBars
              ghost={ghost}
              drawing={drawing}
              lanes={lanes}
              byId={byId}
              sizes={sizes}
              x={x}
              timeZone={timeZone}
            />
          )}
        </g>
      </svg>
      <span className="visually-hidden" role="status">
        {ghost?.minutes != null ? `To ${timeWords(ghost.startAt, timeZone)}` : ''}
      </span>
    </div>
  );
}

function dataOf(target: EventTarget): Readonly<{ bar?: string; lane?: string }> {
  const found = target instanceof Element ? target.closest<SVGElement>('[data-bar],[data-lane]') : null;
  const { bar, lane } = found?.dataset ?? {};
  return { ...(bar === undefined ? {} : { bar }), ...(lane === undefined ? {} : { lane }) };
}

/** A quarter of an hour within open hours; closed hours give the next opening. */
function snapped(instant: number, windows: readonly Span[]): number {
  const at = Math.round(instant / quarter) * quarter;
  const window = windows.find((one) => one.to > at);
  return window === undefined ? at : Math.max(at, window.from);
}

function alongLane(bars: readonly WeekBar[], byId: ReadonlyMap<string, WeekBar>, id: string, step: number) {
  const { lane } = byId.get(id) ?? {};
  const ofLane = bars.filter((bar) => bar.lane === lane).toSorted((a, b) => a.startAt - b.startAt);
  return ofLane[ofLane.findIndex((bar) => bar.id === id) + step]?.id;
}

/** The bar nearest in time in the next lane of books or people that has any. */
function acrossLanes(
  drawing: LaneDrawing,
  lanes: readonly WeekLane[],
  byId: ReadonlyMap<string, WeekBar>,
  id: string,
  step: number,
): string | undefined {
  const from = byId.get(id);
  if (!from) return undefined;
  const start = lanes.findIndex((lane) => lane.key === from.lane);
  for (let index = start + step; lanes[index] && lanes[index]?.group !== 'tool'; index += step) {
    const there = drawing.bars.filter((bar) => bar.lane === index).map((bar) => byId.get(bar.id)!);
    const [nearest] = there.toSorted((a, b) => Math.abs(a.startAt - from.startAt) - Math.abs(b.startAt - from.startAt));
    if (nearest) return nearest.id;
  }
  return undefined;
}

function gapBefore(lanes: readonly WeekLane[], lane: number): number {
  const firstOther = lanes.findIndex((one) => one.group === 'tool');
  return firstOther > 0 && lane >= firstOther ? groupGap : 0;
}

function rowTop(lanes: readonly WeekLane[], sizes: Sizes, lane: number, row: number): number {
  return row * sizes.row + gapBefore(lanes, lane);
}

function bodyHeight(lanes: readonly WeekLane[], drawing: LaneDrawing, sizes: Sizes): number {
  return drawing.rows * sizes.row + gapBefore(lanes, lanes.length) + 6;
}

function Defs() {
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
const Head = memo(function Head({ drawing, width, chart, title, timeZone }: HeadProps) {
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
const Ground = memo(function Ground({ drawing, lanes, width, height, sizes, grips }: GroundProps) {
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

type BarsProps = Readonly<{
  drawing: LaneDrawing;
  lanes: readonly WeekLane[];
  byId: ReadonlyMap<string, WeekBar>;
  sizes: Sizes;
  selected: string | null;
  focusable: string | null;
}>;

const Bars = memo(function Bars({ drawing, lanes, byId, sizes, selected, focusable }: BarsProps) {
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

type GhostProps = Omit<BarsProps, 'selected' | 'focusable'> &
  Readonly<{ ghost: Ghost; x: (instant: number) => number; timeZone: string }>;

/** Where it will go, with its time beside it. */
function GhostBars({ ghost, drawing, lanes, byId, sizes, x, timeZone }: GhostProps) {
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

function timeWords(instant: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    timeZone,
    weekday: 'short',
    hour: '2-digit',
    minute: '2-digit',
  }).format(instant);
}

/** About as many characters as the lane's title has room for; its end is kept, where volumes differ. */
function shorten(title: string, width: number): string {
  const room = Math.floor(width / 7);
  if (title.length <= room) return title;
  const end = room < 18 ? 0 : Math.floor(room * 0.35);
  if (end === 0) return `${title.slice(0, room - 1).trimEnd()}…`;
  return `${title.slice(0, room - end - 1).trimEnd()}…${title.slice(-end).trimStart()}`;
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
