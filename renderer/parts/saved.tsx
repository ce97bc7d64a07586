/** Fields that keep what is typed as it is typed and say so quietly. What is refused stays in the field, with the sentence below it. */
import { useEffect, useEffectEvent, useId, useRef, useState } from 'react';
import { readTrouble } from '../app/client.ts';
import { say } from '../app/say.ts';
import { Mark } from './notices.tsx';
import './saved.css';

/** A pause in typing after which it is kept. Common practice, no source. */
const pauseMs = 700;

type Keeping = 'rest' | 'typing' | 'keeping' | 'kept';

/**
 * What is typed but not yet kept, and the keeping of it after a pause, at a blur, and when the field goes away. `keep` throws what is to
 * be said below the field.
 */
function useKeeping<T>(value: T, keep: (next: T) => Promise<unknown>) {
  const [draft, setDraft] = useState<Readonly<{ value: T }> | null>(null);
  const [state, setState] = useState<Keeping>('rest');
  const [trouble, setTrouble] = useState<string | undefined>();
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const latest = useRef<Readonly<{ value: T }> | null>(null);

  async function keepNow(next: Readonly<{ value: T }>): Promise<void> {
    clearTimeout(timer.current);
    timer.current = undefined;
    setState('keeping');
    try {
      await keep(next.value);
      setTrouble(undefined);
      if (latest.current !== next) return;
      latest.current = null;
      setDraft(null);
      setState('kept');
    } catch (error) {
      setState('typing');
      setTrouble(readTrouble(error).sentence);
    }
  }

  function change(next: T, soon: boolean): void {
    const draftNow = { value: next };
    latest.current = draftNow;
    setDraft(draftNow);
    setState('typing');
    clearTimeout(timer.current);
    if (soon) void keepNow(draftNow);
    else timer.current = setTimeout(() => void keepNow(draftNow), pauseMs);
  }

  function settle(): void {
    if (timer.current !== undefined && latest.current !== null) void keepNow(latest.current);
  }

  const leave = useEffectEvent(() => {
    if (timer.current === undefined || latest.current === null) return;
    clearTimeout(timer.current);
    keep(latest.current.value).catch((error: unknown) => say(`Not kept: ${readTrouble(error).sentence}`));
  });
  useEffect(() => () => leave(), []);

  useEffect(() => {
    if (state !== 'kept') return;
    const quiet = setTimeout(() => setState('rest'), 2500);
    return () => clearTimeout(quiet);
  }, [state]);

  return { shown: draft === null ? value : draft.value, dirty: draft !== null, state, trouble, change, settle };
}

type Around = Readonly<{ name: string; hint?: string | undefined; className?: string }>;

function Told({ state }: Readonly<{ state: Keeping }>) {
  return (
    <span className="saved-told" aria-live="polite">
      {state === 'keeping' && '…'}
      {state === 'kept' && (
        <>
          <Mark kind="settled" /> kept
        </>
      )}
    </span>
  );
}

function Below({ id, trouble, hint }: Readonly<{ id: string; trouble: string | undefined; hint: string | undefined }>) {
  const said = trouble ?? hint;
  if (said === undefined || said === '') return null;
  return (
    <span
      id={id}
      className={trouble === undefined ? 'field-hint' : 'field-trouble'}
      role={trouble === undefined ? undefined : 'alert'}
    >
      {said}
    </span>
  );
}

type TextProps = Around &
  Readonly<{
    value: string;
    keep: (text: string) => Promise<unknown>;
    long?: boolean;
    /** What was typed before, to choose from. */
    known?: readonly string[] | undefined;
    placeholder?: string;
  }>;

export function SavedText({ name, value, keep, hint, long = false, known, placeholder, className = '' }: TextProps) {
  const id = useId();
  const { shown, dirty, state, trouble, change, settle } = useKeeping(value, keep);
  const shared = {
    id,
    value: shown,
    placeholder,
    'data-kept': dirty ? 'no' : 'yes',
    'aria-invalid': trouble !== undefined,
    'aria-describedby': trouble === undefined && !hint ? undefined : `${id}-said`,
    onBlur: settle,
  };
  return (
    <div className={`field ${className}`}>
      <span className="field-name">
        <label htmlFor={id}>{name}</label> <Told state={state} />
      </span>
      {long ? (
        <textarea {...shared} onChange={(event) => change(event.target.value, false)} />
      ) : (
        <input
          type="text"
          autoComplete="off"
          list={known ? `${id}-known` : undefined}
          {...shared}
          onChange={(event) => change(event.target.value, false)}
          onKeyDown={(event) => event.key === 'Enter' && settle()}
        />
      )}
      {known && (
        <datalist id={`${id}-known`}>
          {known.map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
      )}
      <Below id={`${id}-said`} trouble={trouble} hint={hint} />
    </div>
  );
}

type SelectProps<T extends string> = Around &
  Readonly<{
    value: T;
    options: readonly Readonly<{ value: T; words: string }>[];
    keep: (value: T) => Promise<unknown>;
  }>;

export function SavedSelect<T extends string>({ name, value, options, keep, hint, className = '' }: SelectProps<T>) {
  const id = useId();
  const { shown, state, trouble, change } = useKeeping(value, keep);
  return (
    <div className={`field ${className}`}>
      <span className="field-name">
        <label htmlFor={id}>{name}</label> <Told state={state} />
      </span>
      <select
        id={id}
        value={shown}
        data-kept="yes"
        aria-invalid={trouble !== undefined}
        aria-describedby={trouble === undefined && !hint ? undefined : `${id}-said`}
        onChange={(event) => change(event.target.value as T, true)}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.words}
          </option>
        ))}
      </select>
      <Below id={`${id}-said`} trouble={trouble} hint={hint} />
    </div>
  );
}
