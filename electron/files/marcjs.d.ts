/** The part of marcjs that is used; it ships no types. */
declare module 'marcjs' {
  /** What the reader of ISO 2709 asks of its bytes. */
  type Raw = Readonly<{ toString(encoding: string, from: number, to: number): string }>;
  type Parsed = Readonly<{ leader: string; fields: readonly (readonly string[])[] }>;
  export const Marc: Readonly<{ parse(raw: Raw, form: 'iso2709'): Parsed }>;
}
