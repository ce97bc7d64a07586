import { ORPCError } from '@orpc/client';

/** What the page itself refuses, said as the workshop says its own refusals. */
export class Refusal extends ORPCError<'REFUSED', Readonly<{ field?: string }>> {
  constructor(sentence: string) {
    super('REFUSED', { status: 422, message: sentence, data: {} });
  }
}
