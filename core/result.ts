/**
 * Trouble a person can act on. A refusal says in one plain sentence what is wrong and, where it helps, at which field;
 * bugs are exceptions instead, raised by `assert`.
 */
export type Refusal = Readonly<{ sentence: string; field?: string }>;

export type Result<T> = Readonly<{ ok: true; value: T }> | Readonly<{ ok: false; refusal: Refusal }>;

export function ok<T>(value: T): Result<T> {
  return { ok: true, value };
}

/** A refusal with its sentence; `field` names the input at fault as the caller knows it. */
export function refuse(sentence: string, field?: string): Result<never> {
  return { ok: false, refusal: field === undefined ? { sentence } : { sentence, field } };
}

/** Stops on a broken invariant: a defect of ours, never a person's mistake. */
export function assert(condition: unknown, message: string): asserts condition {
  if (!condition) throw new Error(`Broken invariant: ${message}`);
}
