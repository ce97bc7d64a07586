/** The Reckoner: one calculation at a time, inputs and drawing side by side, and beneath them how every figure comes about. */
import { useDeferredValue, useState } from 'react';
import type { Calculation, Field, Figure, Outcome } from '../../core/trade/calculation.ts';
import { calculations } from '../../core/trade/reckoner.ts';
import type { Piece, Step } from '../../core/trade/working.ts';
import { formatInches, formatMm } from '../../core/units/lengths.ts';
import { useHabits } from '../app/queries.ts';
import { goTo, useRoute } from '../app/route.ts';
import { say } from '../app/say.ts';
import { TradeDrawing } from '../drawings/trade.tsx';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { Notice } from '../parts/notices.tsx';
import { glyphWidths } from './glyphs.ts';
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
  const answer = calculation.reckon(settled, { unit: units, glyphs: glyphWidths() });
  const outcome = answer.ok ? answer.value : null;
  const trouble = answer.ok ? null : answer.refusal;
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
              trouble={trouble?.field === key ? trouble.sentence : undefined}
              onType={(value) => setTyped({ ...typed, [key]: value })}
            />
          ))}
        </form>
        <div className="reckoning-answer" aria-live="polite">
          {trouble && trouble.field === undefined && (
            <Notice kind="caution">
              <p>{trouble.sentence}</p>
            </Notice>
          )}
          {outcome && <Figures figures={outcome.figures} units={units} />}
          {outcome?.drawing && <TradeDrawing drawing={outcome.drawing} units={units} />}
        </div>
      </div>
      {outcome && <Why outcome={outcome} title={calculation.title} units={units} />}
    </article>
  );
}

type FieldProps = Readonly<{
  field: Field;
  value: string;
  trouble: string | undefined;
  onType: (value: string) => void;
}>;

function FieldOf({ field, value, trouble, onType }: FieldProps) {
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
  if (field.kind === 'text') {
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
      hint={field.hint}
      trouble={trouble}
      value={value}
      onChange={(event) => onType(event.target.value)}
      autoComplete="off"
    />
  );
}

type Units = 'mm' | 'in';

function Figures({ figures, units }: Readonly<{ figures: readonly Figure[]; units: Units }>) {
  if (figures.length === 0) return null;
  return (
    <dl className="figures">
      {figures.map((figure) => (
        <div key={figure.label}>
          <dt>{figure.label}</dt>
          <dd>{'text' in figure ? figure.text : valueWords(figure.value, figure.unit, units)}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Everything a figure can be asked: pieces to cut, the steps with their numbers, and where the rule is from. */
function Why({ outcome, title, units }: Readonly<{ outcome: Outcome; title: string; units: Units }>) {
  async function copy() {
    await navigator.clipboard.writeText(asText(outcome, title, units));
    say('Copied.');
  }
  return (
    <section className="why" aria-label="How it comes about">
      {outcome.remarks.map((remark) => (
        <p key={remark}>{remark}</p>
      ))}
      {outcome.pieces.length > 0 && <Pieces pieces={outcome.pieces} />}
      {outcome.working.length > 0 && (
        <div className="table-scroll">
          <table className="table">
            <caption className="visually-hidden">Working</caption>
            <thead>
              <tr>
                <th scope="col">Step</th>
                <th scope="col">How</th>
                <th scope="col" className="number">
                  Comes to
                </th>
                <th scope="col">Source</th>
              </tr>
            </thead>
            <tbody>
              {outcome.working.map((step, index) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: steps are told apart by their order alone
                <tr key={index}>
                  <td>{step.label}</td>
                  <td>{step.formula}</td>
                  <td className="number">{valueWords(step.value, step.unit, units)}</td>
                  <td className="soft small">{step.source ?? ''}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <Button onClick={() => void copy()}>Copy as text</Button>
    </section>
  );
}

function Pieces({ pieces }: Readonly<{ pieces: readonly Piece[] }>) {
  return (
    <div className="table-scroll">
      <table className="table">
        <caption className="visually-hidden">Pieces to cut</caption>
        <thead>
          <tr>
            <th scope="col">Piece</th>
            <th scope="col">Of</th>
            <th scope="col" className="number">
              High × wide
            </th>
            <th scope="col" className="number">
              In inches
            </th>
            <th scope="col" className="number">
              How many
            </th>
            <th scope="col">Grain</th>
          </tr>
        </thead>
        <tbody>
          {pieces.map((piece) => (
            <tr key={`${piece.part} ${piece.heightMm} ${piece.widthMm}`}>
              <td>{piece.part}</td>
              <td>{piece.material}</td>
              <td className="number">
                {formatMm(piece.heightMm)} × {formatMm(piece.widthMm)}
              </td>
              <td className="number">
                {formatInches(piece.heightMm)} × {formatInches(piece.widthMm)}
              </td>
              <td className="number">{piece.count}</td>
              <td>{grainWords[piece.grain]}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const grainWords = { height: 'head to tail', width: 'across', any: 'either way' } as const;

function valueWords(value: number, unit: Step['unit'], units: Units): string {
  if (unit === 'mm')
    return units === 'mm'
      ? `${formatMm(value)} (${formatInches(value)})`
      : `${formatInches(value)} (${formatMm(value)})`;
  const size = Math.abs(value);
  const digits = size === 0 || size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
  const figure = Number.isInteger(value) ? String(value) : value.toFixed(digits);
  return unit === ''
    ? figure
    : unit === '°' || unit === '%'
      ? `${figure}${unit === '%' ? ' %' : '°'}`
      : `${figure} ${unit}`;
}

function asText(outcome: Outcome, title: string, units: Units): string {
  return [
    title,
    ...outcome.figures.map(
      (figure) => `${figure.label}: ${'text' in figure ? figure.text : valueWords(figure.value, figure.unit, units)}`,
    ),
    ...outcome.pieces.map(
      (piece) =>
        `${piece.count} × ${piece.part} (${piece.material}): ${formatMm(piece.heightMm)} × ${formatMm(piece.widthMm)}`,
    ),
    ...outcome.working.map(
      (step) =>
        `${step.label} = ${step.formula} = ${valueWords(step.value, step.unit, units)}${step.source ? ` [${step.source}]` : ''}`,
    ),
    ...outcome.remarks,
  ].join('\n');
}
