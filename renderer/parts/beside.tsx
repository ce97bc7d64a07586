/** A list with the details of one thing beside it, never over it. On a narrow page the details stand in the list's place. */
import type { ReactNode } from 'react';
import './beside.css';

type Props = Readonly<{
  children: ReactNode;
  /** Null while nothing is open. */
  details: ReactNode;
  /** What the pane is called for those who listen. */
  label: string;
}>;

export function Beside({ children, details, label }: Props) {
  return (
    <div className={details === null ? 'beside' : 'beside beside-open'}>
      <div className="beside-list">{children}</div>
      {details !== null && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, so the keyboard must reach it
        <section className="beside-details" aria-label={label} tabIndex={0}>
          {details}
        </section>
      )}
    </div>
  );
}
