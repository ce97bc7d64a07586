/** A piece as it looks: its colour, its grain pattern, to scale with its neighbours, and which way the grain runs. */
import type { PieceLine } from '../../core/contract/offcuts.ts';
import { GrainPatterns, grainFill } from '../drawings/grains.tsx';
import { inCss } from '../drawings/lab.ts';
import '../drawings/spines.css';

type Shown = Pick<PieceLine, 'heightMm' | 'widthMm' | 'grain' | 'shownLab' | 'lab' | 'pattern'>;

/** Once on the page, for every swatch on it. */
export function SwatchPatterns() {
  return (
    <svg className="swatch-patterns" width="0" height="0" aria-hidden="true">
      <defs>
        <GrainPatterns />
      </defs>
    </svg>
  );
}

/** `scale` in pixels a millimetre; larger than `most` pixels is drawn smaller. */
export function Swatch({ piece, scale, most }: Readonly<{ piece: Shown; scale: number; most: number }>) {
  const fit = Math.min(scale, most / piece.heightMm, most / piece.widthMm);
  const [height, width] = [Math.max(4, piece.heightMm * fit), Math.max(4, piece.widthMm * fit)];
  const arrow = Math.min(height, width) * 0.5;
  return (
    <svg className="swatch" width={width + 2} height={height + 2} aria-hidden="true">
      <g transform="translate(1 1)">
        <rect
          className={piece.lab === null ? 'swatch-cloth swatch-guessed' : 'swatch-cloth'}
          width={width}
          height={height}
          fill={piece.shownLab === null ? 'var(--paper-sunken)' : inCss(piece.shownLab)}
        />
        <rect width={width} height={height} fill={grainFill(piece.pattern)} />
        {piece.grain !== null && arrow > 12 && (
          <path
            className="swatch-grain"
            transform={`translate(${width / 2} ${height / 2}) rotate(${piece.grain === 'height' ? 0 : 90})`}
            d={`M0 ${-arrow / 2}V${arrow / 2}M-3 ${4 - arrow / 2}L0 ${-arrow / 2}L3 ${4 - arrow / 2}M-3 ${arrow / 2 - 4}L0 ${arrow / 2}L3 ${arrow / 2 - 4}`}
          />
        )}
      </g>
    </svg>
  );
}
