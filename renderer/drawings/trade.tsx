/** A drawing of the trade arithmetic to scale, laid out for the width there is so that its figures can always be read. */
import { memo, useMemo, useRef } from 'react';
import type { Drawing } from '../../core/trade/drawing.ts';
import { pathOf } from '../../core/trade/drawing-file.ts';
import { measureWords, type Picture, pictureOf, spokenMeasures } from '../../core/trade/picture.ts';
import type { Look, Mark } from '../../core/trade/picture-marks.ts';
import { useWidth } from '../parts/width.ts';
import './trade.css';

type Units = 'mm' | 'in';
type Props = Readonly<{ drawing: Drawing; units: Units }>;

/** Letters of a drawing, as small as they are still read at arm's length. */
const letterPx = 12;
/** From this width on there is room for both units beside every line. */
const roomForBothPx = 620;

export const TradeDrawing = memo(function TradeDrawing({ drawing, units }: Props) {
  const box = useRef<HTMLElement>(null);
  // Of its height nothing follows: a drawing that grows is not drawn twice.
  const width = useWidth(box);
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
        <Marks marks={marks} />
      </svg>
      <figcaption className="small soft">{drawing.title}</figcaption>
    </figure>
  );
});

/**
 * Parts in their order, then the lines that measure as one path each, then the figures. So few elements, their strokes in shares of a letter
 * by the style sheet, are what lets a drawing follow the typing.
 */
function Marks({ marks }: Readonly<{ marks: readonly Mark[] }>) {
  return (
    <>
      {marks.map((mark, index) =>
        mark.kind === 'lines' && !measuring.has(mark.look) ? (
          // biome-ignore lint/suspicious/noArrayIndexKey: a mark is nothing but its place in the drawing
          <path key={index} className={`trade-${mark.look}`} d={pathOf(mark.lines, mark.closed)}>
            {mark.says !== '' && <title>{mark.says}</title>}
          </path>
        ) : null,
      )}
      {[...measuring].map((look) => (
        <path key={look} className={`trade-${look}`} d={linesOf(marks, look)} />
      ))}
      {marks.map((mark, index) =>
        mark.kind === 'words' ? (
          <text
            // biome-ignore lint/suspicious/noArrayIndexKey: likewise
            key={index}
            className={`trade-words trade-${mark.of}`}
            x={mark.at.x}
            y={mark.at.y}
            dy="0.35em"
            transform={mark.turned ? `rotate(-90 ${mark.at.x} ${mark.at.y})` : undefined}
          >
            {mark.words}
            {mark.says !== '' && <title>{mark.says}</title>}
          </text>
        ) : null,
      )}
    </>
  );
}

const measuring: ReadonlySet<Look> = new Set(['witness', 'dimension']);

function linesOf(marks: readonly Mark[], look: Look): string {
  return marks
    .map((mark) => (mark.kind === 'lines' && mark.look === look ? pathOf(mark.lines, mark.closed) : ''))
    .join('');
}

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
