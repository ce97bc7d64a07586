/** How much better than a plan the best could be, as a person reads it. */
import type { Objective } from './problem.ts';

export type Gap = Readonly<{
  /** At most this share of the plan's measure could still be won; 0 when proven best. */
  gap: number;
  /** What the gap measures. */
  measure: keyof Objective;
  /** The gap in minutes, each book's counted by its weight; plans kept before this was kept have none. */
  gapMinutes?: number;
}>;

const measureWords = {
  lateness: 'in lateness',
  completion: 'in how soon each book is out',
  finish: 'in when the last book is out',
} as const;

/** A clause that begins small. A share of lateness says nothing where no lateness at all is proven needful: that is said in hours. */
export function gapWords({ gap, measure, gapMinutes }: Gap): string {
  if (gap === 0) return 'proven: no plan is better';
  if (measure === 'lateness' && gap > 0.995 && gapMinutes !== undefined)
    return `none of the lateness, ${hoursOf(gapMinutes)} over all books by their weight, is proven to be needed`;
  return `at most ${Math.ceil(gap * 100)} % better is possible (${measureWords[measure]})`;
}

function hoursOf(minutes: number): string {
  return minutes < 120 ? `${Math.round(minutes)} minutes` : `${Math.round(minutes / 60)} hours`;
}
