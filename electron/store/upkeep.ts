/**
 * Keeps the assessments in step with the rules and with the bench's own operations. A few books are done on the spot; a long shelf is done
 * a slice at a time, with room for questions in between, while the list shows what was known before.
 */
import type { Result } from '../../core/result.ts';
import type { keepAssessments } from './assessments.ts';
import type { openJournal } from './journal.ts';

type Journal = Pick<ReturnType<typeof openJournal>, 'refresh'>;
type Assessments = ReturnType<typeof keepAssessments>;

/** Done before anybody is answered: well under a second. */
const onTheSpot = 1000;
/** So few at a time that a question waits less than a tenth of a second. */
const slice = 200;
const pauseMs = 20;

export function keepUp(journal: Journal, assessments: Assessments, note: (words: string) => void) {
  let waiting: readonly string[] = [];
  let of = 0;
  let made = Number.NaN;
  let timer: ReturnType<typeof setTimeout> | undefined;

  /** Looks for books that were assessed by something older, if the rules or operations are other than at the last look. */
  function look(): void {
    const rules = assessments.rules();
    if (rules === made) return;
    made = rules;
    waiting = assessments.outdated();
    of = waiting.length;
    clearTimeout(timer);
    take(onTheSpot);
  }

  function take(most: number): void {
    const refreshed = journal.refresh(waiting.slice(0, most));
    if (!refreshed.ok) {
      note(refreshed.refusal.sentence);
      waiting = [];
    } else waiting = waiting.slice(most);
    if (waiting.length === 0) of = 0;
    // It must not keep a program alive that is done otherwise.
    else timer = setTimeout(() => take(slice), pauseMs).unref();
  }

  return {
    look,
    /** To be asked after each change: the same result, once books that follow from it are in hand. */
    after<T>(result: Result<T>): Result<T> {
      if (result.ok) look();
      return result;
    },
    state: () => ({ left: waiting.length, of }),
    stop(): void {
      clearTimeout(timer);
      waiting = [];
    },
  };
}
