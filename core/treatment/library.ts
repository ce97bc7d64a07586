/** All operations this workshop begins with, in bench order: an order in which every one comes after what it must follow. */

import { assert, ok, type Result, refuse } from '../result.ts';
import type { MaterialKind } from '../stock/material.ts';
import type { Operation } from './operation.ts';
import { coverOperations } from './operations-cover.ts';
import { finishOperations } from './operations-finish.ts';
import { firstOperations } from './operations-first.ts';
import { leafOperations } from './operations-leaves.ts';

/** The operations a workshop works with: those the program brings, with its own and its own versions of them in their places. */
export type Library = Readonly<{
  /** In bench order. */
  operations: readonly Operation[];
  byId(id: string): Operation | undefined;
  /** Place in bench order, from 0; an operation this library does not know comes last. */
  rank(id: string): number;
  /** Those that say themselves which findings call for them. */
  calledByFindings: readonly Operation[];
}>;

/** In bench order. */
export const operations: readonly Operation[] = inBenchOrder([
  ...firstOperations,
  ...leafOperations,
  ...coverOperations,
  ...finishOperations,
]);

/** As the program brings it. */
export const broughtLibrary: Library = libraryIn(operations);

export function operationById(id: string): Operation | undefined {
  return broughtLibrary.byId(id);
}

/**
 * The library with a workshop's own operations: one by the id of a brought one stands in for it. Refuses operations that wait for each other
 * in a circle, naming them.
 */
export function libraryWith(own: readonly Operation[]): Result<Library> {
  if (own.length === 0) return ok(broughtLibrary);
  const mine = new Map(own.map((operation) => [operation.id, operation]));
  const known = new Set(operations.map(({ id }) => id));
  const written = [
    ...operations.map((operation) => mine.get(operation.id) ?? operation),
    ...own.filter(({ id }) => !known.has(id)),
  ];
  const circle = circleIn(written);
  if (circle.length > 0) return refuse(`These operations wait for each other: ${circle.join(', then ')}.`, 'after');
  return ok(libraryIn(inBenchOrder(written)));
}

function libraryIn(ordered: readonly Operation[]): Library {
  const byId = new Map(ordered.map((operation) => [operation.id, operation]));
  const rank = new Map(ordered.map((operation, index) => [operation.id, index]));
  return {
    operations: ordered,
    byId: (id) => byId.get(id),
    rank: (id) => rank.get(id) ?? ordered.length,
    calledByFindings: ordered.filter(({ calledBy }) => calledBy !== undefined && calledBy.length > 0),
  };
}

/** Names of operations that wait for each other, once round, the first again at the end; empty where there is no circle. */
function circleIn(written: readonly Operation[]): readonly string[] {
  const byId = new Map(written.map((operation) => [operation.id, operation]));
  const settled = new Set<string>();
  const path: Operation[] = [];
  function walk(operation: Operation): readonly string[] {
    const again = path.indexOf(operation);
    if (again >= 0) return [...path.slice(again), operation].map(({ name }) => `“${name}”`).reverse();
    if (settled.has(operation.id)) return [];
    path.push(operation);
    for (const id of waitsFor(operation)) {
      const before = byId.get(id);
      const circle = before === undefined ? [] : walk(before);
      if (circle.length > 0) return circle;
    }
    path.pop();
    settled.add(operation.id);
    return [];
  }
  for (const operation of written) {
    const circle = walk(operation);
    if (circle.length > 0) return circle;
  }
  return [];
}

function waitsFor(operation: Operation): readonly string[] {
  return [...operation.after, ...operation.requires.flat()];
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
    const next = left.findIndex((operation) => waitsFor(operation).every((id) => !known.has(id) || placed.has(id)));
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
