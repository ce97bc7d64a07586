/** Puts what the contract found wrong with an input into a sentence that names the field. */
import type { Refusal } from '../../core/result.ts';

type Issue = Readonly<{
  message: string;
  path?: ReadonlyArray<PropertyKey | Readonly<{ key: PropertyKey }>> | undefined;
}>;

/**
 * The first issue as a refusal. Shapes of the contract carry their own sentences where a person is likely to err; those start
 * with a capital and end with a stop, and pass unchanged. The library's own wording is put behind the field's name.
 */
export function readIssue(issues: readonly Issue[]): Refusal {
  const issue = issues[0];
  if (issue === undefined) return { sentence: 'This input does not fit the question.' };
  const keys = (issue.path ?? []).map((step) => (typeof step === 'object' ? step.key : step));
  const field = keys.map(String).join('.');
  if (/^[A-Z].*[.!?]$/s.test(issue.message)) {
    return field === '' ? { sentence: issue.message } : { sentence: issue.message, field };
  }
  const reason = issue.message.replace(/^Invalid input: /, '').replace(/\.$/, '');
  if (field === '') return { sentence: `This input does not fit the question: ${reason}.` };
  return { sentence: `${fieldInWords(keys)} does not fit: ${reason}.`, field };
}

/** `findings.2.partName` as "Part name (line 3 of findings)". */
function fieldInWords(keys: readonly PropertyKey[]): string {
  const names = keys.filter((key) => typeof key === 'string').map((key) => spaced(String(key)));
  const index = keys.findLast((key) => typeof key === 'number');
  const name = names.at(-1) ?? 'the list';
  const capital = name.charAt(0).toUpperCase() + name.slice(1);
  if (typeof index !== 'number') return capital;
  const list = names.length > 1 ? names[0] : undefined;
  return list === undefined ? `${capital}, line ${index + 1},` : `${capital} (line ${index + 1} of ${list})`;
}

function spaced(name: string): string {
  return name.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();
}
