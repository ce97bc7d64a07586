/** The operations of this bench in bench order, the workshop's own among them; none until they are known. */
import { useQuery } from '@tanstack/react-query';
import type { Operation } from '../../core/treatment/operation.ts';
import { ask } from '../app/client.ts';

export function useOperations(): readonly Operation[] {
  const { data } = useQuery({ ...ask.operations.list.queryOptions(), staleTime: 60_000 });
  return data?.map(({ operation }) => operation) ?? none;
}

const none: readonly Operation[] = [];
