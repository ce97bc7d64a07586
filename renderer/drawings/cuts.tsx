/** A sheet to scale with its pieces by letter and its cuts by number, in the order they are made. Remnants to keep are hatched. */
import { useId } from 'react';
import { cutLines, pieceLetter } from '../../core/cutting/picture.ts';
import type { CutSheet } from '../../core/cutting/stock.ts';
import './cuts.css';

type Props = Readonly<{
  sheet: CutSheet;
  /** Words a person would measure by, in the workshop's unit. */
  words: (mm: number) => string;
  /** Cuts are left out where only the place on the piece matters. */
  cuts?: boolean;
}>;

export function CutSheetDrawing({ sheet, words, cuts = true }: Props) {
  const hatch = useId();
  const { heightMm, widthMm, grain, pieces, remnants } = sheet;
  // Letters and strokes are sized by the sheet's extent, so that a strip and a whole sheet read alike.
  const letter = Math.max(widthMm, heightMm * 0.9) / (cuts ? 34 : 20);
  const margin = letter * 1.4;
  const lines = cuts ? cutLines(sheet) : [];
  return (
    <svg
      className="cut-sheet"
      viewBox={`${-margin} ${-margin} ${widthMm + margin + letter} ${heightMm + margin + letter}`}
      role="img"
      aria-label={spoken(sheet, words)}
      style={{ fontSize: letter, maxWidth: `${Math.min(46, (widthMm / heightMm) * 30)}rem` }}
    >
      <defs>
        <pattern
          id={hatch}
          width={letter * 0.7}
          height={letter * 0.7}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path className="cut-hatch" d={`M0 0V${letter}`} strokeWidth={letter * 0.08} />
        </pattern>
      </defs>
      <rect className="cut-whole" width={widthMm} height={heightMm} strokeWidth={letter * 0.1} />
      {remnants.map((rect) => (
        <g key={`${rect.xMm},${rect.yMm}`}>
          <rect
            className="cut-remnant"
            x={rect.xMm}
            y={rect.yMm}
            width={rect.widthMm}
            height={rect.heightMm}
            fill={`url(#${hatch})`}
          />
          {Math.min(rect.widthMm, rect.heightMm) > letter * 2 && rect.widthMm > letter * 8 && (
            <text
              className="cut-rest"
              x={rect.xMm + rect.widthMm / 2}
              y={rect.yMm + rect.heightMm / 2 + letter * 0.35}
              strokeWidth={letter * 0.3}
            >
              {words(rect.heightMm)} × {words(rect.widthMm)}
            </text>
          )}
        </g>
      ))}
      {pieces.map(({ rect, name, wantedId }, index) => {
        const size = Math.min(letter * 1.2, rect.widthMm * 0.7, rect.heightMm * 0.7);
        return (
          <g key={`${wantedId} ${rect.xMm},${rect.yMm}`}>
            <rect
              className="cut-piece"
              x={rect.xMm}
              y={rect.yMm}
              width={rect.widthMm}
              height={rect.heightMm}
              strokeWidth={letter * 0.06}
            >
              <title>{`${pieceLetter(index)}: ${name}, ${words(rect.heightMm)} × ${words(rect.widthMm)}`}</title>
            </rect>
            <text
              className="cut-letter"
              x={rect.xMm + rect.widthMm / 2}
              y={rect.yMm + rect.heightMm / 2 + size * 0.35}
              style={{ fontSize: size }}
            >
              {pieceLetter(index)}
            </text>
          </g>
        );
      })}
      {lines.map(({ number, from, to, trim }) => (
        <path
          key={number}
          className={trim ? 'cut-line cut-trim' : 'cut-line'}
          d={`M${from.x} ${from.y}L${to.x} ${to.y}`}
          strokeWidth={letter * 0.09}
        />
      ))}
      {lines.map(({ number, label, roomMm }) => (
        <g
          key={number}
          transform={`translate(${label.x} ${label.y}) scale(${Math.max(0.35, Math.min(1, roomMm / letter / 1.8))})`}
        >
          <circle className="cut-disc" r={letter * 0.62} strokeWidth={letter * 0.06} />
          <text className="cut-number" y={letter * 0.27}>
            {number}
          </text>
        </g>
      ))}
      <Grain grain={grain} heightMm={heightMm} letter={letter} margin={margin} />
    </svg>
  );
}

function Grain({
  grain,
  heightMm,
  letter,
  margin,
}: Readonly<{ grain: CutSheet['grain']; heightMm: number; letter: number; margin: number }>) {
  if (grain === null) return null;
  const long = Math.min(heightMm * 0.5, letter * 5);
  const head = letter * 0.4;
  const at = -margin / 2;
  const path =
    grain === 'height'
      ? `M${at} 0V${long}M${at - head} ${head}L${at} 0L${at + head} ${head}M${at - head} ${long - head}L${at} ${long}L${at + head} ${long - head}`
      : `M0 ${at}H${long}M${head} ${at - head}L0 ${at}L${head} ${at + head}M${long - head} ${at - head}L${long} ${at}L${long - head} ${at + head}`;
  return (
    <path className="cut-grain" d={path} strokeWidth={letter * 0.11}>
      <title>grain</title>
    </path>
  );
}

function spoken(
  { name, heightMm, widthMm, pieces, remnants, cuts, grain }: CutSheet,
  words: (mm: number) => string,
): string {
  const parts = [
    `${name}, ${words(heightMm)} × ${words(widthMm)}`,
    grain === null ? 'grain not noted' : `grain along the ${grain}`,
    `${pieces.length} ${pieces.length === 1 ? 'piece' : 'pieces'} by ${cuts.length} ${cuts.length === 1 ? 'cut' : 'cuts'}`,
    `${remnants.length} ${remnants.length === 1 ? 'remnant' : 'remnants'} to keep`,
  ];
  return parts.join('; ');
}
