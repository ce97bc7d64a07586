/** Controls of the form of an operation. */
import type { ReactNode } from 'react';
import { SelectField, TextField } from '../../parts/controls.tsx';
import './operations.css';

export function Part({ name, children }: Readonly<{ name: string; children: ReactNode }>) {
  return (
    <fieldset className="operation-part">
      <legend>{name}</legend>
      {children}
    </fieldset>
  );
}

type ChoiceProps = Readonly<{
  name: string;
  value: string;
  words: readonly string[];
  onChange: (value: string) => void;
}>;

export function Choice({ name, value, words, onChange }: ChoiceProps) {
  return (
    <SelectField
      name={name}
      value={value}
      options={words.map((word) => ({ value: word, words: word }))}
      onChange={(event) => onChange(event.target.value)}
    />
  );
}

type FigureProps = Readonly<{ name: string; value: number; onChange: (value: number) => void }>;

export function Figure({ name, value, onChange }: FigureProps) {
  return (
    <TextField
      name={name}
      type="number"
      step="any"
      value={Number.isNaN(value) ? '' : value}
      onChange={(event) => onChange(event.target.valueAsNumber)}
    />
  );
}
