/**
 * Long computations in a thread of their own: progress comes back as it is said, and raising the signal asks the work to stop and hand
 * over the best it has. Work that cannot be asked is ended with its thread.
 */
import { parentPort, Worker, workerData } from 'node:worker_threads';

type Message<P, O> =
  | { kind: 'progress'; value: P }
  | { kind: 'done'; value: O }
  | { kind: 'failed'; message: string; stack: string };
type Start<I> = Readonly<{ input: I; stopFlag: SharedArrayBuffer }>;

export type ThreadOptions<P> = Readonly<{
  signal?: AbortSignal | undefined;
  onProgress?: (value: P) => void;
  /** `ask`: the work looks at its stop flag and answers with what it has. `end`: the thread is ended and the promise rejects. */
  onStop: 'ask' | 'end';
}>;

/** Runs the worker file of this name beside us, once, and resolves to what it answers. Rejects with AbortError when ended. */
export async function inThread<I, P, O>(name: string, input: I, options: ThreadOptions<P>): Promise<O> {
  // Run from source the worker is TypeScript beside this file; in the built program it is a module beside the bundle.
  const file = import.meta.url.endsWith('.ts') ? `./${name}.ts` : `./${name}.mjs`;
  const stopFlag = new SharedArrayBuffer(4);
  const worker = new Worker(new URL(file, import.meta.url), { workerData: { input, stopFlag } satisfies Start<I> });
  const { signal } = options;
  let onAbort = () => {};
  try {
    return await new Promise<O>((resolve, reject) => {
      onAbort = () => {
        if (options.onStop === 'ask') Atomics.store(new Int32Array(stopFlag), 0, 1);
        else reject(new DOMException('Stopped', 'AbortError'));
      };
      if (signal?.aborted) onAbort();
      signal?.addEventListener('abort', onAbort, { once: true });
      worker.on('message', (message: Message<P, O>) => {
        if (message.kind === 'progress') options.onProgress?.(message.value);
        else if (message.kind === 'done') resolve(message.value);
        else reject(Object.assign(new Error(message.message), { stack: message.stack }));
      });
      worker.on('error', reject);
      worker.on('exit', (code) => reject(new Error(`The ${name} thread ended with code ${code} before it answered.`)));
    });
  } finally {
    signal?.removeEventListener('abort', onAbort);
    // It has answered or failed; nobody needs to wait for its end.
    void worker.terminate();
  }
}

/** The worker's side: reads its input, says progress, and answers with what `work` returns. */
export async function answerThread<I, P, O>(
  work: (input: I, say: (value: P) => void, shouldStop: () => boolean) => O | Promise<O>,
): Promise<void> {
  const port = parentPort;
  if (!port) throw new Error('This file runs only as a thread of the workshop.');
  const { input, stopFlag } = workerData as Start<I>;
  const flag = new Int32Array(stopFlag);
  try {
    const value = await work(
      input,
      (progress) => port.postMessage({ kind: 'progress', value: progress }),
      () => Atomics.load(flag, 0) === 1,
    );
    port.postMessage({ kind: 'done', value });
  } catch (error) {
    const { message, stack } = error instanceof Error ? error : new Error(String(error));
    port.postMessage({ kind: 'failed', message, stack: stack ?? '' });
  }
}
