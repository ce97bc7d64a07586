/** What an operation uses up: a fixed amount and so much for each of a measure, or pieces to cut by the book's measures. */
import { type MaterialKind, materialKinds } from '../../../core/stock/material.ts';
import {
  type Formula,
  type MeasureName,
  measureNames,
  measureWords,
  type NeedRule,
} from '../../../core/treatment/operation.ts';
import { Button, SelectField, TextField } from '../../parts/controls.tsx';
import { Choice, Figure, Part } from './fields.tsx';

type Amount = Extract<NeedRule, { times: number }>;
type Piece = Extract<NeedRule, { height: Formula }>;
type Props = Readonly<{ needs: readonly NeedRule[]; onNeeds: (needs: readonly NeedRule[]) => void }>;

const newAmount: Amount = { kind: 'wheat starch', unit: 'g', times: 0, of: [], fixed: 1, words: 'own practice' };
const newPiece: Piece = {
  kind: 'repair paper',
  height: { blockHeight: 1 },
  width: { blockWidth: 1 },
  count: { mm: 1 },
  grain: 'along height',
  what: 'piece',
  words: 'own practice',
};

export function MaterialRules({ needs, onNeeds }: Props) {
  return (
    <Part name="Materials it uses up">
      {needs.map((need, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines have no name of their own, and are only added at the end
        <div className="operation-line" key={`${at}`}>
          <Choice
            name="Material"
            value={need.kind}
            words={materialKinds}
            onChange={(kind) => onNeeds(put(needs, at, { ...need, kind: kind as MaterialKind }))}
          />
          {'height' in need ? (
            <PieceFields need={need} onNeed={(next) => onNeeds(put(needs, at, next))} />
          ) : (
            <AmountFields need={need} onNeed={(next) => onNeeds(put(needs, at, next))} />
          )}
          <TextField
            name="How it follows, in words"
            value={need.words}
            onChange={(event) => onNeeds(put(needs, at, { ...need, words: event.target.value }))}
          />
          <Button look="quiet" onClick={() => onNeeds(needs.filter((_, other) => other !== at))}>
            Take away
          </Button>
        </div>
      ))}
      <div className="actions">
        <Button onClick={() => onNeeds([...needs, newAmount])}>Add an amount</Button>
        <Button onClick={() => onNeeds([...needs, newPiece])}>Add a piece to cut</Button>
      </div>
    </Part>
  );
}

function AmountFields({ need, onNeed }: Readonly<{ need: Amount; onNeed: (need: Amount) => void }>) {
  return (
    <>
      <Choice
        name="Counted in"
        value={need.unit}
        words={['g', 'ml', 'm', 'piece']}
        onChange={(unit) => onNeed({ ...need, unit: unit as Amount['unit'] })}
      />
      <Figure name="For each book" value={need.fixed} onChange={(fixed) => onNeed({ ...need, fixed })} />
      <Figure name="And so much times" value={need.times} onChange={(times) => onNeed({ ...need, times })} />
      {/* A product of two measures is an area. */}
      {[0, 1].map((place) => (
        <Terms
          key={place}
          name={place === 0 ? 'this measure' : 'by this one'}
          formula={need.of[place] ?? {}}
          onFormula={(formula) => {
            const of = [need.of[0] ?? {}, need.of[1] ?? {}].map((one, at) => (at === place ? formula : one));
            onNeed({ ...need, of: of.filter((one) => Object.keys(one).length > 0) });
          }}
        />
      ))}
    </>
  );
}

function PieceFields({ need, onNeed }: Readonly<{ need: Piece; onNeed: (need: Piece) => void }>) {
  return (
    <>
      <TextField
        name="What it is"
        value={need.what}
        onChange={(event) => onNeed({ ...need, what: event.target.value })}
      />
      <Terms name="Its height" formula={need.height} onFormula={(height) => onNeed({ ...need, height })} />
      <Terms name="Its width" formula={need.width} onFormula={(width) => onNeed({ ...need, width })} />
      <Terms name="How many of it" formula={need.count} onFormula={(count) => onNeed({ ...need, count })} />
      <Choice
        name="Grain"
        value={need.grain}
        words={['along height', 'any']}
        onChange={(grain) => onNeed({ ...need, grain: grain as Piece['grain'] })}
      />
    </>
  );
}

type TermsProps = Readonly<{ name: string; formula: Formula; onFormula: (formula: Formula) => void }>;

/** One measure so many times, and so much on top; further terms of a formula the program brings stay as they are. */
function Terms({ name, formula, onFormula }: TermsProps) {
  const measured = Object.keys(formula).filter((term) => term !== 'mm') as MeasureName[];
  const [first] = measured;
  const { mm = 0 } = formula;
  return (
    <>
      <SelectField
        name={name}
        value={first ?? ''}
        options={[
          { value: '', words: 'none' },
          ...measureNames.map((one) => ({ value: one, words: measureWords[one] })),
        ]}
        onChange={(event) => {
          const { [first ?? 'mm']: times = 1, ...rest } = formula;
          const next = event.target.value as MeasureName | '';
          const kept = first === undefined ? formula : rest;
          onFormula(next === '' ? kept : { ...kept, [next]: first === undefined ? 1 : times });
        }}
      />
      {first !== undefined && (
        <Figure
          name={`${name}: times`}
          value={formula[first] ?? 1}
          onChange={(times) => onFormula({ ...formula, [first]: times })}
        />
      )}
      <Figure
        name={`${name}: and`}
        value={mm}
        onChange={(more) => {
          const { mm: _, ...rest } = formula;
          onFormula(more === 0 ? rest : { ...rest, mm: more });
        }}
      />
      {measured.length > 1 && (
        <span className="soft">
          and{' '}
          {measured
            .slice(1)
            .map((term) => `${formula[term]} × ${measureWords[term]}`)
            .join(', ')}
        </span>
      )}
    </>
  );
}

function put(list: readonly NeedRule[], at: number, value: NeedRule): readonly NeedRule[] {
  return list.map((one, place) => (place === at ? value : one));
}
