/** Figures and names of a list in sentences. */
import type { Looked } from '../../../core/contract/takein.ts';

export function rowsInWords(rows: number): string {
  return rows === 1 ? 'one row' : `${rows} rows`;
}

/** What a row of the file is called by its number: lines of a list, records of a catalogue. */
export function rowName(looked: Pick<Looked, 'form'> | null): 'Line' | 'Record' {
  return looked === null || looked.form === 'list' ? 'Line' : 'Record';
}

export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function shortened(words: string, most: number): string {
  return words.length > most ? `${words.slice(0, most - 1)}…` : words;
}
