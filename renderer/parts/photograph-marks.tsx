/** A kept photograph with its marks over it, to be drawn at any size. */
import type { ReactNode, Ref, SVGAttributes } from 'react';
import { type Photograph, photographAddress } from '../../core/contract/photographs.ts';
import { drawMark, type KnownLine, type PictureMark, type Spot, strokeOf } from '../../core/photographs/marks.ts';
import './photographs.css';

type Props = Readonly<{
  photograph: Photograph;
  marks: readonly PictureMark[];
  name: string;
  /** Drawn over picture and marks. */
  children?: ReactNode;
  drawn?: Ref<SVGSVGElement>;
}> &
  Pick<SVGAttributes<SVGSVGElement>, 'style' | 'className' | 'onPointerDown' | 'onPointerMove' | 'onPointerUp'>;

export function MarkedPicture({ photograph, marks, name, children, drawn, ...rest }: Props) {
  const { widthPx, heightPx, hash } = photograph;
  return (
    <svg ref={drawn} viewBox={`0 0 ${widthPx} ${heightPx}`} role="img" aria-label={name} {...rest}>
      <image href={photographAddress(hash, 'large')} width={widthPx} height={heightPx} />
      {marks.map((mark, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: marks have no other name than their place
        <MarkShape key={index} mark={mark} stroke={strokeOf(widthPx, heightPx)} />
      ))}
      {children}
    </svg>
  );
}

function MarkShape({ mark, stroke }: Readonly<{ mark: PictureMark; stroke: number }>) {
  const { paths, ellipse, words } = drawMark(mark, stroke);
  const lines = (
    <>
      {paths.map((path) => (
        <polyline key={pointsOf(path)} points={pointsOf(path)} />
      ))}
      {ellipse && <ellipse cx={ellipse.centre.x} cy={ellipse.centre.y} rx={ellipse.rx} ry={ellipse.ry} />}
    </>
  );
  return (
    <>
      <g className="mark-under" strokeWidth={stroke * 2}>
        {lines}
      </g>
      <g className="mark-line" strokeWidth={stroke}>
        {lines}
      </g>
      {words && (
        <text className="mark-words" x={words.at.x} y={words.at.y} fontSize={words.size} strokeWidth={stroke}>
          {words.text}
        </text>
      )}
    </>
  );
}

/** The line whose length is known, with a stop at each end. */
export function ScaleShape({ line, stroke }: Readonly<{ line: Pick<KnownLine, 'from' | 'to'>; stroke: number }>) {
  const angle = Math.atan2(line.to.y - line.from.y, line.to.x - line.from.x) + Math.PI / 2;
  const [x, y] = [Math.cos(angle) * stroke * 5, Math.sin(angle) * stroke * 5];
  const stop = ({ x: atX, y: atY }: Spot) => [
    { x: atX - x, y: atY - y },
    { x: atX + x, y: atY + y },
  ];
  const paths = [[line.from, line.to], stop(line.from), stop(line.to)].map(pointsOf);
  return (
    <>
      {(['mark-under', 'mark-scale'] as const).map((look) => (
        <g key={look} className={look} strokeWidth={look === 'mark-under' ? stroke * 2 : stroke}>
          {paths.map((points) => (
            <polyline key={points} points={points} />
          ))}
        </g>
      ))}
    </>
  );
}

function pointsOf(path: readonly Spot[]): string {
  return path.map(({ x, y }) => `${x},${y}`).join(' ');
}
