/** How people of each level get on, against the minutes of somebody who knows the work. */
import { type Level, levels } from '../book/book.ts';

/** Minutes a learner takes for one minute of the bench's own. Common practice, no source; the day-book will tell. */
const pace: Readonly<Record<Level, number>> = { newcomer: 2, improver: 1.4, journeyman: 1 };

export function learnerMinutes(minutes: number, level: Level): number {
  return Math.max(1, Math.ceil(minutes * pace[level]));
}

/** 0 newcomer, 1 improver, 2 journeyman. */
export function rankOf(level: Level): number {
  return levels.indexOf(level);
}

/** "a newcomer", "an improver". */
export function oneOf(level: Level): string {
  return level === 'improver' ? 'an improver' : `a ${level}`;
}
