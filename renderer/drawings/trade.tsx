/** A drawing of the trade arithmetic to scale, laid out for the width there is so that its figures can always be read. */
import { memo, useMemo, useRef } from 'react';
import type { Drawing } from '../../core/trade/drawing.ts';
import { pathOf } from '../../core/trade/drawing-file.ts';
import { type Mark, measureWords, type Picture, pictureOf, spokenMeasures } from '../../core/trade/picture.ts';
import { useSize } from '../shelf/width.ts';
import './trade.css';

type Units = 'mm' | 'in';
type Props = Readonly<{ drawing: Drawing; units: Units }>;

/** Letters of a drawing, as small as they are still read at arm's length. */
const letterPx = 12;
/** From this width on there is room for both units beside every line. */
const roomForBothPx = 620;

export const TradeDrawing = memo(function TradeDrawing({ drawing, units }: Props) {
  const box = useRef<HTMLElement>(null);
  const { width } = useSize(box);
  const widthPx = width === 0 ? 640 : width;
  const words = useMemo(() => measureWords(units, widthPx >= roomForBothPx), [units, widthPx]);
  const { picture, heightPx } = useMemo(() => fitted(drawing, widthPx, words), [drawing, widthPx, words]);
  const { leftMm, topMm, widthMm, heightMm, letterMm, marks } = picture;
  return (
    <figure className="trade-drawing" ref={box}>
      <svg
        viewBox={`${leftMm} ${topMm} ${widthMm} ${heightMm}`}
        height={heightPx}
        role="img"
        aria-label={`${drawing.title}. ${spokenMeasures(drawing, words)}`}
        style={{ fontSize: letterMm }}
      >
        {marks.map((mark, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a mark is nothing but its place in the drawing
          <MarkDrawn key={index} mark={mark} letterMm={letterMm} />
        ))}
      </svg>
      <figcaption className="small soft">{drawing.title}</figcaption>
    </figure>
  );
});

function MarkDrawn({ mark, letterMm }: Readonly<{ mark: Mark; letterMm: number }>) {
  if (mark.kind === 'lines') {
    return (
      <path
        className={`trade-${mark.look}`}
        d={pathOf(mark.lines, mark.closed)}
        strokeWidth={letterMm * strokes[mark.look]}
        strokeDasharray={
          mark.look === 'fold' || mark.look === 'beneath' ? `${letterMm * 0.4} ${letterMm * 0.3}` : undefined
        }
      >
        {mark.says !== '' && <title>{mark.says}</title>}
      </path>
    );
  }
  const { at, turned, widthMm, words } = mark;
  return (
    <g transform={turned ? `rotate(-90 ${at.x} ${at.y})` : undefined}>
      <rect
        className="trade-behind"
        x={at.x - widthMm / 2}
        y={at.y - letterMm * 0.5}
        width={widthMm}
        height={letterMm}
      />
      <text className={`trade-${mark.of}`} x={at.x} y={at.y + letterMm * 0.35} textAnchor="middle">
        {words}
      </text>
    </g>
  );
}

/** Widths of strokes as shares of a letter. */
const strokes = {
  new: 0.1,
  board: 0.1,
  paper: 0.1,
  lining: 0.1,
  original: 0.1,
  beneath: 0.08,
  cut: 0.1,
  fold: 0.08,
  hatch: 0.06,
  grain: 0.12,
  dimension: 0.08,
  witness: 0.05,
} as const;

/**
 * The picture whose letters come out `letterPx` tall in this width, and how tall it stands. Letters take up room themselves, so the size is
 * closed in upon; a drawing much taller than wide is kept to the height of a screen by drawing it smaller.
 */
function fitted(
  drawing: Drawing,
  widthPx: number,
  words: (mm: number) => string,
): Readonly<{ picture: Picture; heightPx: number }> {
  const tallestPx = Math.max(620, widthPx * 1.5);
  // On a narrow page loose pieces go beneath rather than beside each other.
  const wider = widthPx < roomForBothPx ? 0.7 : 1.4;
  const scaleOf = ({ widthMm, heightMm }: Readonly<{ widthMm: number; heightMm: number }>) =>
    Math.min(widthPx / widthMm, tallestPx / heightMm);
  let letterMm = letterPx / scaleOf(drawing);
  let picture = pictureOf(drawing, letterMm, words, wider);
  for (let turn = 0; turn < 4; turn++) {
    const shownPx = letterMm * scaleOf(picture);
    if (Math.abs(shownPx / letterPx - 1) < 0.03) break;
    letterMm *= letterPx / shownPx;
    picture = pictureOf(drawing, letterMm, words, wider);
  }
  return { picture, heightPx: Math.ceil(picture.heightMm * scaleOf(picture)) };
}
