/** Buttons and fields as every room uses them. */
import {
  type ButtonHTMLAttributes,
  type InputHTMLAttributes,
  type ReactNode,
  type SelectHTMLAttributes,
  type TextareaHTMLAttributes,
  useId,
} from 'react';
import './parts.css';

type ButtonProps = ButtonHTMLAttributes<HTMLButtonElement> & Readonly<{ look?: 'plain' | 'main' | 'quiet' | 'harm' }>;

export function Button({ look = 'plain', className = '', ...rest }: ButtonProps) {
  return <button type="button" {...rest} className={`button button-${look} ${className}`} />;
}

type Around = Readonly<{ name: string; hint?: string | undefined; trouble?: string | undefined }>;

type Ids = Readonly<{ id: string; 'aria-invalid': boolean; 'aria-describedby': string | undefined }>;

/** A control with its name above and, below it, what is wrong or what to know. */
function Field({ name, hint, trouble, children }: Around & Readonly<{ children: (ids: Ids) => ReactNode }>) {
  const id = useId();
  const said = trouble ?? hint;
  return (
    <div className="field">
      <label className="field-name" htmlFor={id}>
        {name}
      </label>
      {children({
        id,
        'aria-invalid': trouble !== undefined,
        'aria-describedby': said === undefined ? undefined : `${id}-said`,
      })}
      {said !== undefined && (
        <span
          id={`${id}-said`}
          className={trouble === undefined ? 'field-hint' : 'field-trouble'}
          role={trouble === undefined ? undefined : 'alert'}
        >
          {said}
        </span>
      )}
    </div>
  );
}

export function TextField({
  name,
  hint,
  trouble,
  ...rest
}: Around & Omit<InputHTMLAttributes<HTMLInputElement>, 'name'>) {
  return (
    <Field name={name} hint={hint} trouble={trouble}>
      {(ids) => <input type="text" {...rest} {...ids} />}
    </Field>
  );
}

export function LongField({
  name,
  hint,
  trouble,
  ...rest
}: Around & Omit<TextareaHTMLAttributes<HTMLTextAreaElement>, 'name'>) {
  return (
    <Field name={name} hint={hint} trouble={trouble}>
      {(ids) => <textarea {...rest} {...ids} />}
    </Field>
  );
}

type Option = Readonly<{ value: string; words: string }>;

export function SelectField({
  name,
  hint,
  trouble,
  options,
  ...rest
}: Around & Readonly<{ options: readonly Option[] }> & Omit<SelectHTMLAttributes<HTMLSelectElement>, 'name'>) {
  return (
    <Field name={name} hint={hint} trouble={trouble}>
      {(ids) => (
        <select {...rest} {...ids}>
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.words}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}
