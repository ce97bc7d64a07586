/** Two photographs side by side, at one scale where both have one. */
import { useState } from 'react';
import type { Photograph } from '../../core/contract/photographs.ts';
import { mmPerPixel } from '../../core/photographs/marks.ts';
import { SelectField } from './controls.tsx';
import { Dialog } from './dialog.tsx';
import { MarkedPicture } from './photograph-marks.tsx';
import { photographName } from './photograph-words.ts';

type Props = Readonly<{ photographs: readonly Photograph[]; onClose: () => void }>;

export function PhotographCompare({ photographs, onClose }: Props) {
  const first = photographs.find((one) => one.stage === 'before') ?? photographs[0];
  const last = photographs.findLast((one) => one.stage === 'after') ?? photographs.at(-1);
  const [leftId, setLeftId] = useState(first?.id ?? '');
  const [rightId, setRightId] = useState(last?.id ?? '');
  const [marks, setMarks] = useState(true);
  const pair = [leftId, rightId].flatMap((id) => photographs.find((one) => one.id === id) ?? []);
  const widthsMm = pair.map(widthMmOf);
  const scaled = widthsMm.every((mm) => mm !== null);
  const whole = widthsMm.reduce<number>((sum, mm) => sum + (mm ?? 0), 0);
  const options = photographs.map((one) => ({ value: one.id, words: photographName(one).slice(0, 90) }));
  return (
    <Dialog title="Side by side" wide onClose={onClose}>
      <div className="fields">
        <SelectField name="Left" value={leftId} onChange={(event) => setLeftId(event.target.value)} options={options} />
        <SelectField
          name="Right"
          value={rightId}
          onChange={(event) => setRightId(event.target.value)}
          options={options}
        />
      </div>
      <p className="small soft">
        {scaled
          ? `At one scale: the bar in each is ${barMm(whole)} mm.`
          : 'Not at one scale: open each and set its scale along something of known length.'}{' '}
        <label>
          <input type="checkbox" checked={marks} onChange={(event) => setMarks(event.target.checked)} /> with marks
        </label>
      </p>
      <div className="photographs-pair">
        {pair.map((one, side) => {
          const mm = widthsMm[side] ?? null;
          const share = scaled && mm !== null ? mm / whole : 0.5;
          return (
            <figure key={side === 0 ? 'left' : 'right'} style={{ flexGrow: share, flexBasis: 0 }}>
              <MarkedPicture photograph={one} marks={marks ? one.marks : []} name={photographName(one)}>
                {scaled && mm !== null && <Bar photograph={one} px={(barMm(whole) * one.widthPx) / mm} />}
              </MarkedPicture>
              <figcaption className="small">{[one.stage, one.caption].filter(Boolean).join(': ')}</figcaption>
            </figure>
          );
        })}
      </div>
    </Dialog>
  );
}

function Bar({ photograph, px }: Readonly<{ photograph: Photograph; px: number }>) {
  const { widthPx, heightPx } = photograph;
  const high = Math.max(widthPx, heightPx) / 80;
  return <rect className="photographs-bar" x={high} y={heightPx - high * 2} width={px} height={high} />;
}

function widthMmOf({ scale, widthPx }: Photograph): number | null {
  const scaled = scale === null ? null : mmPerPixel(scale);
  return scaled?.ok ? scaled.value * widthPx : null;
}

/** A round length, about a sixth of the two pictures together. */
function barMm(whole: number): number {
  const steps = [1, 2, 5, 10, 20, 50, 100, 200, 500];
  return steps.findLast((mm) => mm <= whole / 6) ?? 1;
}
