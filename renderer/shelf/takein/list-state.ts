/** The list being taken in: kept outside of the screen, so that leaving the room and coming back loses no mending. */
import { create } from 'zustand';
import type { ListField } from '../../../core/book/columns.ts';
import type { Looked, TakenIn } from '../../../core/contract/takein.ts';

type ListFile = Readonly<{ name: string; base64: string }>;
export type Fix = Readonly<{ line: number; column: number; text: string }>;

export type ListState = Readonly<{
  file: ListFile | null;
  looked: Looked | null;
  mapping: readonly (ListField | null)[];
  defaultUnit: Looked['defaultUnit'];
  fixes: readonly Fix[];
  leave: readonly number[];
  skipDuplicates: boolean;
  lotName: string;
  placeName: string;
  done: TakenIn | null;
}>;

/** A file to look at, or another way of reading the one that is here. */
type Change = Readonly<{
  separator?: ',' | ';' | '\t' | '|';
  encoding?: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';
  headings?: boolean;
}>;
export type Look = Readonly<{ file?: File; change?: Change }>;

const nothing: ListState = {
  file: null,
  looked: null,
  mapping: [],
  defaultUnit: 'mm',
  fixes: [],
  leave: [],
  skipDuplicates: true,
  lotName: '',
  placeName: '',
  done: null,
};

export const useList = create<ListState>(() => nothing);

export function startOver(): void {
  useList.setState(nothing);
}

/** A file as just read: what was decided about its rows before goes, the lot and place for all stay. */
export function setLooked(file: ListFile, looked: Looked): void {
  useList.setState({
    file,
    looked,
    mapping: looked.columns.map(({ field }) => field),
    defaultUnit: looked.defaultUnit,
    fixes: [],
    leave: [],
    skipDuplicates: true,
    done: null,
  });
}

export function mapColumn(index: number, field: ListField | null): void {
  useList.setState(({ mapping }) => ({ mapping: mapping.with(index, field) }));
}

export function fixCell(fix: Fix): void {
  useList.setState(({ fixes }) => ({
    fixes: [...fixes.filter(({ line, column }) => line !== fix.line || column !== fix.column), fix],
  }));
}

export function leaveOut(line: number): void {
  useList.setState(({ leave }) => ({ leave: [...leave, line] }));
}

export function takeBackIn(): void {
  useList.setState({ leave: [] });
}

/** What every question about the list has in common. */
export function questionOf({ looked, mapping, defaultUnit, fixes, leave, skipDuplicates }: ListState) {
  return {
    token: looked?.token ?? '',
    mapping: [...mapping],
    defaultUnit,
    fixes: [...fixes],
    leave: [...leave],
    skipDuplicates,
  };
}
