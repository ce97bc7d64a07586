/** Figures and names of a list in sentences. */

export function rowsInWords(rows: number): string {
  return rows === 1 ? 'one row' : `${rows} rows`;
}

export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function shortened(words: string, most: number): string {
  return words.length > most ? `${words.slice(0, most - 1)}…` : words;
}
