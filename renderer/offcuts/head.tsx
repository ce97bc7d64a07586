import type { ReactNode } from 'react';
import { addressOf } from '../app/route.ts';

const views = [
  { id: null, name: 'Drawer' },
  { id: 'match', name: 'Find a match' },
  { id: 'cut', name: 'Plan cuts' },
  { id: 'wrecks', name: 'Wrecks' },
] as const;

/** The head of each view: where one is, and the way to the others. */
export function OffcutsHead({ view, children }: Readonly<{ view: string | null; children?: ReactNode }>) {
  return (
    <header className="offcuts-head">
      <nav aria-label="Offcuts" className="offcuts-views">
        {views.map((one) => (
          <a
            key={one.name}
            href={addressOf('offcuts', one.id)}
            aria-current={one.id === view ? 'page' : undefined}
            className="offcuts-view"
          >
            {one.name}
          </a>
        ))}
      </nav>
      {children}
    </header>
  );
}
