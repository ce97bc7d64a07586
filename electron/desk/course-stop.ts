/** Long work of the Course that a person can tell to stop: one at a time for a workshop. */
import type { Workshop } from '../store/workshop.ts';

const working = new WeakMap<Workshop, AbortController>();

/** Runs long work so that `stopWork` finds it; whoever leaves stops it too. */
export async function whileStoppable<W extends Readonly<{ stop: AbortSignal }>, T>(
  store: Workshop,
  work: W,
  run: (work: W) => Promise<T>,
): Promise<T> {
  const told = new AbortController();
  working.set(store, told);
  try {
    return await run({ ...work, stop: AbortSignal.any([work.stop, told.signal]) });
  } finally {
    if (working.get(store) === told) working.delete(store);
  }
}

/** Whether there was anything to stop. */
export function stopWork(store: Workshop): boolean {
  const told = working.get(store);
  told?.abort();
  return told !== undefined;
}
