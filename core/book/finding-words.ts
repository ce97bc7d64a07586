/**
 * A finding written short, as a person at the shelf writes it: "joint split 2 x2: front, from the head". Part and damage by the beginnings
 * of their words in either order, then how bad (1 to 3, or its word), how many (x2), and after a colon anything else.
 */
import { ok, type Result, refuse } from '../result.ts';
import { type Damage, damages, type Finding, type Part, parts, type Severity, severityWords } from './book.ts';

/** Reads one finding. Marked (2) where nothing is said of how bad it is. Refuses, naming what is missing or could be several things. */
export function readFinding(text: string): Result<Finding> {
  const [short = '', ...rest] = text.split(':');
  const note = rest.join(':').trim();
  let severity: Severity | null = null;
  let count: number | null = null;
  const words: string[] = [];
  for (const word of short.toLowerCase().trim().split(/\s+/)) {
    const many = /^[x×](\d{1,4})$/.exec(word) ?? /^(\d{1,4})[x×]$/.exec(word);
    if (many?.[1] !== undefined) {
      count = Number(many[1]);
      if (count === 0) return refuse('None is not a count; leave it out.', 'count');
      continue;
    }
    const grade = gradeOf(word);
    if (grade !== null) severity = grade;
    else if (word !== '') words.push(word);
  }
  if (words.length === 0) return refuse('Write a part and its damage, such as “joints split 2”.', 'part');
  const named = pairOf(words);
  if (!named.ok) return named;
  return ok({ ...named.value, severity: severity ?? 2, count, note });
}

/** "joints split, marked, 2: front" back in plain words. */
export function findingInWords({ part, damage, severity, count, note }: Finding): string {
  const many = count === null ? '' : `, ${count}`;
  return `${part} ${damage}, ${severityWords[severity]}${many}${note === '' ? '' : `: ${note}`}`;
}

function gradeOf(word: string): Severity | null {
  if (/^[123]$/.test(word)) return Number(word) as Severity;
  if (word.length < 4) return null;
  const grades = [1, 2, 3] as const;
  return grades.find((grade) => severityWords[grade].startsWith(word)) ?? null;
}

type Pair = Readonly<{ part: Part; damage: Damage }>;

/** The part and the damage that these words begin; either may take more than one word ("text block", "old repair"). */
function pairOf(words: readonly string[]): Result<Pair> {
  let near: Result<Pair> | null = null;
  for (let cut = 1; cut < words.length; cut++) {
    const one = words.slice(0, cut).join(' ');
    const other = words.slice(cut).join(' ');
    for (const [partWords, damageWords] of [
      [one, other],
      [other, one],
    ] as const) {
      const part = only(parts, partWords);
      const damage = only(damages, damageWords);
      if (part.length === 1 && damage.length === 1) return ok({ part: part[0] as Part, damage: damage[0] as Damage });
      if (part.length > 0 && damage.length > 0) {
        near = part.length > 1 ? several(partWords, part, 'part') : several(damageWords, damage, 'damage');
      }
    }
  }
  if (near !== null) return near;
  const all = words.join(' ');
  const part = parts.find((name) => begins(name, words[0] ?? ''));
  if (part !== undefined && words.length === 1) return refuse(`What is wrong with the ${part}?`, 'damage');
  return refuse(`“${all}” is not a part and a damage known here. Try “joints split 2”.`, 'part');
}

/** Names that these words begin; one written out in full, or that the others only add to, is meant alone. */
function only<T extends string>(names: readonly T[], words: string): readonly T[] {
  const exact = names.filter((name) => name === words || name === `${words}s`);
  if (exact.length > 0) return exact;
  const begun = names.filter((name) => begins(name, words));
  const root = begun.find((name) => begun.every((other) => other.startsWith(name)));
  return root === undefined ? begun : [root];
}

/** "te bl" begins "text block". */
function begins(name: string, words: string): boolean {
  const typed = words.split(' ');
  const full = name.toLowerCase().split(' ');
  if (typed.length === 1) return full.some((word) => word.startsWith(words));
  return typed.length <= full.length && typed.every((word, at) => full[at]?.startsWith(word));
}

function several(words: string, names: readonly string[], field: string): Result<never> {
  return refuse(`“${words}” could be ${names.join(' or ')}.`, field);
}
