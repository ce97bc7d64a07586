import { ok, type Refusal, type Result, refuse } from '../result.ts';
import { type LengthUnit, readLength } from '../units/lengths.ts';
import { readNumber } from '../units/numbers.ts';
import type { Drawing } from './drawing.ts';
import type { GlyphWidths } from './panels.ts';
import type { Piece, Step } from './working.ts';

/**
 * A calculation as a person meets it: what it asks for, and an answer to whatever has been typed so far. Fields say what they are, so that a
 * form and its checks come from the same words.
 */

type Common = Readonly<{ label: string; usual: string; hint?: string }>;
type LengthField = Common & Readonly<{ kind: 'length'; optional: boolean }>;
type NumberField = Common & Readonly<{ kind: 'number'; unit: string; whole: boolean; optional: boolean }>;
type ChoiceField<Option extends string = string> = Common & Readonly<{ kind: 'choice'; options: readonly Option[] }>;
type TextField = Common & Readonly<{ kind: 'text'; oneLine: boolean }>;

export type Field = LengthField | NumberField | ChoiceField | TextField;

/** A result to be read at a glance: a number with its unit, or words. */
export type Figure = Readonly<{ label: string } & ({ value: number; unit: Step['unit'] } | { text: string })>;

export type Outcome = Readonly<{
  figures: readonly Figure[];
  pieces: readonly Piece[];
  working: readonly Step[];
  remarks: readonly string[];
  drawing: Drawing | undefined;
}>;

/** How lengths without a unit are meant, and the letter whose widths were measured, for lettering. */
export type Circumstances = Readonly<{ unit: LengthUnit; glyphs?: GlyphWidths }>;

export type Calculation = Readonly<{
  id: string;
  title: string;
  group: Group;
  /** One sentence: what it answers, how far it is good, and whose rule it is. */
  about: string;
  fields: Readonly<Record<string, Field>>;
  /** Answers what stands in the fields, as typed; a refusal names the field at fault. */
  reckon(typed: Readonly<Record<string, string>>, circumstances: Circumstances): Result<Outcome>;
}>;

export type Group =
  | 'Covers'
  | 'Paper and board'
  | 'Sewing'
  | 'Finishing'
  | 'Adhesives'
  | 'Collation'
  | 'Survey'
  | 'Money';

export function length(label: string, usual: string, hint?: string): LengthField & Readonly<{ optional: false }> {
  return { kind: 'length', label, usual, optional: false, ...hinted(hint) };
}

/** A length that is worked out when it is left empty. */
export function optionalLength(label: string, hint: string): LengthField & Readonly<{ optional: true }> {
  return { kind: 'length', label, usual: '', optional: true, hint };
}

export function number(
  label: string,
  usual: string,
  unit = '',
  hint?: string,
): NumberField & Readonly<{ optional: false }> {
  return { kind: 'number', label, usual, unit, whole: false, optional: false, ...hinted(hint) };
}

export function count(label: string, usual: string, hint?: string): NumberField & Readonly<{ optional: false }> {
  return { kind: 'number', label, usual, unit: '', whole: true, optional: false, ...hinted(hint) };
}

export function optionalCount(label: string, hint: string): NumberField & Readonly<{ optional: true }> {
  return { kind: 'number', label, usual: '', unit: '', whole: true, optional: true, hint };
}

export function choice<const Option extends string>(
  label: string,
  options: readonly Option[],
  usual: NoInfer<Option>,
): ChoiceField<Option> {
  return { kind: 'choice', label, options, usual };
}

export function text(label: string, usual: string, hint?: string): TextField {
  return { kind: 'text', label, usual, oneLine: false, ...hinted(hint) };
}

/** Words that fit one line: a day, a name. */
export function line(label: string, usual: string, hint?: string): TextField {
  return { kind: 'text', label, usual, oneLine: true, ...hinted(hint) };
}

type ValueOf<F> =
  F extends ChoiceField<infer Option>
    ? Option
    : F extends { kind: 'text' }
      ? string
      : F extends { optional: true }
        ? number | undefined
        : number;

type ValuesOf<Fields> = { readonly [Key in keyof Fields]: ValueOf<Fields[Key]> };

/** A calculation from its fields and what to do with their values; reading the fields is done here once for all. */
export function calculation<const Fields extends Readonly<Record<string, Field>>>(
  made: Readonly<{
    id: string;
    title: string;
    group: Group;
    about: string;
    fields: Fields;
    reckon(values: ValuesOf<Fields>, circumstances: Circumstances): Result<Partial<Outcome>>;
  }>,
): Calculation {
  return {
    id: made.id,
    title: made.title,
    group: made.group,
    about: made.about,
    fields: made.fields,
    reckon(typed, circumstances) {
      const values: Record<string, number | string | undefined> = {};
      for (const [key, field] of Object.entries(made.fields)) {
        const read = readField(field, typed[key] ?? field.usual, circumstances.unit);
        if (!read.ok) return refuse(`${field.label}: ${read.refusal.sentence}`, key);
        values[key] = read.value;
      }
      const answer = made.reckon(values as ValuesOf<Fields>, circumstances);
      if (!answer.ok) return { ok: false, refusal: atKnownField(answer.refusal, made.fields) };
      return ok({ figures: [], pieces: [], working: [], remarks: [], drawing: undefined, ...answer.value });
    },
  };
}

/** What cannot be read in each of the fields as typed, by its key: all of them, in words for that field alone. */
export function unreadable(
  fields: Readonly<Record<string, Field>>,
  typed: Readonly<Record<string, string>>,
  unit: LengthUnit,
): Readonly<Record<string, string>> {
  const troubles: Record<string, string> = {};
  for (const [key, field] of Object.entries(fields)) {
    const read = readField(field, typed[key] ?? field.usual, unit);
    if (!read.ok) troubles[key] = read.refusal.sentence;
  }
  return troubles;
}

/** A refusal points at a field only where the form has it. */
function atKnownField({ sentence, field }: Refusal, fields: Readonly<Record<string, Field>>): Refusal {
  return field !== undefined && field in fields ? { sentence, field } : { sentence };
}

/** One field as typed, read as its kind asks. Refuses in words for that field. */
export function readField(field: Field, typed: string, unit: LengthUnit): Result<number | string | undefined> {
  switch (field.kind) {
    case 'text':
      return ok(typed);
    case 'choice':
      return field.options.includes(typed) ? ok(typed) : refuse('Choose one of those offered.');
    case 'length':
      if (field.optional && typed.trim() === '') return ok(undefined);
      return /^\s*0+([.,]0*)?\s*(mm|cm|in)?\s*$/.test(typed) ? ok(0) : readLength(typed, { defaultUnit: unit });
    case 'number': {
      if (field.optional && typed.trim() === '') return ok(undefined);
      const read = readNumber(typed);
      if (!read.ok || !field.whole || Number.isInteger(read.value)) return read;
      return refuse('A whole number is needed.');
    }
  }
}

function hinted(hint: string | undefined): { hint?: string } {
  return hint === undefined ? {} : { hint };
}
