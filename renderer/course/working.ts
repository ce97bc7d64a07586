/** Allocating and laying out as the page follows them: what is said while they work, and a stop that keeps the best so far. */
import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { Allocating, CoursePlanning } from '../../core/contract/course.ts';
import { client } from '../app/client.ts';
import { say } from '../app/say.ts';

/** Long enough to prove most courses best; the person can stop sooner. */
const allocateSeconds = 8;
const planSeconds = 4;

type Impossible = Extract<Allocating, { kind: 'impossible' }>;
type Piece = Allocating | CoursePlanning;

export function useCourseWork(courseId: string) {
  const queries = useQueryClient();
  const [words, setWords] = useState<string | null>(null);
  const [error, setError] = useState<unknown>(null);
  const [impossible, setImpossible] = useState<Impossible | null>(null);
  const running = useRef<AsyncIterator<unknown> | null>(null);

  async function run(begin: () => Promise<AsyncIteratorObject<Piece>>, first: string, done: string) {
    setError(null);
    setImpossible(null);
    setWords(first);
    try {
      const pieces = await begin();
      running.current = pieces;
      for await (const piece of pieces) {
        if (piece.kind === 'progress') setWords(piece.words);
        else if (piece.kind === 'impossible') setImpossible(piece);
        else say(done);
      }
    } catch (trouble) {
      setError(trouble);
    } finally {
      running.current = null;
      setWords(null);
      await queries.invalidateQueries();
    }
  }

  // Leaving the room does not leave the engine running for nobody.
  useEffect(() => () => void running.current?.return?.(), []);

  return {
    words,
    error,
    impossible,
    allocate: () =>
      void run(
        () => client.course.allocate({ courseId, seconds: allocateSeconds }),
        'Allocating the copies …',
        'The copies are allocated.',
      ),
    layOut: () =>
      void run(
        () => client.course.plan({ courseId, seconds: planSeconds }),
        'Laying out the week …',
        'The week is laid out.',
      ),
    stop: () => void client.course.stop().catch(setError),
  };
}
