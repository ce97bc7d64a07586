import { oc } from '@orpc/contract';
import { z } from 'zod';

/**
 * Every question the page may put to the workshop starts here. A refusal is an answer a person can act on: its message is the
 * sentence to show, `field` names the input at fault. Anything else that goes wrong is a defect of ours, logged with a number.
 */
export const ask = oc.errors({
  REFUSED: { status: 422, data: z.object({ field: z.string().optional() }) },
});

/** A document or file handed to the page; content as base64 so that every transport carries it alike. */
export type FileAnswer = Readonly<{ fileName: string; mediaType: string; base64: string }>;

export const id = z.string().min(1).max(64);
/** A calendar date, YYYY-MM-DD, from 0001 to 9999. */
export const date = z.iso.date();
/** One line a person types; long titles are kept, absurd ones refused. */
export const line = z.string().max(20_000, 'This is longer than 20,000 characters; put the rest in the note.');
