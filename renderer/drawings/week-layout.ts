/** What the week's picture is drawn from, and where its lanes and rows lie. */
import type { LaneDrawing, LaneTask } from '../../core/schedule/lanes.ts';

export type WeekBar = LaneTask &
  Readonly<{
    name: string;
    state: 'planned' | 'started' | 'paused' | 'finished' | 'set aside';
    pinned?: boolean;
    /** May be put elsewhere. */
    movable?: boolean;
  }>;
export type WeekLane = Readonly<{ key: string; title: string; group: 'book' | 'tool' | 'person' }>;
export type Span = Readonly<{ from: number; to: number }>;

const groupGap = 14;

export type Sizes = Readonly<{ row: number; bar: number; title: number }>;

/** A finger needs more room than a mouse. */
export function sizesFor(width: number): Sizes {
  const finger = typeof matchMedia === 'function' && matchMedia('(pointer: coarse)').matches;
  return { row: finger ? 34 : 26, bar: finger ? 22 : 16, title: width < 560 ? 96 : 196 };
}

function gapBefore(lanes: readonly WeekLane[], lane: number): number {
  const firstOther = lanes.findIndex((one) => one.group === 'tool');
  return firstOther > 0 && lane >= firstOther ? groupGap : 0;
}

export function rowTop(lanes: readonly WeekLane[], sizes: Sizes, lane: number, row: number): number {
  return row * sizes.row + gapBefore(lanes, lane);
}

export function bodyHeight(lanes: readonly WeekLane[], drawing: LaneDrawing, sizes: Sizes): number {
  return drawing.rows * sizes.row + gapBefore(lanes, lanes.length) + 6;
}
