/** All operations this workshop begins with, in bench order: an order in which every one comes after what it must follow. */

import { assert } from '../result.ts';
import type { MaterialKind } from '../stock/material.ts';
import type { Operation } from './operation.ts';
import { coverOperations } from './operations-cover.ts';
import { finishOperations } from './operations-finish.ts';
import { firstOperations } from './operations-first.ts';
import { leafOperations } from './operations-leaves.ts';

/** In bench order. */
export const operations: readonly Operation[] = inBenchOrder([
  ...firstOperations,
  ...leafOperations,
  ...coverOperations,
  ...finishOperations,
]);

const byId: ReadonlyMap<string, Operation> = new Map(operations.map((operation) => [operation.id, operation]));
const rank: ReadonlyMap<string, number> = new Map(operations.map((operation, index) => [operation.id, index]));

export function operationById(id: string): Operation | undefined {
  return byId.get(id);
}

/** Place in bench order, from 0; an operation this library does not know comes last. */
export function benchRank(id: string): number {
  return rank.get(id) ?? operations.length;
}

/** Materials a person's skin meets in this operation, for allergies. */
export function materialsTouched(operation: Operation): readonly MaterialKind[] {
  return [...new Set(operation.needs.map((need) => need.kind))];
}

/**
 * Sorts so that each comes after everything in its `after` and `requires`; among those that could come next, the one written first does
 * (Kahn 1962). Asserts that the dependencies make no circle.
 */
function inBenchOrder(written: readonly Operation[]): readonly Operation[] {
  const known = new Set(written.map((operation) => operation.id));
  const left = [...written];
  const placed = new Set<string>();
  const ordered: Operation[] = [];
  while (left.length > 0) {
    const next = left.findIndex((operation) =>
      [...operation.after, ...operation.requires.flat()].every((id) => !known.has(id) || placed.has(id)),
    );
    assert(
      next >= 0,
      `operations wait for each other in a circle: ${left.map((operation) => operation.id).join(', ')}`,
    );
    const [operation] = left.splice(next, 1);
    if (operation === undefined) break;
    ordered.push(operation);
    placed.add(operation.id);
  }
  return ordered;
}
