/** Answers that arrive in pieces: progress of long work, which the asker may end at any time. */

/** True for an answer given in pieces. */
export function isStream(output: unknown): output is AsyncIterator<unknown, unknown, unknown> {
  return typeof output === 'object' && output !== null && Symbol.asyncIterator in output && 'next' in output;
}

/** The same pieces, with anything thrown between them put into words by `say`. */
export function guardStream<T>(stream: AsyncIterator<T>, say: (error: unknown) => unknown): AsyncIteratorObject<T> {
  const guarded = {
    async next() {
      try {
        return await stream.next();
      } catch (error) {
        throw say(error);
      }
    },
    async return(value?: unknown) {
      try {
        return (await stream.return?.(value)) ?? { done: true as const, value };
      } catch (error) {
        throw say(error);
      }
    },
    [Symbol.asyncIterator]() {
      return guarded;
    },
  };
  return guarded as unknown as AsyncIteratorObject<T>;
}

/**
 * Runs `work` and hands on what it says as it says it. The work goes at its own pace, not the listener's, and is never dropped:
 * when the listener leaves (or the connection breaks) `stop` is raised, and what the work saves on its way out is saved.
 * The last piece is what `work` returns.
 */
export function streamed<T>(
  signal: AbortSignal | undefined,
  work: (say: (piece: T) => void, stop: AbortSignal) => Promise<T>,
): AsyncIteratorObject<T> {
  const stopper = new AbortController();
  const pieces: T[] = [];
  let ended = false;
  let failure: { error: unknown } | null = null;
  let wake: () => void = () => {};
  const stop = () => {
    stopper.abort();
    wake();
  };
  if (signal?.aborted) stop();
  signal?.addEventListener('abort', stop, { once: true });

  const push = (piece: T) => {
    pieces.push(piece);
    wake();
  };
  const running = work(push, stopper.signal)
    .then(push, (error: unknown) => {
      failure = { error };
    })
    .finally(() => {
      ended = true;
      signal?.removeEventListener('abort', stop);
      wake();
    });

  function raise(): void {
    const failed = failure;
    failure = null;
    if (failed !== null) throw failed.error;
  }

  const stream = {
    async next(): Promise<IteratorResult<T, undefined>> {
      for (;;) {
        if (pieces.length > 0) return { done: false, value: pieces.shift() as T };
        raise();
        if (ended || stopper.signal.aborted) return { done: true, value: undefined };
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
    },
    async return(): Promise<IteratorResult<T, undefined>> {
      stop();
      await running;
      raise();
      return { done: true, value: undefined };
    },
    [Symbol.asyncIterator]() {
      return stream;
    },
  };
  return stream as unknown as AsyncIteratorObject<T>;
}
