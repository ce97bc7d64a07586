/** The log of defects: one JSON line each, numbered on from the last, in a file the person can send. Nothing leaves the machine. */
import { closeSync, existsSync, fstatSync, mkdirSync, openSync, readSync, renameSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { pino } from 'pino';

export type Log = Readonly<{
  /** Writes an unexpected exception down and gives it its number. */
  defect(error: unknown, where: string): number;
  note(words: string): void;
}>;

/** Common practice, no source: large enough for years of defects, small enough to attach to a letter. */
const fullAtBytes = 5_000_000;
const tailBytes = 65_536;

/** Opens the log at `file`, starting a new one when it is full; without a file it only counts and prints to standard error. */
export function openLog(file?: string): Log {
  if (file !== undefined) {
    mkdirSync(dirname(file), { recursive: true });
  }
  let last = file === undefined ? 0 : lastDefect(file);
  if (file !== undefined && existsSync(file) && statSync(file).size > fullAtBytes) renameSync(file, `${file}.old`);
  const sink = pino({ base: null }, pino.destination({ dest: file ?? 2, sync: true }));
  return {
    defect(error, where) {
      last += 1;
      sink.error({ defect: last, where, err: error instanceof Error ? error : new Error(String(error)) });
      return last;
    },
    note(words) {
      sink.info(words);
    },
  };
}

/** Keeps everything in memory; for tests and for work without a folder to write to. */
export function memoryLog(): Log & Readonly<{ lines: readonly string[] }> {
  const lines: string[] = [];
  let last = 0;
  return {
    lines,
    defect(error, where) {
      last += 1;
      lines.push(`${last} ${where}: ${error instanceof Error ? error.message : String(error)}`);
      return last;
    },
    note(words) {
      lines.push(words);
    },
  };
}

function lastDefect(file: string): number {
  if (!existsSync(file)) return 0;
  const handle = openSync(file, 'r');
  try {
    const size = fstatSync(handle).size;
    const buffer = Buffer.alloc(Math.min(size, tailBytes));
    readSync(handle, buffer, 0, buffer.length, size - buffer.length);
    const numbers = [...buffer.toString('utf8').matchAll(/"defect":(\d+)/g)].map((match) => Number(match[1]));
    return numbers.at(-1) ?? 0;
  } finally {
    closeSync(handle);
  }
}
