/** A piece put in by hand. Its fields carry over to the next, because pieces of one donor come together. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { type GrainPattern, grainPatterns } from '../../core/book/book.ts';
import { type PieceKind, pieceKinds } from '../../core/salvage/piece.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { goTo } from '../app/route.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { ColourFromPhotograph } from './photograph.tsx';
import { SwatchPicker } from './swatch-picker.tsx';
import { labOf, labWords, lengthOf, yearsOf } from './words.ts';

const blank = {
  kind: 'book cloth',
  height: '',
  width: '',
  grain: 'height',
  colour: '',
  lab: '',
  measured: '',
  pattern: '',
  years: '',
  place: '',
  donorBookId: '',
  note: '',
};
type Draft = typeof blank;

export const grainOptions = [
  { value: 'height', words: 'along the height' },
  { value: 'width', words: 'along the width' },
  { value: '', words: 'not known' },
];

export const patternOptions = [
  { value: '', words: 'not described' },
  ...grainPatterns.map((value) => ({ value, words: value })),
];

export function NewPiece() {
  const { units } = useHabits();
  const donors = useQuery(ask.offcuts.donors.queryOptions());
  const [draft, setDraft] = useState<Draft>(blank);
  const [local, setLocal] = useState<Readonly<{ field: string; sentence: string }> | null>(null);
  const save = useChange(client.offcuts.save, (piece) => `Put in ${piece.name}.`);
  const trouble = local ?? (save.error ? readTrouble(save.error) : null);
  const at = (...fields: readonly string[]) =>
    trouble?.field !== undefined && fields.includes(trouble.field) ? trouble.sentence : undefined;
  const known = ['heightMm', 'widthMm', 'lab', 'yearFrom', 'yearTo', 'donorBookId'];
  const set = (key: keyof Draft) => (event: { target: { value: string } }) =>
    setDraft({ ...draft, [key]: event.target.value });

  function keep(): void {
    setLocal(null);
    const read = <T,>(field: string, work: () => T): T => {
      try {
        return work();
      } catch (error) {
        setLocal({ field, sentence: readTrouble(error).sentence });
        throw error;
      }
    };
    try {
      save.mutate(
        {
          kind: draft.kind as PieceKind,
          heightMm: read('heightMm', () => lengthOf(draft.height, units)),
          widthMm: read('widthMm', () => lengthOf(draft.width, units)),
          grain: draft.grain === '' ? null : (draft.grain as 'height' | 'width'),
          colour: draft.colour,
          lab: read('lab', () => labOf(draft.lab)),
          measured: draft.measured,
          pattern: draft.pattern === '' ? null : (draft.pattern as GrainPattern),
          ...read('yearFrom', () => yearsOf(draft.years)),
          place: draft.place,
          note: draft.note,
          donorBookId: draft.donorBookId === '' ? null : draft.donorBookId,
        },
        { onSuccess: (piece) => goTo('offcuts', piece.id) },
      );
    } catch {
      // Said below its field.
    }
  }

  return (
    <article className="piece-pane">
      <div className="piece-pane-head">
        <h2>A new piece</h2>
        <Button look="quiet" onClick={() => goTo('offcuts')}>
          Close
        </Button>
      </div>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <div className="fields">
          <SelectField
            name="Kind"
            value={draft.kind}
            onChange={set('kind')}
            options={pieceKinds.map((value) => ({ value, words: value }))}
          />
          <TextField name="Height" value={draft.height} onChange={set('height')} trouble={at('heightMm')} />
          <TextField name="Width" value={draft.width} onChange={set('width')} trouble={at('widthMm')} />
          <SelectField name="Grain runs" value={draft.grain} onChange={set('grain')} options={grainOptions} />
          <TextField name="Colour in words" value={draft.colour} onChange={set('colour')} hint="dark olive green" />
          <TextField
            name="Colour as Lab, D50"
            value={draft.lab}
            onChange={(event) => setDraft({ ...draft, lab: event.target.value, measured: '' })}
            hint="L*, a*, b*, where measured"
            trouble={at('lab')}
          />
          <SelectField name="Pattern" value={draft.pattern} onChange={set('pattern')} options={patternOptions} />
          <TextField
            name="Years"
            value={draft.years}
            onChange={set('years')}
            hint="1862, or 1860–65"
            trouble={at('yearFrom', 'yearTo')}
          />
          <TextField name="Place" value={draft.place} onChange={set('place')} />
          <SelectField
            name="Donor"
            value={draft.donorBookId}
            onChange={set('donorBookId')}
            trouble={at('donorBookId')}
            options={[
              { value: '', words: 'none, or not known' },
              ...(donors.data ?? []).map(({ id, title, shelfMark }) => ({
                value: id,
                words: shelfMark === null ? title : `${shelfMark} ${title}`,
              })),
            ]}
          />
        </div>
        <SwatchPicker
          onPicked={({ words, lab, measured }) =>
            setDraft({ ...draft, colour: draft.colour || words, lab: labWords(lab), measured })
          }
        />
        <ColourFromPhotograph onMeasured={(lab, measured) => setDraft({ ...draft, lab: labWords(lab), measured })} />
        <LongField name="Note" value={draft.note} onChange={set('note')} />
        {save.error && (trouble?.field === undefined || !known.includes(trouble.field)) && (
          <TroubleNotice error={save.error} />
        )}
        <div className="actions piece-actions">
          <Button look="main" type="submit">
            Keep
          </Button>
          <Button onClick={() => goTo('offcuts')}>Cancel</Button>
        </div>
      </form>
    </article>
  );
}
