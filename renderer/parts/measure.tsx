/** Figures where a person would measure: in the workshop's own unit, with the other beside it. */
import { formatInches, formatMm } from '../../core/units/lengths.ts';
import { useHabits } from '../app/queries.ts';

/** "225 mm" with "8 7/8 in" softly after it, or the other way round by the workshop's habit. */
export function Measure({ mm }: Readonly<{ mm: number }>) {
  const { units } = useHabits();
  const [first, second] = units === 'mm' ? [formatMm(mm), formatInches(mm)] : [formatInches(mm), formatMm(mm)];
  return (
    <span className="measure">
      {first} <span className="soft">({second})</span>
    </span>
  );
}
