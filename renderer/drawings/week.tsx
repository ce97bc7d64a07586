/**
 * The week as lanes: hand-work solid, drying open, presses below in lanes of their own, nights folded, now as a line, uncertainty as a
 * fading end. Its days stay in sight while the lanes scroll. Where `onMove` is given, bars and books can be dragged along time, with a
 * finger, a mouse or Shift and the arrows.
 */
import { type KeyboardEvent, type PointerEvent, useMemo, useRef, useState } from 'react';
import { drawLanes, instantAt, type LaneDrawing, stepOpen, timeScale } from '../../core/schedule/lanes.ts';
import { Bars, type Ghost, GhostBars, timeWords } from './week-bars.tsx';
import { Defs, Ground, Head } from './week-ground.tsx';
import { bodyHeight, type Span, sizesFor, type WeekBar, type WeekLane } from './week-layout.ts';
import './week.css';

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

const quarter = 15 * 60_000;
/** A finger trembles less than this many pixels. */
const dragFrom = 5;

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
