/** Which piece for which book: the repairs that are open, the drawer ranked for one of them, or shared out among all. */
import { useMutation, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { MatchAnswer, PieceLine, RepairLine, TogetherAnswer } from '../../core/contract/offcuts.ts';
import { verdictOf } from '../../core/salvage/match.ts';
import type { PieceKind } from '../../core/salvage/piece.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { addressOf, goTo } from '../app/route.ts';
import { CutSheetDrawing } from '../drawings/cuts.tsx';
import { Beside } from '../parts/beside.tsx';
import { Button, TextField } from '../parts/controls.tsx';
import { EmptyRoom, Mark, TroubleNotice } from '../parts/notices.tsx';
import { shortened } from '../parts/words.ts';
import { OffcutsHead } from './head.tsx';
import { ColourFromPhotograph } from './photograph.tsx';
import { Swatch } from './swatch.tsx';
import { labOf, labWords, useLengths } from './words.ts';

const mostTogether = 60;

export function MatchView({ repair }: Readonly<{ repair: string | null }>) {
  const repairs = useQuery(ask.offcuts.repairs.queryOptions());
  const together = useMutation({
    mutationFn: (lines: readonly RepairLine[]) =>
      client.offcuts.together({ repairs: lines.map(({ bookId, kind }) => ({ bookId, kind })) }),
  });
  if (repairs.error) return <TroubleNotice error={repairs.error} again={() => void repairs.refetch()} />;
  if (!repairs.data) return null;
  const open = repairs.data.find((line) => keyOf(line) === repair) ?? null;
  return (
    <Beside details={open === null ? null : <Ranking key={keyOf(open)} line={open} />} label="Pieces for the book">
      <div className="offcuts">
        <OffcutsHead view="match">
          {repairs.data.length > 1 && (
            <Button disabled={together.isPending} onClick={() => together.mutate(repairs.data.slice(0, mostTogether))}>
              {together.isPending ? 'Sharing out …' : 'Share the drawer out among all'}
            </Button>
          )}
        </OffcutsHead>
        {together.error && <TroubleNotice error={together.error} />}
        {together.data && <Together answer={together.data} />}
        {repairs.data.length === 0 ? (
          <EmptyRoom title="No book needs a piece">
            <p>When a treatment on the Shelf asks for cloth, leather or old paper, the book is listed here.</p>
          </EmptyRoom>
        ) : (
          <section>
            <h2>Books that need a piece</h2>
            <ul className="plain-list">
              {repairs.data.map((line) => (
                <li key={keyOf(line)} className={line === open ? 'row-current' : undefined}>
                  <LookChip line={line} />
                  <div>
                    <a
                      className="book-title"
                      href={addressOf('offcuts', `match~${keyOf(line)}`)}
                      aria-label={`${line.title}: ${line.kind}`}
                      aria-current={line === open ? 'true' : undefined}
                    >
                      {line.title}
                    </a>
                    <p className="small soft">
                      {[line.kind, line.what, line.colour, line.pattern, line.date].filter(Boolean).join('; ')}
                    </p>
                  </div>
                </li>
              ))}
            </ul>
          </section>
        )}
      </div>
    </Beside>
  );
}

function keyOf({ bookId, kind }: Pick<RepairLine, 'bookId' | 'kind'>): string {
  return `${bookId}.${kind}`;
}

function LookChip({ line }: Readonly<{ line: RepairLine }>) {
  const pattern = line.pattern as PieceLine['pattern'];
  return (
    <Swatch
      piece={{ heightMm: 30, widthMm: 22, grain: null, lab: line.lab, shownLab: line.shownLab, pattern }}
      scale={1}
      most={30}
    />
  );
}

function Ranking({ line }: Readonly<{ line: RepairLine }>) {
  const input: { bookId: string; kind: PieceKind } = { bookId: line.bookId, kind: line.kind };
  const match = useQuery(ask.offcuts.match.queryOptions({ input }));
  return (
    <article className="piece-pane">
      <div className="piece-pane-head">
        <h2>{line.title}</h2>
        <Button look="quiet" onClick={() => goTo('offcuts', 'match')}>
          Close
        </Button>
      </div>
      <p>
        {line.kind} for {line.what}
      </p>
      <OwnColour line={line} />
      {match.error && <TroubleNotice error={match.error} again={() => void match.refetch()} />}
      {match.isPending && <p role="status">Laying the parts on the pieces …</p>}
      {match.data && <Matches answer={match.data} />}
    </article>
  );
}

/** The book's own colour, typed or measured in a photograph: kept with the book, and what its pieces are ranked by. */
function OwnColour({ line }: Readonly<{ line: RepairLine }>) {
  const { bookId, kind, lab, measured, colour } = line;
  const [typed, setTyped] = useState(labWords(lab));
  const [trouble, setTrouble] = useState<string | undefined>();
  const keep = useChange(client.offcuts.keepColour, ({ title }) => `Colour kept with “${shortened(title)}”.`);
  const side = kind === 'endpaper' ? 'endpapers' : 'covering';
  function put(next: RepairLine['lab'], how: string): void {
    setTrouble(undefined);
    setTyped(labWords(next));
    keep.mutate({ bookId, kind, lab: next === null ? null : [...next], measured: how });
  }
  return (
    <>
      <form
        className="lab-line"
        onSubmit={(event) => {
          event.preventDefault();
          try {
            put(labOf(typed), '');
          } catch (error) {
            setTrouble(readTrouble(error).sentence);
          }
        }}
      >
        <TextField
          name={`Colour of the ${side} as Lab, D50`}
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
          trouble={trouble}
          hint={colourHint(lab, measured, colour)}
        />
        <Button type="submit">Keep, rank by it</Button>
      </form>
      <ColourFromPhotograph subject={{ kind: 'book', bookId }} onMeasured={put} />
      {keep.error && <TroubleNotice error={keep.error} />}
    </>
  );
}

function colourHint(lab: RepairLine['lab'], measured: string, colour: string): string {
  if (lab !== null) return `${measured}. Emptied, it is forgotten.`;
  return colour === '' ? 'L*, a*, b*, where measured' : `Now reckoned from “${colour}”.`;
}

function Matches({ answer }: Readonly<{ answer: MatchAnswer }>) {
  const { repair, matches, misfits } = answer;
  const words = useLengths();
  const reserve = useChange(client.offcuts.reserve, (piece) => `Kept for ${piece.reservedFor?.title ?? 'the book'}.`);
  const release = useChange(client.offcuts.release, () => 'Released.');
  return (
    <>
      {matches.length === 0 && (
        <p>
          No piece in the drawer yields it. <a href={addressOf('offcuts', 'cut')}>Cut it from new material.</a>
        </p>
      )}
      {(reserve.error ?? release.error) && <TroubleNotice error={reserve.error ?? release.error} />}
      <ol className="matches">
        {matches.map(({ piece, points, reasons, sheet }, index) => (
          <li key={piece.id} className="match">
            <h3>
              <span className="match-place">{index + 1}</span> <a href={addressOf('offcuts', piece.id)}>{piece.name}</a>
            </h3>
            <div className="match-pictures">
              <Swatch piece={piece} scale={0.4} most={120} />
              <CutSheetDrawing sheet={sheet} words={words} cuts={false} />
            </div>
            <ul className="reasons">
              {reasons.map(({ of, points: own, words: because }) => (
                <li key={of}>
                  <span className="soft">{of}</span> {because} <span className="soft">({round(own)})</span>
                </li>
              ))}
            </ul>
            <div className="actions">
              <span>
                <strong>{verdictOf(points)}</strong> <span className="soft">({points} points, fewer is better)</span>
              </span>
              {piece.reservedFor ? (
                <Button look="quiet" onClick={() => release.mutate({ pieceId: piece.id })}>
                  Kept for this book; release
                </Button>
              ) : (
                <Button
                  aria-label={`Keep it for this book: ${piece.name}`}
                  onClick={() => reserve.mutate({ pieceId: piece.id, bookId: repair.bookId })}
                >
                  Keep it for this book
                </Button>
              )}
            </div>
          </li>
        ))}
      </ol>
      {misfits.length > 0 && (
        <details>
          <summary>{misfits.length} that will not do</summary>
          <ul className="plain-list">
            {misfits.map(({ pieceId, name, because }) => (
              <li key={pieceId}>
                <span>
                  {name}: {because}
                </span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function round(points: number): number {
  return Math.round(points * 10) / 10;
}

function Together({ answer }: Readonly<{ answer: TogetherAnswer }>) {
  const given = answer.given.filter(({ piece }) => piece !== null);
  const reserve = useChange(
    async (lines: typeof given) => {
      for (const { piece, repair } of lines) {
        if (piece && piece.reservedFor === null)
          await client.offcuts.reserve({ pieceId: piece.id, bookId: repair.bookId });
      }
      return lines.length;
    },
    (count) => `Kept ${count} ${count === 1 ? 'piece' : 'pieces'}.`,
  );
  return (
    <section className="together">
      <h2>Shared out</h2>
      <p>
        {given.length} of {answer.given.length} repairs get a piece.{' '}
        {answer.proven ? 'No other sharing out has fewer points.' : 'A better sharing out may exist.'}
      </p>
      <ul className="plain-list">
        {[...given, ...answer.given.filter(({ piece }) => piece === null)].map(({ repair, piece, match, words }) => (
          <li key={keyOf(repair)}>
            {piece ? <Swatch piece={piece} scale={0.12} most={36} /> : <Mark kind="waiting" />}
            <div>
              <span className="book-title">{repair.title}</span>
              <p className="small soft">
                {piece && match ? `${piece.name}: ${verdictOf(match.points)}. ` : ''}
                {words}
              </p>
            </div>
          </li>
        ))}
      </ul>
      {reserve.error && <TroubleNotice error={reserve.error} />}
      <Button disabled={given.length === 0 || reserve.isPending} onClick={() => reserve.mutate(given)}>
        Keep all these pieces
      </Button>
    </section>
  );
}
