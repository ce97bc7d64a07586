/** A sheet to scale with its pieces by letter and its cuts by number, in the order they are made. Remnants to keep are hatched. */
import { Fragment, useId } from 'react';
import { type CutLine, cutLines, pieceLetter } from '../../core/cutting/picture.ts';
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
        const signs = pieceLetter(index).length;
        const size = Math.min(letter * 1.2, (rect.widthMm * 1.1) / (0.5 + signs), rect.heightMm * 0.7);
        return (
          <Fragment key={`${wantedId} ${rect.xMm},${rect.yMm}`}>
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
          </Fragment>
        );
      })}
      <path className="cut-line cut-trim" d={pathOf(lines.filter(({ trim }) => trim))} strokeWidth={letter * 0.09} />
      <path className="cut-line" d={pathOf(lines.filter(({ trim }) => !trim))} strokeWidth={letter * 0.09} />
      <path
        className="cut-disc"
        d={lines.map((line) => discOf(line.label, sizeOf(line, letter) * 0.62)).join('')}
        strokeWidth={letter * 0.05}
      />
      {lines.map((line) => {
        const size = sizeOf(line, letter);
        return (
          <text
            key={line.number}
            className="cut-number"
            x={line.label.x}
            y={line.label.y + size * 0.27}
            style={{ fontSize: size * 0.78 }}
          >
            {line.number}
          </text>
        );
      })}
      <Grain grain={grain} heightMm={heightMm} letter={letter} margin={margin} />
    </svg>
  );
}

/** A number is no larger than the part it stands on can bear. */
function sizeOf({ roomMm }: CutLine, letter: number): number {
  return letter * Math.max(0.35, Math.min(1, roomMm / letter / 1.8));
}

/** All of them as one path: a plan of hundreds of cuts stays a picture of few elements. */
function pathOf(lines: readonly CutLine[]): string {
  return lines.map(({ from, to }) => `M${from.x} ${from.y}L${to.x} ${to.y}`).join('');
}

function discOf({ x, y }: CutLine['label'], radius: number): string {
  return `M${x - radius} ${y}a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0`;
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
