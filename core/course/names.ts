/** Operations by the names people know them by, in sentences. */
import { operationById } from '../treatment/library.ts';

/** "Tighten loose hinges"; what is not in the library is called as it is written. */
export function operationName(id: string): string {
  return operationById(id)?.name ?? id;
}

/** "“Surface clean”, “Mend tears” and “Tip in”". */
export function quotedNames(ids: readonly string[]): string {
  return inWords(ids.map((id) => `“${operationName(id)}”`));
}

/** "a, b and c". */
export function inWords(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
