/** Workshops for tests of the store: made in a folder that is gone afterwards. */
import { onTestFinished } from 'vitest';
import type { Result } from '../../../core/result.ts';
import type { book } from '../../../electron/store/schema.ts';
import {
  createWorkshop,
  type Draft,
  type OpenOptions,
  openWorkshop,
  type Workshop,
} from '../../../electron/store/workshop.ts';
import { temporaryFolder } from '../test-desk.ts';

export const habits = { name: 'Test bindery', timeZone: 'Europe/London', currency: 'GBP' } as const;

/** The value of a result that must be one. */
export function got<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}

/** The sentence of a result that must be a refusal. */
export function sentenceOf(result: Result<unknown>): string {
  if (result.ok) throw new Error('was not refused');
  return result.refusal.sentence;
}

/** A new workshop, closed after the test. */
export function newWorkshop(options?: OpenOptions): Workshop {
  return closedAfter(got(createWorkshop(temporaryFolder(), habits, options)));
}

/** Closes the workshop and opens its folder again, as after a restart. */
export function reopened(workshop: Workshop, options?: OpenOptions): Workshop {
  workshop.close();
  return closedAfter(got(openWorkshop(workshop.folder, options)));
}

function closedAfter(workshop: Workshop): Workshop {
  onTestFinished(() => workshop.close());
  return workshop;
}

export function bookDraft(title: string, more: Partial<Draft<typeof book>> = {}): Draft<typeof book> {
  return {
    title,
    author: '',
    imprint: '',
    dateText: '1860',
    format: 'crown 8vo',
    pagesText: '',
    colour: 'green',
    fateLocked: false,
    stage: 'waiting',
    use: 'reference',
    significance: 1,
    scarcity: 'common',
    completeness: 'unknown',
    note: '',
    createdAt: 0,
    ...more,
  };
}
