/** Questions every room shares: the workshop's state, and changes after which everything shown is asked again. */
import { QueryClient, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { Habits } from '../../core/contract/workshop.ts';
import { ask } from './client.ts';
import { say } from './say.ts';

/** The workshop is on this machine: asking works without a network, and asking again does not cure a refusal. */
export function makeQueryClient(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      queries: { networkMode: 'always', retry: false, refetchOnWindowFocus: true },
      mutations: { networkMode: 'always', retry: false },
    },
  });
}

export function useStatus() {
  return useQuery(ask.workshop.status.queryOptions());
}

const noHabits: Habits = {
  name: '',
  timeZone: 'UTC',
  currency: 'EUR',
  units: 'mm',
  weekHours: [[], [], [], [], [], [], []],
  daysOff: [],
  weights: {},
  hourlyRateMinor: 0,
  paper: 'A4',
  heading: '',
};

/** How this workshop works; plain ones until they are known. */
export function useHabits(): Habits {
  return useStatus().data?.open?.habits ?? noHabits;
}

/**
 * A change of the workshop: `const save = useChange(client.shelf.save, () => 'Saved.')`, then `save.mutate(input)`. When it is kept,
 * everything on the page is asked again and the sentence is said quietly; what it throws is in `save.error`, for `readTrouble`.
 */
export function useChange<Input, Output>(
  change: (input: Input) => Promise<Output>,
  sentence?: (output: Output, input: Input) => string | null,
) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (input: Input) => change(input),
    onSuccess(output, input) {
      const words = sentence?.(output, input);
      if (words) say(words);
      // Not awaited: the change is kept, whatever the asking again takes.
      void queries.invalidateQueries();
    },
  });
}
