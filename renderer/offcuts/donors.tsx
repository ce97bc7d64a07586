/** Wrecks marked for salvage: what each is likely to yield, corrected with a ruler, and put into the drawer. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { DonorLine } from '../../core/contract/offcuts.ts';
import { labOfWords } from '../../core/salvage/colour-words.ts';
import { type PieceKind, pieceKinds } from '../../core/salvage/piece.ts';
import type { Yield } from '../../core/salvage/yields.ts';
import { bladeCaution, dustCaution } from '../../core/treatment/operations-basic.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf, goTo } from '../app/route.ts';
import { Beside } from '../parts/beside.tsx';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Caution, EmptyRoom, Notice, TroubleNotice } from '../parts/notices.tsx';
import { OffcutsHead } from './head.tsx';
import { patternOptions } from './piece-form.tsx';
import { Swatch } from './swatch.tsx';
import { lengthOf, useLengths, yearsOf, yearsWords } from './words.ts';

export function Donors({ current }: Readonly<{ current: string | null }>) {
  const donors = useQuery(ask.offcuts.donors.queryOptions());
  if (donors.error) return <TroubleNotice error={donors.error} again={() => void donors.refetch()} />;
  if (!donors.data) return null;
  const open = donors.data.find(({ id }) => id === current) ?? null;
  return (
    <Beside details={open && <Donor key={open.id} donor={open} />} label="The wreck">
      <div className="offcuts">
        <OffcutsHead view="wrecks" />
        {donors.data.length === 0 ? (
          <EmptyRoom title="No wreck is marked for salvage">
            <p>
              A common, incomplete book past mending can give its cloth and papers to better ones. Mark it for salvage
              on the Shelf; what is rare, complete or under a hazard is never broken.
            </p>
            <a href={addressOf('shelf')}>To the Shelf</a>
          </EmptyRoom>
        ) : (
          <ul className="plain-list">
            {donors.data.map((donor) => (
              <li key={donor.id} className={donor === open ? 'row-current' : undefined}>
                <Swatch
                  piece={{
                    heightMm: 30,
                    widthMm: 22,
                    grain: null,
                    lab: null,
                    shownLab: labOfWords(donor.colour),
                    pattern: null,
                  }}
                  scale={1}
                  most={30}
                />
                <div>
                  <a
                    className="book-title"
                    href={addressOf('offcuts', `wrecks~${donor.id}`)}
                    aria-current={donor === open ? 'true' : undefined}
                  >
                    {donor.title}
                  </a>
                  <p className="small soft">
                    {[donor.shelfMark, donor.binding, donor.colour, donor.date].filter(Boolean).join('; ')};{' '}
                    {donor.pieces === 0
                      ? 'nothing taken from it yet'
                      : `${donor.pieces} ${donor.pieces === 1 ? 'piece' : 'pieces'} taken from it`}
                  </p>
                </div>
              </li>
            ))}
          </ul>
        )}
      </div>
    </Beside>
  );
}

function Donor({ donor }: Readonly<{ donor: DonorLine }>) {
  const yields = useQuery(ask.offcuts.yields.queryOptions({ input: { bookId: donor.id } }));
  return (
    <article className="piece-pane">
      <div className="piece-pane-head">
        <h2>{donor.title}</h2>
        <Button look="quiet" onClick={() => goTo('offcuts', 'wrecks')}>
          Close
        </Button>
      </div>
      <p>
        <a href={addressOf('shelf', donor.id)}>On the Shelf</a>
      </p>
      {donor.blocked !== null ? (
        <Notice kind="harm">
          <p>{donor.blocked}</p>
        </Notice>
      ) : (
        <>
          <Caution sentence={`${bladeCaution.sentence} ${dustCaution.sentence} Follow your local rules.`} />
          {yields.error && <TroubleNotice error={yields.error} again={() => void yields.refetch()} />}
          {yields.data && <Yields donor={donor} found={yields.data} />}
        </>
      )}
    </article>
  );
}

type Line = Readonly<{ key: number; what: string; kind: PieceKind; height: string; width: string; taken: boolean }>;

function Yields({ donor, found }: Readonly<{ donor: DonorLine; found: readonly Yield[] }>) {
  const { units } = useHabits();
  const words = useLengths();
  const [lines, setLines] = useState<readonly Line[]>(() =>
    found.map(({ what, kind, heightMm, widthMm }, key) => ({
      key,
      what,
      kind,
      height: words(heightMm),
      width: words(widthMm),
      taken: true,
    })),
  );
  const [shared, setShared] = useState({
    colour: donor.colour,
    pattern: donor.pattern ?? '',
    years: yearsWords(donor),
    place: '',
  });
  const [local, setLocal] = useState<string | null>(null);
  const save = useChange(
    client.offcuts.breakDonor,
    ({ title, pieces }) => `${pieces} ${pieces === 1 ? 'piece' : 'pieces'} of ${title} in the drawer.`,
  );
  const change = (key: number, patch: Partial<Line>) =>
    setLines(lines.map((line) => (line.key === key ? { ...line, ...patch } : line)));
  const taken = lines.filter((line) => line.taken);

  function breakUp(): void {
    setLocal(null);
    try {
      const years = yearsOf(shared.years);
      const pieces = taken.map(({ what, kind, height, width }) => ({
        what,
        kind,
        heightMm: lengthOf(height, units),
        widthMm: lengthOf(width, units),
        grain: 'height' as const,
        // The colour and the pattern are the covering's; the papers are described in the drawer.
        colour: kind === 'endpaper' ? '' : shared.colour,
        lab: null,
        measured: '',
        pattern: kind === 'endpaper' || shared.pattern === '' ? null : (shared.pattern as never),
        ...years,
        place: shared.place,
        note: '',
      }));
      save.mutate({ bookId: donor.id, pieces }, { onSuccess: () => goTo('offcuts') });
    } catch (error) {
      setLocal(readTrouble(error).sentence);
    }
  }

  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        breakUp();
      }}
    >
      <p>What it is likely to yield, from its size. Measure what you have and correct it; leave out what is spoiled.</p>
      {lines.map(({ key, what, kind, height, width, taken: isTaken }) => (
        <fieldset key={key} className="yield">
          <legend>
            <label>
              <input
                type="checkbox"
                checked={isTaken}
                onChange={(event) => change(key, { taken: event.target.checked })}
              />{' '}
              {what || 'another piece'}
            </label>
          </legend>
          {isTaken && (
            <div className="fields yield-fields">
              {key >= found.length && (
                <TextField name="What" value={what} onChange={(event) => change(key, { what: event.target.value })} />
              )}
              <SelectField
                name="Kind"
                value={kind}
                onChange={(event) => change(key, { kind: event.target.value as PieceKind })}
                options={pieceKinds.map((value) => ({ value, words: value }))}
              />
              <TextField
                name="Height"
                value={height}
                onChange={(event) => change(key, { height: event.target.value })}
              />
              <TextField name="Width" value={width} onChange={(event) => change(key, { width: event.target.value })} />
            </div>
          )}
        </fieldset>
      ))}
      <Button
        onClick={() =>
          setLines([...lines, { key: lines.length, what: '', kind: 'book cloth', height: '', width: '', taken: true }])
        }
      >
        Another piece
      </Button>
      <div className="fields yield-shared">
        <TextField
          name="Colour of the covering"
          value={shared.colour}
          onChange={(event) => setShared({ ...shared, colour: event.target.value })}
        />
        <SelectField
          name="Pattern of the covering"
          value={shared.pattern}
          onChange={(event) => setShared({ ...shared, pattern: event.target.value })}
          options={patternOptions}
        />
        <TextField
          name="Years"
          value={shared.years}
          placeholder={donor.date}
          onChange={(event) => setShared({ ...shared, years: event.target.value })}
        />
        <TextField
          name="Place in the drawer"
          value={shared.place}
          onChange={(event) => setShared({ ...shared, place: event.target.value })}
        />
      </div>
      {local !== null && (
        <Notice kind="caution">
          <p role="alert">{local}</p>
        </Notice>
      )}
      {save.error && <TroubleNotice error={save.error} />}
      <div className="actions piece-actions">
        <Button look="main" type="submit" disabled={taken.length === 0 || save.isPending}>
          Break it: {taken.length} {taken.length === 1 ? 'piece' : 'pieces'}
        </Button>
      </div>
    </form>
  );
}
