/** What is known of a course's people, asked once for all views that show some of it; and files that are handed over. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import { ask } from '../app/client.ts';
import { saveFile } from '../parts/files.ts';

export function useGathering(courseId: string) {
  return useQuery(ask.coursePeople.open.queryOptions({ input: { courseId } }));
}

/** Asks for a file and hands it to the person; what is refused is in `trouble`. */
export function useFile() {
  const [trouble, setTrouble] = useState<unknown>(null);
  async function hand(file: () => Promise<FileAnswer>): Promise<void> {
    setTrouble(null);
    try {
      saveFile(await file());
    } catch (error) {
      setTrouble(error);
    }
  }
  return { trouble, hand };
}

/** A chosen file as base64, as questions carry it. */
export async function readBase64(file: File): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  let letters = '';
  for (let at = 0; at < bytes.length; at += 8192) letters += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(letters);
}

/** "8:05" of minutes after midnight, and back; null for what is no time of day. */
export function clockOf(minutes: number): string {
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

export function minutesOf(clock: string): number | null {
  const [, hours, minutes] = /^(\d{1,2})[:.](\d\d)$/.exec(clock.trim()) ?? [];
  const at = Number(hours) * 60 + Number(minutes);
  return hours === undefined || at > 1440 || Number(minutes) > 59 ? null : at;
}
