/** A material's balance falling over the coming weeks: steps down as it is used, up as parcels come, to its order-by mark. */
import { dayName } from '../../core/stock/cover.ts';
import { amountWords, toMillionths } from '../../core/stock/ledger.ts';
import type { StockUnit } from '../../core/stock/material.ts';
import { drawRundown } from '../../core/stock/rundown.ts';
import './rundown.css';

type Props = Readonly<{
  series: readonly Readonly<{ date: string; low: number; balance: number; from: number; to: number }>[];
  unit: StockUnit;
  safety: number;
  orderBy: string | null;
  arrivals: readonly string[];
  /** What the picture says, for those who listen. */
  label: string;
  width: number;
}>;

const height = 190;
const left = 48;
const right = 10;
const top = 26;
const bottom = 24;

export function RundownDrawing({ series, unit, safety, orderBy, arrivals, label, width }: Props) {
  const inner = { width: Math.max(120, width - left - right), height: height - top - bottom };
  const drawing = drawRundown({ series, safety, orderBy, arrivals, ...inner });
  const every = Math.ceil(drawing.weeks.length / Math.max(2, Math.floor(inner.width / 62)));
  return (
    <svg className="rundown" width={width} height={height} role="img" aria-label={label}>
      <defs>
        <pattern id="rundown-missing" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line className="rundown-hatch" x1="0" y1="0" x2="0" y2="5" />
        </pattern>
      </defs>
      <g transform={`translate(${left} ${top})`}>
        {drawing.levels.map(({ y, amount }) => (
          <g key={amount}>
            <line className="rundown-level" x1={0} x2={inner.width} y1={y} y2={y} />
            <text className="rundown-amount" x={-6} y={y + 4}>
              {String(amount).replace('-', '−')}
            </text>
          </g>
        ))}
        <text className="rundown-unit" x={-left + 2} y={-12}>
          {unit === 'sheet' || unit === 'piece' ? `${unit}s` : unit}
        </text>
        {drawing.weeks.map(({ x, date }, index) => (
          <g key={date}>
            <line className="rundown-week" x1={x} x2={x} y1={inner.height} y2={inner.height + 4} />
            {index % every === 0 && x < inner.width - 24 && (
              <text className="rundown-date" x={x} y={inner.height + 17}>
                {dayName(date).slice(4)}
              </text>
            )}
          </g>
        ))}
        {drawing.band !== '' && <path className="rundown-band" d={drawing.band} />}
        {drawing.missing !== '' && (
          <path className="rundown-missing" d={drawing.missing} fill="url(#rundown-missing)" />
        )}
        <line className="rundown-zero" x1={0} x2={inner.width} y1={drawing.zeroY} y2={drawing.zeroY} />
        {drawing.safetyY !== null && (
          <>
            <line className="rundown-safety" x1={0} x2={inner.width} y1={drawing.safetyY} y2={drawing.safetyY} />
            <text className="rundown-safety-name" x={inner.width} y={drawing.safetyY - 4}>
              safety stock {amountWords(toMillionths(safety), unit)}
            </text>
          </>
        )}
        <path className="rundown-line" d={drawing.line} />
        {drawing.arrivals.map(({ x, y, date }, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two parcels may be due on one day
          <path key={`${date} ${index}`} className="rundown-arrival" d={`M${x} ${y - 9}l5 8h-10z`}>
            <title>due {dayName(date)}</title>
          </path>
        ))}
        {drawing.orderX !== null && orderBy !== null && (
          <g className="rundown-order">
            <line x1={drawing.orderX} x2={drawing.orderX} y1={-8} y2={inner.height} />
            <path d={`M${drawing.orderX} -8h9l-3 4 3 4h-9`} />
            <text
              x={drawing.orderX + (drawing.orderX > inner.width - 130 ? -6 : 14)}
              y={-2}
              textAnchor={drawing.orderX > inner.width - 130 ? 'end' : 'start'}
            >
              order by {dayName(orderBy)}
            </text>
          </g>
        )}
      </g>
    </svg>
  );
}
