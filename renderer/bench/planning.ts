/** Planning as the page follows it: what it says while it works, and a stop that keeps the best so far. */
import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import { gapWords } from '../../core/schedule/gap-words.ts';
import { client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { say } from '../app/say.ts';
import { clockWords, dayWords } from '../parts/words.ts';

/** Long enough to get close to the best for a usual week; the person can stop sooner. */
const seconds = 4;

export function usePlanning(startsOn: string) {
  const queries = useQueryClient();
  const { timeZone } = useHabits();
  const [words, setWords] = useState<string | null>(null);
  const [error, setError] = useState<unknown>(null);
  const running = useRef<AsyncIterator<unknown> | null>(null);

  async function run(bookIds: readonly string[]) {
    setError(null);
    setWords('Laying out the week …');
    try {
      const pieces = await client.bench.plan({ startsOn, bookIds: [...bookIds], seconds });
      running.current = pieces;
      for await (const piece of pieces) {
        if (piece.kind === 'progress') {
          const { finishAt } = piece;
          const out = `last book out ${dayWords(finishAt, timeZone)} ${clockWords(finishAt, timeZone)}`;
          setWords(`${piece.words}; ${out}; ${gapWords(piece)}`);
        } else say('The week is planned.');
      }
    } catch (trouble) {
      setError(trouble);
    } finally {
      running.current = null;
      setWords(null);
      await queries.invalidateQueries();
    }
  }

  function stop() {
    client.bench.stop().catch(setError);
  }

  // Leaving the room does not leave the engine running for nobody.
  useEffect(() => () => void running.current?.return?.(), []);

  return { words, error, start: (bookIds: readonly string[]) => void run(bookIds), stop };
}
