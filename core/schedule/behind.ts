/** Whether the clock has left a plan behind, so that planning the rest anew is worth offering. */

/** A planned step as far as that needs; instants in milliseconds. */
export type ClockedStep = Readonly<{
  label: string;
  book: string;
  kind: 'hands' | 'drying' | 'pressing';
  state: 'planned' | 'started' | 'paused' | 'finished' | 'set aside';
  startAt: number;
  endAt: number;
}>;

export type Behind = Readonly<{ step: ClockedStep; how: 'not begun' | 'takes longer'; minutes: number }>;

/** Late by less than this is nothing to plan anew for. Common practice, no source. */
const graceMinutes = 15;

/**
 * The hand-step that lags most behind its time by more than a quarter of an hour: not begun although its time has come, or still going on
 * after it should be over. Null while the plan holds.
 */
export function leftBehind(steps: readonly ClockedStep[], now: number): Behind | null {
  let most: Behind | null = null;
  for (const step of steps) {
    if (step.kind !== 'hands') continue;
    const begun = step.state === 'started' || step.state === 'paused';
    if (!begun && step.state !== 'planned') continue;
    const minutes = Math.floor((now - (begun ? step.endAt : step.startAt)) / 60_000);
    if (minutes > (most?.minutes ?? graceMinutes)) most = { step, how: begun ? 'takes longer' : 'not begun', minutes };
  }
  return most;
}
