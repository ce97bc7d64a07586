/** An operation as a person writes it, checked before it joins the library: times in order, cautions beside what can hurt, no circles. */
import { ok, type Result, refuse } from '../result.ts';
import type { MaterialKind } from '../stock/material.ts';
import { type Library, libraryWith } from './library.ts';
import type { Operation } from './operation.ts';
import type { Danger, ToolKind } from './treatment.ts';

/** Tools that can hurt, each with a danger of which a caution must stand beside the step. Common practice, no source. */
const toolDangers: Readonly<Partial<Record<ToolKind, readonly Danger[]>>> = {
  'board shear': ['board shear'],
  'extraction hood': ['solvent', 'dust', 'mould', 'pigment'],
  'nipping press': ['weight'],
  'standing press': ['weight'],
};

/** Materials that can hurt. */
const materialDangers: Readonly<Partial<Record<MaterialKind, readonly Danger[]>>> = {
  'leather consolidant': ['solvent'],
};

/**
 * The operation, fit to join `library`, of which `others` are the workshop's own so far. Refuses minutes out of order, a hazardous tool or
 * material without a caution for it, what it is to follow but is not there, and a circle, naming the operations in it.
 */
export function checkOperation(
  operation: Operation,
  library: Library,
  others: readonly Operation[],
): Result<Operation> {
  const { name, minutes, tools, needs, cautions } = operation;
  if (name.trim() === '') return refuse('An operation needs a name.', 'name');
  const namesake = library.operations.find(
    (other) => other.id !== operation.id && other.name.toLowerCase() === name.trim().toLowerCase(),
  );
  if (namesake !== undefined) return refuse(`There is an operation called “${namesake.name}” already.`, 'name');
  const { low, likely, high } = minutes;
  if (!(low >= 1 && low <= likely && likely <= high)) {
    return refuse('The shortest time must not be over the usual one, nor the usual one over the longest.', 'minutes');
  }
  if (operation.grows !== null && !(operation.grows.from > 0)) {
    return refuse('Say for which size the minutes are meant.', 'grows');
  }
  for (const tool of tools) {
    const wanted = toolDangers[tool];
    if (wanted !== undefined && !cautions.some(({ danger }) => wanted.includes(danger))) {
      return refuse(
        `The ${tool} can hurt: write down the caution (${wanted.join(', ')}) that stands beside the step.`,
        'cautions',
      );
    }
  }
  for (const { kind } of needs) {
    const wanted = materialDangers[kind];
    if (wanted !== undefined && !cautions.some(({ danger }) => wanted.includes(danger))) {
      return refuse(
        `${kind} can hurt: write down the caution (${wanted.join(', ')}) that stands beside the step.`,
        'cautions',
      );
    }
  }
  const empty = cautions.find(({ sentence }) => sentence.trim().length < 10);
  if (empty !== undefined) {
    return refuse(`Say the caution against ${empty.danger} in a sentence that tells what to do.`, 'cautions');
  }
  const missing = [...operation.after, ...operation.requires.flat()].find((id) => library.byId(id) === undefined);
  if (missing !== undefined) return refuse(`“${missing}” is no operation of this workshop.`, 'after');
  const joined = libraryWith([...others.filter(({ id }) => id !== operation.id), operation]);
  return joined.ok ? ok(operation) : joined;
}

/** The id of a new operation: its name in small letters, told apart by a number where that is taken. */
export function newOperationId(name: string, isTaken: (id: string) => boolean): string {
  const plain = name.trim().toLowerCase().replace(/\s+/g, ' ').slice(0, 80);
  for (let number = 1; ; number++) {
    const id = number === 1 ? plain : `${plain} ${number}`;
    if (!isTaken(id)) return id;
  }
}
