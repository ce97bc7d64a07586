/** Grain patterns of publishers' cloth as repeats a few pixels wide, drawn in light and shade so that they lie on any colour. */
import type { ReactNode } from 'react';
import type { GrainPattern } from '../../core/book/book.ts';

type Repeat = Readonly<{ width: number; height: number; turn?: number; drawn: ReactNode }>;

const light = 'grain-light';
const shade = 'grain-shade';

/** Plain cloth has none; the others after their descriptive names. */
const repeats: Readonly<Partial<Record<GrainPattern, Repeat>>> = {
  diaper: { width: 4, height: 4, turn: 45, drawn: <path className={shade} d="M0 0H4M0 0V4" /> },
  morocco: {
    width: 7,
    height: 6,
    drawn: <path className={shade} d="M0 2c1.5-1.5 2.5 1 4-.5S6 .5 7 1M1 5c1-1 2.5.5 3.5-.5S6 4 7 4.5" />,
  },
  ripple: { width: 6, height: 4, drawn: <path className={light} d="M0 2c1.5-2 4.5 2 6 0" /> },
  rib: { width: 3, height: 3, drawn: <path className={shade} d="M0 1.5H3" /> },
  bead: { width: 4, height: 4, drawn: <circle className={light} cx="2" cy="2" r="1.2" /> },
  sand: {
    width: 5,
    height: 5,
    drawn: <path className={shade} d="M.5 1h.6M2.6 .5h.6M4 2.2h.6M1.4 3h.6M3 4h.6M.4 4.4h.5" />,
  },
  pebble: {
    width: 6,
    height: 6,
    drawn: (
      <>
        <ellipse className={light} cx="1.5" cy="1.5" rx="1.3" ry="1" />
        <ellipse className={light} cx="4.5" cy="4.3" rx="1.4" ry="1.1" />
      </>
    ),
  },
  wave: { width: 10, height: 5, drawn: <path className={shade} d="M0 2.5C2.5-.5 7.5 5.5 10 2.5" /> },
  net: { width: 5, height: 5, turn: 45, drawn: <path className={light} d="M0 0H5M0 0V5" /> },
  'dot and line': {
    width: 5,
    height: 4,
    drawn: (
      <>
        <path className={shade} d="M.5 0V4" />
        <circle className={light} cx="3" cy="2" r=".7" />
      </>
    ),
  },
  honeycomb: {
    width: 6,
    height: 10.4,
    drawn: <path className={shade} d="M3 0V1.7L0 3.5V7L3 8.7V10.4M3 1.7L6 3.5V7L3 8.7" />,
  },
  bubble: {
    width: 6,
    height: 6,
    drawn: (
      <>
        <circle className={light} cx="2" cy="2" r="1.5" />
        <circle className={light} cx="5" cy="5" r=".8" />
      </>
    ),
  },
  'linen weave': { width: 3, height: 3, drawn: <path className={shade} d="M0 .5H1.5M1.5 2H3M.5 1.5V3M2 0V1.5" /> },
  buckram: { width: 2.5, height: 2.5, drawn: <path className={shade} d="M0 .5H2.5M.5 0V2.5" /> },
};

export function GrainPatterns() {
  return (
    <>
      {Object.entries(repeats).map(([name, { width, height, turn = 0, drawn }]) => (
        <pattern
          key={name}
          id={grainId(name)}
          width={width}
          height={height}
          patternUnits="userSpaceOnUse"
          patternTransform={`rotate(${turn})`}
        >
          {drawn}
        </pattern>
      ))}
    </>
  );
}

/** What to fill with to lay the pattern over a colour; none for plain cloth. */
export function grainFill(pattern: GrainPattern | null): string {
  return pattern === null || repeats[pattern] === undefined ? 'none' : `url(#${grainId(pattern)})`;
}

function grainId(name: string): string {
  return `grain-${name.replaceAll(' ', '-')}`;
}
