/** What a calculation answers: figures at a glance, pieces to cut, and how every number comes about. */
import { memo } from 'react';
import type { Figure, Outcome } from '../../core/trade/calculation.ts';
import type { Piece, Step } from '../../core/trade/working.ts';
import { formatInches, formatMm } from '../../core/units/lengths.ts';
import './reckoner.css';

export type Units = 'mm' | 'in';

export const Figures = memo(function Figures({
  figures,
  units,
}: Readonly<{ figures: readonly Figure[]; units: Units }>) {
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
});

/** Everything a figure can be asked: pieces to cut, the steps with their numbers, and where the rule is from. */
export const Why = memo(function Why({ outcome, units }: Readonly<{ outcome: Outcome; units: Units }>) {
  return (
    <section className="why" aria-label="How it comes about">
      {outcome.remarks.map((remark) => (
        <p key={remark}>{remark}</p>
      ))}
      {outcome.pieces.length > 0 && <Pieces pieces={outcome.pieces} />}
      {outcome.working.length > 0 && <Working steps={outcome.working} units={units} />}
    </section>
  );
});

function Working({ steps, units }: Readonly<{ steps: readonly Step[]; units: Units }>) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than a narrow page is scrolled by keyboard too
    <section className="table-scroll" aria-label="Working" tabIndex={0}>
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
          {steps.map((step, index) => (
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
    </section>
  );
}

function Pieces({ pieces }: Readonly<{ pieces: readonly Piece[] }>) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than a narrow page is scrolled by keyboard too
    <section className="table-scroll" aria-label="Pieces to cut" tabIndex={0}>
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
    </section>
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

/** The whole answer as plain text, to paste into a letter or a note. */
export function asText(outcome: Outcome, title: string, units: Units): string {
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
