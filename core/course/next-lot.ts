/** What to look for in the next lot: operations of the syllabus that too few copies teach, and the damage that calls for each. */
import { damages, parts, type Severity, severityWords } from '../book/book.ts';
import { broughtLibrary, type Library } from '../treatment/library.ts';
import { familyOf, rulesFor } from '../treatment/rules.ts';
import { nameWith, ownNames } from './names.ts';

export type Lacking = Readonly<{ operationId: string; name: string; wanted: number; copies: number; lookFor: string }>;

type Item = Readonly<{ operationId: string; required: boolean; copies: number }>;

/** What everybody must meet wants a copy each, the rest one; the scarcest first. */
export function lackingCopies(
  items: readonly Item[],
  people: number,
  library: Library = broughtLibrary,
): readonly Lacking[] {
  const own = ownNames(library);
  return items
    .map(({ operationId, required, copies }) => ({
      operationId,
      name: nameWith(own, operationId),
      wanted: required ? Math.max(1, people) : 1,
      copies,
      lookFor: signsOf(operationId, library),
    }))
    .filter(({ wanted, copies }) => copies < wanted)
    .toSorted((one, other) => other.wanted - other.copies - (one.wanted - one.copies));
}

const bindings = ['cloth case', 'full leather', 'paper boards', 'paper wrappers'] as const;
const mostSigns = 4;

/** The damage for which the rules propose it, in words: "cloth case with its joints split (marked)". */
function signsOf(operationId: string, library: Library): string {
  const direct = signsFor(operationId);
  const signs =
    direct.length > 0
      ? direct
      : library.operations.filter((one) => one.requires.flat().includes(operationId)).flatMap(({ id }) => signsFor(id));
  if (signs.length === 0) return 'No damage alone calls for it; put it on a copy yourself.';
  return `${[...new Set(signs)].slice(0, mostSigns).join('; ')}.`;
}

function signsFor(operationId: string): readonly string[] {
  known ??= allSigns();
  return [...(known.get(operationId)?.values() ?? [])];
}

let known: ReadonlyMap<string, ReadonlyMap<string, string>> | undefined;

/** By operation and part and damage: the slightest degree that calls for it, gone through once. */
function allSigns(): ReadonlyMap<string, ReadonlyMap<string, string>> {
  const signs = new Map<string, Map<string, string>>();
  for (const binding of bindings) {
    const family = familyOf(binding);
    for (const part of parts) {
      for (const damage of damages) {
        for (const severity of [1, 2, 3] as const satisfies readonly Severity[]) {
          for (const { operations: ids } of rulesFor({ part, damage, severity, count: null, note: '' }, family)) {
            for (const id of ids) {
              const own = signs.get(id) ?? new Map<string, string>();
              const key = `${part} ${damage}`;
              if (!own.has(key)) own.set(key, `${binding}: ${part} ${damage} (${severityWords[severity]})`);
              signs.set(id, own);
            }
          }
        }
      }
    }
  }
  return signs;
}
