/** A cutting plan: what it costs beside what it must cost at least, each sheet drawn with its cuts in order, and its acceptance. */
import { useState } from 'react';
import type { PlannedCut } from '../../core/contract/offcuts.ts';
import { partWords, pieceGroups, pieceLetter, readyWith, sayCut } from '../../core/cutting/picture.ts';
import type { CutSheet } from '../../core/cutting/stock.ts';
import { client } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { CutSheetDrawing } from '../drawings/cuts.tsx';
import { Button } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { Caution, Mark, Notice, TroubleNotice } from '../parts/notices.tsx';
import { moneyWords } from '../parts/words.ts';
import { useLengths } from './words.ts';

export function CutPlanView({ planned, onAccepted }: Readonly<{ planned: PlannedCut; onAccepted: () => void }>) {
  const { plan, cautions } = planned;
  const { currency } = useHabits();
  const [printTrouble, setPrintTrouble] = useState<unknown>(null);
  const accept = useChange(
    client.offcuts.acceptCut,
    ({ pieces, remnants }) =>
      `Cut ${pieces} ${pieces === 1 ? 'piece' : 'pieces'}; ${remnants} ${remnants === 1 ? 'remnant' : 'remnants'} into the drawer.`,
  );
  const pieces = plan.sheets.reduce((sum, sheet) => sum + sheet.pieces.length, 0);
  const share = (area: number) => (plan.areas.stock === 0 ? 0 : Math.round((area / plan.areas.stock) * 100));

  async function print(): Promise<void> {
    setPrintTrouble(null);
    try {
      saveFile(await client.offcuts.printCut({ planId: planned.planId }));
    } catch (error) {
      setPrintTrouble(error);
    }
  }

  return (
    <>
      <p>
        {pieces} {pieces === 1 ? 'piece' : 'pieces'} out of {plan.sheets.filter((sheet) => sheet.offcut).length} offcuts
        and {plan.sheets.filter((sheet) => !sheet.offcut).length} new. {share(plan.areas.pieces)} % used,{' '}
        {share(plan.areas.remnants)} % kept, {share(plan.areas.waste)} % waste.
      </p>
      <p>
        {plan.costMinor === plan.boundMinor ? (
          <>
            <Mark kind="settled" /> New material for {moneyWords(plan.costMinor, currency)}; it cannot be done for less.
          </>
        ) : (
          <>
            New material for {moneyWords(plan.costMinor, currency)}; by area alone it needs at least{' '}
            {moneyWords(plan.boundMinor, currency)}.
          </>
        )}
      </p>
      {plan.uncut.map(({ wantedId, name, count, because }) => (
        <Notice key={wantedId} kind="caution">
          <p>
            Not cut: {count} × {name}; {because}.
          </p>
        </Notice>
      ))}
      {cautions.map((sentence) => (
        <Caution key={sentence} sentence={`${sentence} Follow your local rules.`} />
      ))}
      <div className="actions">
        <Button
          look="main"
          disabled={accept.isPending || pieces === 0}
          onClick={() => accept.mutate({ planId: planned.planId }, { onSuccess: onAccepted })}
        >
          It is cut: book it
        </Button>
        <Button onClick={() => void print()}>Print the cutting sheet</Button>
      </div>
      {plan.remarks.length > 0 && (
        <Notice>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a long list is scrolled by keyboard too */}
          <section className="cut-remarks" aria-label="Remarks on the plan" tabIndex={0}>
            <ul>
              {plan.remarks.map((remark) => (
                <li key={remark}>{remark}</li>
              ))}
            </ul>
          </section>
        </Notice>
      )}
      {accept.error && <TroubleNotice error={accept.error} />}
      {printTrouble !== null && <TroubleNotice error={printTrouble} />}
      {plan.sheets.map((sheet, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: sheets of one stock differ only by their place in the plan
        <SheetPart key={index} sheet={sheet} number={index + 1} />
      ))}
    </>
  );
}

/** Long lists of cuts are only worked out when they are asked for, so that a plan of many sheets stands at once. */
const fewCuts = 12;

function SheetPart({ sheet, number }: Readonly<{ sheet: CutSheet; number: number }>) {
  const words = useLengths();
  const [open, setOpen] = useState(sheet.cuts.length <= fewCuts);
  return (
    <section className="cut-part" aria-label={`Sheet ${number}`}>
      <h2>
        {number}. {sheet.name}
      </h2>
      <CutSheetDrawing sheet={sheet} words={words} />
      <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>
          {sheet.cuts.length} {sheet.cuts.length === 1 ? 'cut' : 'cuts'}, {sheet.turns}{' '}
          {sheet.turns === 1 ? 'turn' : 'turns'} of the work
        </summary>
        {open && <Steps sheet={sheet} />}
      </details>
      <ul className="cut-names">
        {pieceGroups(sheet).map(({ letters, name, heightMm, widthMm }) => (
          <li key={letters}>
            <strong>{letters}</strong> {name}, {words(heightMm)} × {words(widthMm)}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Steps({ sheet }: Readonly<{ sheet: CutSheet }>) {
  const words = useLengths();
  return (
    <ol className="cut-steps">
      {sheet.cuts.map((cut) => {
        const ready = readyWith(cut, sheet).map((piece) => pieceLetter(piece - 1));
        return (
          <li key={cut.number}>
            Through {partWords(cut, sheet, words)}: {sayCut(cut, words(cut.atMm))}
            {cut.trim && ', to trim'}
            {ready.length > 0 && <strong>, {ready.join(' and ')} ready</strong>}
          </li>
        );
      })}
    </ol>
  );
}
