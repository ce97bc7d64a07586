/** The Reckoner: one calculation at a time, inputs and drawing side by side, and beneath them how every figure comes about. */
import { useDeferredValue, useMemo, useState } from 'react';
import { type Calculation, type Field, unreadable } from '../../core/trade/calculation.ts';
import { calculations } from '../../core/trade/reckoner.ts';
import { formatInches, formatMm, readLength } from '../../core/units/lengths.ts';
import { useHabits } from '../app/queries.ts';
import { goTo, useRoute } from '../app/route.ts';
import { TradeDrawing } from '../drawings/trade.tsx';
import { LongField, SelectField, TextField } from '../parts/controls.tsx';
import { Notice } from '../parts/notices.tsx';
import { Actions } from './actions.tsx';
import { glyphWidths } from './glyphs.ts';
import { Figures, type Units, Why } from './outcome.tsx';
import './reckoner.css';

const groups = [...new Set(calculations.map((one) => one.group))];

export function ReckonerRoom() {
  const { id } = useRoute();
  const chosen = calculations.find((one) => one.id === id) ?? calculations[0]!;
  return (
    <div className="reckoner">
      <nav className="reckoner-list" aria-label="Calculations">
        {groups.map((group) => (
          <section key={group}>
            <h2>{group}</h2>
            <ul>
              {calculations
                .filter((one) => one.group === group)
                .map((one) => (
                  <li key={one.id}>
                    <a href={`#/reckoner/${one.id}`} aria-current={one.id === chosen.id ? 'page' : undefined}>
                      {one.title}
                    </a>
                  </li>
                ))}
            </ul>
          </section>
        ))}
      </nav>
      <div className="reckoner-pick">
        <SelectField
          name="Calculation"
          value={chosen.id}
          onChange={(event) => goTo('reckoner', event.target.value, true)}
          options={calculations.map((one) => ({ value: one.id, words: `${one.group}: ${one.title}` }))}
        />
      </div>
      <Reckoning key={chosen.id} calculation={chosen} />
    </div>
  );
}

function Reckoning({ calculation }: Readonly<{ calculation: Calculation }>) {
  const { units } = useHabits();
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const settled = useDeferredValue(typed);
  // Kept while a key is being taken in, so that only the field is drawn at once and the answer in its own turn.
  const answer = useMemo(
    () => calculation.reckon(settled, { unit: units, glyphs: glyphWidths() }),
    [calculation, settled, units],
  );
  const outcome = answer.ok ? answer.value : null;
  const trouble = answer.ok ? null : answer.refusal;
  const troubles = answer.ok ? {} : unreadable(calculation.fields, settled, units);
  return (
    <article className="reckoning">
      <header>
        <h2>{calculation.title}</h2>
        <p className="soft">{calculation.about}</p>
      </header>
      <div className="reckoning-halves">
        <form className="reckoning-fields" onSubmit={(event) => event.preventDefault()}>
          {Object.entries(calculation.fields).map(([key, field]) => (
            <FieldOf
              key={key}
              field={field}
              value={typed[key] ?? field.usual}
              units={units}
              trouble={troubles[key] ?? (trouble?.field === key ? trouble.sentence : undefined)}
              onType={(value) => setTyped({ ...typed, [key]: value })}
            />
          ))}
        </form>
        <div className="reckoning-answer">
          <div aria-live="polite">
            {trouble && trouble.field === undefined && (
              <Notice kind="caution">
                <p>{trouble.sentence}</p>
              </Notice>
            )}
            {outcome && <Figures figures={outcome.figures} units={units} />}
          </div>
          {outcome?.drawing && <TradeDrawing drawing={outcome.drawing} units={units} />}
        </div>
      </div>
      {outcome && <Why outcome={outcome} units={units} />}
      {outcome && <Actions calculation={calculation} typed={settled} outcome={outcome} units={units} />}
    </article>
  );
}

type FieldProps = Readonly<{
  field: Field;
  value: string;
  units: Units;
  trouble: string | undefined;
  onType: (value: string) => void;
}>;

function FieldOf({ field, value, units, trouble, onType }: FieldProps) {
  const name = field.kind === 'number' && field.unit !== '' ? `${field.label}, ${field.unit}` : field.label;
  if (field.kind === 'choice') {
    return (
      <SelectField
        name={name}
        hint={field.hint}
        trouble={trouble}
        value={value}
        onChange={(event) => onType(event.target.value)}
        options={field.options.map((option) => ({ value: option, words: option }))}
      />
    );
  }
  if (field.kind === 'text' && !field.oneLine) {
    return (
      <LongField
        name={name}
        hint={field.hint}
        trouble={trouble}
        value={value}
        onChange={(event) => onType(event.target.value)}
        spellCheck={false}
      />
    );
  }
  return (
    <TextField
      name={name}
      hint={field.kind === 'length' ? inBothUnits(value, units, field.hint) : field.hint}
      trouble={trouble}
      value={value}
      onChange={(event) => onType(event.target.value)}
      autoComplete="off"
    />
  );
}

/** What was typed in the unit it was not typed in, before what there is to know of the field. */
function inBothUnits(value: string, units: Units, hint: string | undefined): string | undefined {
  const read = readLength(value, { defaultUnit: units });
  if (!read.ok) return hint;
  const inches = /in|["”″]|ft/i.test(value) || (units === 'in' && !/mm|cm/i.test(value));
  const other = `= ${inches ? formatMm(read.value) : formatInches(read.value)}`;
  return hint === undefined ? other : `${other} · ${hint}`;
}
