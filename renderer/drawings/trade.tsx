/** A drawing of the trade arithmetic to scale: new and original material apart, dimension lines, grain arrows. */
import type { Drawing, Point, Shape } from '../../core/trade/drawing.ts';
import { formatInches, formatMm } from '../../core/units/lengths.ts';
import './trade.css';

type Props = Readonly<{ drawing: Drawing; units: 'mm' | 'in' }>;

/** Fills the width it is given; the numbers in it are millimetres, so that a stroke or a letter is sized by the drawing's own extent. */
export function TradeDrawing({ drawing, units }: Props) {
  const { widthMm, heightMm, shapes, title } = drawing;
  const letter = Math.max(widthMm, heightMm * 1.2) / 58;
  const words = (mm: number) => (units === 'mm' ? formatMm(mm) : formatInches(mm));
  return (
    <figure className="trade-drawing">
      <svg
        viewBox={`0 0 ${widthMm} ${heightMm}`}
        role="img"
        aria-label={`${title}. ${spoken(shapes, words)}`}
        style={{ fontSize: letter }}
      >
        <defs>
          <pattern
            id="trade-original"
            width={letter * 0.5}
            height={letter * 0.5}
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <line className="trade-hatch" x1="0" y1="0" x2="0" y2={letter * 0.5} strokeWidth={letter * 0.08} />
          </pattern>
        </defs>
        {shapes.map((shape, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a shape is nothing but its place in the drawing
          <ShapeDrawn key={index} shape={shape} letter={letter} words={words} />
        ))}
      </svg>
      <figcaption className="small soft">{title}</figcaption>
    </figure>
  );
}

function ShapeDrawn({
  shape,
  letter,
  words,
}: Readonly<{ shape: Shape; letter: number; words: (mm: number) => string }>) {
  const stroke = letter * 0.1;
  switch (shape.kind) {
    case 'area':
      return (
        <polygon
          className={`trade-area trade-${shape.role} trade-${shape.material.replaceAll(' ', '-')}`}
          points={pointsOf(shape.points)}
          strokeWidth={stroke}
        >
          <title>{shape.label}</title>
        </polygon>
      );
    case 'line':
      return (
        <polyline
          className={`trade-line trade-line-${shape.role}`}
          points={pointsOf(shape.points)}
          strokeWidth={stroke}
          strokeDasharray={
            shape.role === 'fold' || shape.role === 'beneath' ? `${letter * 0.4} ${letter * 0.3}` : undefined
          }
        >
          <title>{shape.label}</title>
        </polyline>
      );
    case 'grain':
      return <Grain from={shape.from} to={shape.to} letter={letter} />;
    case 'dimension':
      return <Dimension shape={shape} letter={letter} words={words(shape.mm)} />;
  }
}

function Grain({ from, to, letter }: Readonly<{ from: Point; to: Point; letter: number }>) {
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  const [dx, dy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const reach = Math.min(length * 0.35, letter * 4);
  const head = letter * 0.6;
  const end = (sign: number) => {
    const tip = { x: middle.x + sign * dx * reach, y: middle.y + sign * dy * reach };
    const back = { x: tip.x - sign * dx * head, y: tip.y - sign * dy * head };
    return `M${back.x - dy * head * 0.6} ${back.y + dx * head * 0.6}L${tip.x} ${tip.y}L${back.x + dy * head * 0.6} ${back.y - dx * head * 0.6}`;
  };
  return (
    <path
      className="trade-grain"
      strokeWidth={letter * 0.1}
      d={`M${middle.x - dx * reach} ${middle.y - dy * reach}L${middle.x + dx * reach} ${middle.y + dy * reach}${end(1)}${end(-1)}`}
    >
      <title>grain</title>
    </path>
  );
}

function Dimension({
  shape,
  letter,
  words,
}: Readonly<{ shape: Extract<Shape, { kind: 'dimension' }>; letter: number; words: string }>) {
  const { from, to, offsetMm } = shape;
  const upright = Math.abs(to.x - from.x) < Math.abs(to.y - from.y);
  const shift = upright ? { x: offsetMm, y: 0 } : { x: 0, y: offsetMm };
  const [a, b] = [
    { x: from.x + shift.x, y: from.y + shift.y },
    { x: to.x + shift.x, y: to.y + shift.y },
  ];
  const tick = letter * 0.4;
  const ticks = upright
    ? `M${a.x - tick} ${a.y}h${2 * tick}M${b.x - tick} ${b.y}h${2 * tick}`
    : `M${a.x} ${a.y - tick}v${2 * tick}M${b.x} ${b.y - tick}v${2 * tick}`;
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  return (
    <g className="trade-dimension">
      <title>{`${shape.label}: ${words}`}</title>
      <path d={`M${a.x} ${a.y}L${b.x} ${b.y}${ticks}`} strokeWidth={letter * 0.07} />
      <text
        x={middle.x}
        y={middle.y}
        dy={-letter * 0.3}
        textAnchor="middle"
        transform={upright ? `rotate(-90 ${middle.x} ${middle.y})` : undefined}
        strokeWidth={letter * 0.35}
      >
        {words}
      </text>
    </g>
  );
}

function pointsOf(points: readonly Point[]): string {
  return points.map((point) => `${point.x},${point.y}`).join(' ');
}

/** The measures as a sentence, for those who cannot see the drawing. */
function spoken(shapes: readonly Shape[], words: (mm: number) => string): string {
  const said = shapes.flatMap((shape) => (shape.kind === 'dimension' ? [`${shape.label} ${words(shape.mm)}`] : []));
  return [...new Set(said)].join(', ');
}
