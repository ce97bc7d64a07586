/** What to look for in the next lot: operations of the syllabus that too few copies teach, and the damage that calls for each. */
import { damages, parts, type Severity, severityWords } from '../book/book.ts';
import { operations } from '../treatment/library.ts';
import { familyOf, rulesFor } from '../treatment/rules.ts';
import { operationName } from './names.ts';

export type Lacking = Readonly<{ operationId: string; name: string; wanted: number; copies: number; lookFor: string }>;

type Item = Readonly<{ operationId: string; required: boolean; copies: number }>;

/** What everybody must meet wants a copy each, the rest one; the scarcest first. */
export function lackingCopies(items: readonly Item[], people: number): readonly Lacking[] {
  return items
    .map(({ operationId, required, copies }) => ({
      operationId,
      name: operationName(operationId),
      wanted: required ? Math.max(1, people) : 1,
      copies,
      lookFor: signsOf(operationId),
    }))
    .filter(({ wanted, copies }) => copies < wanted)
    .toSorted((one, other) => other.wanted - other.copies - (one.wanted - one.copies));
}

const bindings = ['cloth case', 'full leather', 'paper boards', 'paper wrappers'] as const;
const mostSigns = 4;

/** The damage for which the rules propose it, in words: "cloth case with its joints split (marked)". */
function signsOf(operationId: string): string {
  const direct = signsFor(new Set([operationId]));
  const signs =
    direct.length > 0
      ? direct
      : signsFor(new Set(operations.filter((one) => one.requires.flat().includes(operationId)).map(({ id }) => id)));
  if (signs.length === 0) return 'No damage alone calls for it; put it on a copy yourself.';
  return `${signs.slice(0, mostSigns).join('; ')}.`;
}

function signsFor(wanted: ReadonlySet<string>): readonly string[] {
  const signs = new Map<string, string>();
  for (const binding of bindings) {
    for (const part of parts) {
      for (const damage of damages) {
        for (const severity of [1, 2, 3] as const satisfies readonly Severity[]) {
          const finding = { part, damage, severity, count: null, note: '' };
          const rule = rulesFor(finding, familyOf(binding)).find(({ operations: ids }) =>
            ids.some((id) => wanted.has(id)),
          );
          const key = `${part} ${damage}`;
          if (rule && !signs.has(key)) signs.set(key, `${binding}: ${part} ${damage} (${severityWords[severity]})`);
        }
      }
    }
  }
  return [...signs.values()];
}
