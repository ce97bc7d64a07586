/** Operations by the names people know them by, in sentences. */
import { broughtLibrary, type Library, operationById } from '../treatment/library.ts';

/** "Tighten loose hinges"; what is not in the library is called as it is written. */
export function operationName(id: string): string {
  return operationById(id)?.name ?? id;
}

/** Names that the library the program brings does not know: of a workshop's own operations, and of those it calls otherwise. */
export type OwnNames = Readonly<Record<string, string>>;

export function ownNames({ operations }: Library): OwnNames {
  return Object.fromEntries(
    operations.filter(({ id, name }) => broughtLibrary.byId(id)?.name !== name).map(({ id, name }) => [id, name]),
  );
}

/** As the workshop calls it. */
export function nameWith(own: OwnNames, id: string): string {
  return own[id] ?? operationName(id);
}

/** "“Surface clean”, “Mend tears” and “Tip in”". */
export function quotedNames(ids: readonly string[], own: OwnNames = {}): string {
  return inWords(ids.map((id) => `“${nameWith(own, id)}”`));
}

/** "a, b and c". */
export function inWords(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
