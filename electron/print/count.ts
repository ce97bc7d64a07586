/** A sheet to carry to the cupboard: every material by its place with what the ledger says, lot by lot, and room for what is there. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { LotLine, StockLine } from '../../core/contract/stockroom.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { exactWords, toMillionths } from '../../core/stock/ledger.ts';
import { type Letterhead, paragraph, printSheet, section, table } from './sheet.ts';

type Counting = Readonly<{ today: string; lines: readonly StockLine[]; lots: readonly LotLine[] }>;

/** The count sheet, portrait. Refuses an empty cupboard. */
export async function printCount({ today, lines, lots }: Counting, workshop: Letterhead): Promise<Result<FileAnswer>> {
  if (lines.length === 0) return refuse('There is nothing in the cupboard to count.');
  const byPlace = [...Map.groupBy(lines, ({ material }) => material.place)].toSorted(([one], [other]) =>
    one.localeCompare(other),
  );
  const bytes = await printSheet({
    title: 'Count of the cupboard',
    lead: `As the ledger stood on ${today}`,
    workshop,
    body: [
      paragraph('Count what is there. Where it differs, note what became of the difference: the ledger asks for it.'),
      ...byPlace.flatMap(([place, members]) => [
        section(place || 'No place named'),
        table(
          [
            { head: 'Material', share: 3 },
            { head: 'Lot', share: 2.4 },
            { head: 'Ledger', share: 1.2, align: 'right' },
            { head: 'Counted', share: 1.2 },
            { head: 'What became of the difference', share: 3 },
          ],
          members.flatMap(({ material, onHand }) => {
            const own = lots.filter((lot) => lot.materialId === material.id && lot.quantity !== 0);
            const words = (quantity: number) => exactWords(toMillionths(quantity), material.unit);
            if (!own.some(({ id }) => id !== null)) return [[material.name, '', words(onHand), '……', '']];
            return own.map((lot, index) => [
              index === 0 ? material.name : '',
              lotCell(lot),
              words(lot.quantity),
              '……',
              '',
            ]);
          }),
        ),
      ]),
    ],
  });
  return ok({ fileName: `count-${today}.pdf`, mediaType: 'application/pdf', base64: bytes.toString('base64') });
}

function lotCell({ id, receivedOn, number, bestBefore }: LotLine): string {
  if (id === null) return 'in no lot';
  return [number === '' ? receivedOn : `no. ${number}`, bestBefore === null ? '' : `best before ${bestBefore}`]
    .filter(Boolean)
    .join(', ');
}
