import type { Lab } from '../../core/salvage/piece.ts';

/** CSS knows Lab under D50 by itself. */
export function inCss([l, a, b]: Lab): string {
  return `lab(${l} ${a} ${b})`;
}
