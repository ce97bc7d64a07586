/** One piece: what it is, kept as it is typed; the books it would suit; where it came from and what became of it. */
import { useQuery } from '@tanstack/react-query';
import type { GrainPattern } from '../../core/book/book.ts';
import type { PieceLine, PieceOpened } from '../../core/contract/offcuts.ts';
import { verdictOf } from '../../core/salvage/match.ts';
import { type PieceKind, pieceKinds } from '../../core/salvage/piece.ts';
import { ask, client } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { addressOf, goTo } from '../app/route.ts';
import { Button } from '../parts/controls.tsx';
import { Measure } from '../parts/measure.tsx';
import { Mark, TroubleNotice } from '../parts/notices.tsx';
import { Photographs } from '../parts/photographs.tsx';
import { SavedSelect, SavedText } from '../parts/saved.tsx';
import { dayWords } from '../parts/words.ts';
import { ColourFromPhotograph } from './photograph.tsx';
import { grainOptions, patternOptions } from './piece-form.tsx';
import { Swatch } from './swatch.tsx';
import { SwatchPicker } from './swatch-picker.tsx';
import { labOf, labWords, lengthOf, useLengths, yearsOf, yearsWords } from './words.ts';

export function PiecePane({ id }: Readonly<{ id: string }>) {
  const opened = useQuery(ask.offcuts.open.queryOptions({ input: { id } }));
  return (
    <article className="piece-pane">
      {opened.error && <TroubleNotice error={opened.error} again={() => void opened.refetch()} />}
      {opened.isPending && <p role="status">Looking what it would suit …</p>}
      {opened.data && <Opened opened={opened.data} />}
      {opened.error && <Button onClick={() => goTo('offcuts')}>Close</Button>}
    </article>
  );
}

function Opened({ opened }: Readonly<{ opened: PieceOpened }>) {
  const { piece, suits } = opened;
  const remove = useChange(client.offcuts.remove, ({ name }) => `Took out ${name}.`);
  const release = useChange(client.offcuts.release, () => 'Released.');
  return (
    <>
      <div className="piece-pane-head">
        <h2>{piece.name}</h2>
        <Button look="quiet" onClick={() => goTo('offcuts')}>
          Close
        </Button>
      </div>
      <div className="piece-look">
        <Swatch piece={piece} scale={0.8} most={190} />
        <dl className="offcuts-facts">
          <dt>Height</dt>
          <dd>
            <Measure mm={piece.heightMm} />
          </dd>
          <dt>Width</dt>
          <dd>
            <Measure mm={piece.widthMm} />
          </dd>
          <dt>Colour</dt>
          <dd>{piece.lab === null ? 'by its words only' : `Lab ${labWords(piece.lab)}, D50. ${piece.measured}`}</dd>
          <dt>From</dt>
          <dd>
            {piece.donor ? (
              <a href={addressOf('shelf', piece.donor.id)}>{piece.donor.title}</a>
            ) : (
              (piece.material ?? 'not known')
            )}
          </dd>
        </dl>
      </div>
      <Standing piece={piece} onRelease={() => release.mutate({ pieceId: piece.id })} />
      {release.error && <TroubleNotice error={release.error} />}
      {piece.usedAt === null && <Suits piece={piece} suits={suits} />}
      <Trace opened={opened} />
      <Photographs heading="Photographs" subject={{ kind: 'piece', pieceId: piece.id }} />
      {piece.usedAt === null && <Fields piece={piece} />}
      {piece.usedAt === null && (
        <Button look="harm" onClick={() => remove.mutate({ id: piece.id }, { onSuccess: () => goTo('offcuts') })}>
          Take out of the drawer
        </Button>
      )}
      {remove.error && <TroubleNotice error={remove.error} />}
    </>
  );
}

function Standing({ piece, onRelease }: Readonly<{ piece: PieceLine; onRelease: () => void }>) {
  const { timeZone } = useHabits();
  if (piece.usedAt !== null) {
    return (
      <p>
        <Mark kind="settled" /> {piece.usedFor ? 'In ' : 'Cut up '}
        {piece.usedFor && <a href={addressOf('shelf', piece.usedFor.id)}>{piece.usedFor.title}</a>}
        {piece.usedFor ? ' since ' : 'on '}
        {dayWords(piece.usedAt, timeZone)}
      </p>
    );
  }
  if (piece.reservedFor === null) return null;
  return (
    <p>
      <Mark kind="waiting" /> Kept for <a href={addressOf('shelf', piece.reservedFor.id)}>{piece.reservedFor.title}</a>{' '}
      <Button look="quiet" onClick={onRelease}>
        Release
      </Button>
    </p>
  );
}

function Suits({ piece, suits }: Readonly<{ piece: PieceLine; suits: PieceOpened['suits'] }>) {
  const reserve = useChange(client.offcuts.reserve, (line) => `Kept for ${line.reservedFor?.title ?? 'the book'}.`);
  return (
    <section>
      <h3>Books it would suit</h3>
      {suits.length === 0 && <p className="soft">None of those that are to be mended.</p>}
      <ul className="plain-list">
        {suits.map(({ bookId, title, what, words, points }) => (
          <li key={bookId}>
            <div>
              <a className="book-title" href={addressOf('offcuts', `match~${bookId}.${piece.kind}`)}>
                {title}
              </a>
              <p className="small soft">
                {verdictOf(points)} for the {what}: {words}
              </p>
            </div>
            {piece.reservedFor === null && (
              <Button
                look="quiet"
                aria-label={`Keep for ${title}`}
                onClick={() => reserve.mutate({ pieceId: piece.id, bookId })}
              >
                Keep
              </Button>
            )}
          </li>
        ))}
      </ul>
      {reserve.error && <TroubleNotice error={reserve.error} />}
    </section>
  );
}

function Trace({ opened: { cameFrom, became } }: Readonly<{ opened: PieceOpened }>) {
  if (cameFrom.length + became.length === 0) return null;
  return (
    <section>
      <h3>Followed</h3>
      <ul className="plain-list">
        {cameFrom.map((piece) => (
          <li key={piece.id}>
            <span>
              Cut from <a href={addressOf('offcuts', piece.id)}>{piece.name}</a>
            </span>
          </li>
        ))}
        {became.map((piece) => (
          <li key={piece.id}>
            <span>
              Became <a href={addressOf('offcuts', piece.id)}>{piece.name}</a>
              {piece.usedFor ? (
                <>
                  , now in <a href={addressOf('shelf', piece.usedFor.id)}>{piece.usedFor.title}</a>
                </>
              ) : piece.usedAt === null ? (
                ', in the drawer'
              ) : (
                ', used'
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

type Patch = Partial<Omit<Parameters<typeof client.offcuts.save>[0], 'id'>>;

function Fields({ piece }: Readonly<{ piece: PieceLine }>) {
  const { units } = useHabits();
  const words = useLengths();
  const save = useChange(client.offcuts.save);
  const keep = (patch: Patch) => {
    const { id, kind, heightMm, widthMm, grain, colour, lab, measured, pattern, yearFrom, yearTo, place, note } = piece;
    const same = { kind, heightMm, widthMm, grain, colour, lab, measured, pattern, yearFrom, yearTo, place, note };
    return save.mutateAsync({ ...same, donorBookId: piece.donor?.id ?? null, ...patch, id });
  };
  return (
    <section>
      <h3>Description</h3>
      <div className="fields">
        <SavedSelect
          name="Kind"
          value={piece.kind}
          options={pieceKinds.map((value) => ({ value, words: value }))}
          keep={(kind: PieceKind) => keep({ kind })}
        />
        <SavedText
          name="Height"
          value={words(piece.heightMm)}
          keep={async (text) => keep({ heightMm: lengthOf(text, units) })}
        />
        <SavedText
          name="Width"
          value={words(piece.widthMm)}
          keep={async (text) => keep({ widthMm: lengthOf(text, units) })}
        />
        <SavedSelect
          name="Grain runs"
          value={piece.grain ?? ''}
          options={grainOptions}
          keep={(grain) => keep({ grain: grain === '' ? null : (grain as 'height' | 'width') })}
        />
        <SavedText name="Colour in words" value={piece.colour} keep={(colour) => keep({ colour })} />
        <SavedText
          name="Colour as Lab, D50"
          value={labWords(piece.lab)}
          keep={async (text) => keep({ lab: labOf(text), measured: '' })}
        />
        <SavedSelect
          name="Pattern"
          value={piece.pattern ?? ''}
          options={patternOptions}
          keep={(pattern) => keep({ pattern: pattern === '' ? null : (pattern as GrainPattern) })}
        />
        <SavedText name="Years" value={yearsWords(piece)} keep={async (text) => keep(yearsOf(text))} />
        <SavedText name="Place" value={piece.place} keep={(place) => keep({ place })} />
      </div>
      <SwatchPicker onPicked={({ lab, measured }) => void keep({ lab, measured })} />
      <ColourFromPhotograph
        subject={{ kind: 'piece', pieceId: piece.id }}
        onMeasured={(lab, measured) => void keep({ lab, measured })}
      />
      {save.error && <TroubleNotice error={save.error} />}
      <SavedText name="Note" long value={piece.note} keep={(note) => keep({ note })} />
    </section>
  );
}
