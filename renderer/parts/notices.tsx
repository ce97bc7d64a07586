/** What the page says: cautions beside their step, troubles in words, rooms with nothing in them yet, long work with its stop. */
import type { ReactNode } from 'react';
import { readTrouble } from '../app/client.ts';
import { Button } from './controls.tsx';
import './parts.css';

export type MarkKind = 'settled' | 'caution' | 'harm' | 'waiting' | 'working';

/** A small drawn mark, so that status is never colour alone. All of one stroke weight. */
export function Mark({ kind, name }: Readonly<{ kind: MarkKind; name?: string }>) {
  return (
    <svg
      className={`mark mark-${kind}`}
      viewBox="0 0 16 16"
      role={name ? 'img' : undefined}
      aria-label={name}
      aria-hidden={name ? undefined : true}
    >
      {kind === 'settled' && <path d="M3 8.5 6.5 12 13 4.5" />}
      {kind === 'caution' && <path d="M8 2.5 14.5 13.5H1.5ZM8 6.5v3.4M8 11.9v.1" />}
      {kind === 'harm' && <path d="M5.3 1.8h5.4l3.5 3.5v5.4l-3.5 3.5H5.3L1.8 10.7V5.3ZM5.5 5.5l5 5M10.5 5.5l-5 5" />}
      {kind === 'waiting' && <path d="M8 1.8a6.2 6.2 0 1 0 0 12.4a6.2 6.2 0 1 0 0-12.4M8 4.5V8l2.5 1.7" />}
      {kind === 'working' && <path d="M2 13.5 9.5 6M8 3.5l4.5 4.5M10.3 2.3l3.4 3.4" />}
    </svg>
  );
}

type NoticeKind = 'plain' | 'caution' | 'harm' | 'settled';

export function Notice({ kind = 'plain', children }: Readonly<{ kind?: NoticeKind; children: ReactNode }>) {
  return (
    <div className={`notice notice-${kind}`}>
      {kind !== 'plain' && <Mark kind={kind} />}
      <div>{children}</div>
    </div>
  );
}

/** A caution as it stands beside the step it belongs to. */
export function Caution({ sentence }: Readonly<{ sentence: string }>) {
  return (
    <Notice kind="caution">
      <p>
        <span className="visually-hidden">Caution: </span>
        {sentence}
      </p>
    </Notice>
  );
}

/** What an ask threw, in words. */
export function TroubleNotice({ error, again }: Readonly<{ error: unknown; again?: (() => void) | undefined }>) {
  const trouble = readTrouble(error);
  return (
    <div role="alert">
      <Notice kind={trouble.kind === 'refused' ? 'caution' : 'harm'}>
        <p>{trouble.sentence}</p>
        {again && <Button onClick={again}>Try again</Button>}
      </Notice>
    </div>
  );
}

export function EmptyRoom({ title, children }: Readonly<{ title: string; children: ReactNode }>) {
  return (
    <section className="empty">
      <h2>{title}</h2>
      {children}
    </section>
  );
}

/** Long work: what it is doing, how good it is already, and a stop that keeps the best so far. */
export function Working({ words, onStop }: Readonly<{ words: string; onStop: () => void }>) {
  return (
    <div className="progress" role="status">
      <progress aria-label="working" />
      <span>{words}</span>
      <Button onClick={onStop}>Stop, keep the best</Button>
    </div>
  );
}
