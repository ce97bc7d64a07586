/** A colour picked by eye from a card of swatches: better than words alone, worse than a photograph. */

import { swatches } from '../../core/salvage/colour-words.ts';
import type { Lab } from '../../core/salvage/piece.ts';
import { inCss } from '../drawings/lab.ts';

/** How a picked colour says it came about. */
const how = 'picked by eye from a swatch';

export function SwatchPicker({
  onPicked,
}: Readonly<{ onPicked: (picked: Readonly<{ words: string; lab: Lab; measured: string }>) => void }>) {
  return (
    <details className="swatch-picker">
      <summary>Pick the colour from a swatch</summary>
      <p className="soft small">
        Screens differ: what is picked here finds candidates, it measures nothing. Hold the cloth beside them in
        daylight.
      </p>
      <div className="swatch-card">
        {swatches.map(({ words, lab }) => (
          <button
            key={words}
            type="button"
            className="swatch-choice"
            title={words}
            onClick={() => onPicked({ words, lab, measured: how })}
          >
            <svg viewBox="0 0 24 24" preserveAspectRatio="none" aria-hidden="true">
              <rect width="24" height="24" fill={inCss(lab)} />
            </svg>
            <span className="small">{words}</span>
          </button>
        ))}
      </div>
    </details>
  );
}
