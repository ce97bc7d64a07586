/** The Offcuts room: the drawer, what suits which book, cutting plans, and the wrecks to be broken. */
import { useRoute } from '../app/route.ts';
import { Cut } from './cut.tsx';
import { Donors } from './donors.tsx';
import { Drawer } from './drawer.tsx';
import { MatchView } from './match.tsx';
import './offcuts.css';
import { SwatchPatterns } from './swatch.tsx';

export function OffcutsRoom() {
  const { id } = useRoute();
  const [view = '', rest] = (id ?? '').split('~', 2);
  return (
    <>
      <SwatchPatterns />
      {view === 'match' ? (
        <MatchView repair={rest ?? null} />
      ) : view === 'cut' ? (
        <Cut />
      ) : view === 'wrecks' ? (
        <Donors current={rest ?? null} />
      ) : (
        <Drawer current={id} />
      )}
    </>
  );
}
