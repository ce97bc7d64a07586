/**
 * A letter with fields in braces, filled in for one person: "Dear {name},". Two opening braces stand for one that is meant as it is.
 * What is filled in is never read again, so that a brace in a name stays a brace.
 */
import { ok, type Result, refuse } from '../result.ts';

/** Fields a letter may name, and what each stands for. */
export const letterFields = {
  name: 'the person’s name',
  level: 'newcomer, improver or journeyman',
  standing: 'interested, offered, confirmed, waiting or withdrawn',
  course: 'the course’s title',
  starts: 'its first day',
  ends: 'its last day',
  days: 'how many days it lasts',
  dates: 'first days that are thought of',
  hours: 'the hours of a teaching day',
  arrival: 'when they come, and for which meal',
  departure: 'when they leave, and after which meal',
  room: 'their room',
  roommates: 'who else sleeps there',
  diet: 'their diet',
  foods: 'foods they must not eat',
  allergies: 'materials they must not meet',
  needs: 'what they need',
  wishes: 'operations they hope to meet',
  copies: 'the practice copies that are theirs',
  reading: 'the reading list',
  fee: 'the fee',
  teachers: 'who teaches and helps',
  workshop: 'the workshop’s name',
  today: 'today’s date',
} as const;
export type LetterField = keyof typeof letterFields;

type Piece = Readonly<{ words: string }> | Readonly<{ field: LetterField }>;

/** Reads the text once. Refuses an unknown field, or a brace that is not closed, with its line and place. */
function readLetter(text: string): Result<readonly Piece[]> {
  const pieces: Piece[] = [];
  let at = 0;
  while (at < text.length) {
    const open = text.indexOf('{', at);
    if (open < 0) break;
    pieces.push({ words: text.slice(at, open) });
    if (text[open + 1] === '{') {
      pieces.push({ words: '{' });
      at = open + 2;
      continue;
    }
    const close = text.indexOf('}', open);
    const inside = close < 0 ? '' : text.slice(open + 1, close);
    if (close < 0 || /[\n{]/.test(inside)) {
      return refuse(
        `A brace is opened ${placeOf(text, open)} and not closed. Write {name}, or two opening braces where one is meant as it is.`,
        'text',
      );
    }
    const field = inside.trim().toLowerCase();
    if (!Object.hasOwn(letterFields, field)) {
      return refuse(
        `There is no field {${inside}}, named ${placeOf(text, open)}. Fields are ${Object.keys(letterFields).join(', ')}.`,
        'text',
      );
    }
    pieces.push({ field: field as LetterField });
    at = close + 1;
  }
  return ok([...pieces, { words: text.slice(at) }]);
}

/** The text filled in; what has no value is left empty. */
export function fillLetter(text: string, values: Readonly<Record<LetterField, string>>): Result<string> {
  const read = readLetter(text);
  if (!read.ok) return read;
  return ok(read.value.map((piece) => ('field' in piece ? values[piece.field] : piece.words)).join(''));
}

/** Nothing where the text can be filled in. */
export function letterTrouble(text: string): Result<null> {
  const read = readLetter(text);
  return read.ok ? ok(null) : read;
}

function placeOf(text: string, at: number): string {
  const before = text.slice(0, at).split('\n');
  return `on line ${before.length}, at letter ${(before.at(-1)?.length ?? 0) + 1}`;
}
