/** A period of the day-book on paper: the figures of its page, none left out. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Summary } from '../../core/contract/daybook.ts';
import { ok, type Result } from '../../core/result.ts';
import { amountWords, toMillionths } from '../../core/stock/ledger.ts';
import { minutesWords } from '../../core/units/durations.ts';
import { type Letterhead, paragraph, printSheet, section, table } from './sheet.ts';

export async function printSummary(summary: Summary, workshop: Letterhead): Promise<Result<FileAnswer>> {
  const { from, to, currency } = summary;
  const format = new Intl.NumberFormat('en-GB', { style: 'currency', currency });
  const money = (minor: number) => format.format(minor / 10 ** (format.resolvedOptions().maximumFractionDigits ?? 2));
  const day = (date: string) =>
    new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeZone: 'UTC' }).format(Date.parse(`${date}T00:00:00Z`));
  const right = 'right' as const;
  const part = (title: string, empty: string, rows: readonly unknown[], body: () => ReturnType<typeof table>) => [
    section(title),
    rows.length === 0 ? paragraph(empty) : body(),
  ];
  const labour = summary.labourMinor === null ? '' : `, ${money(summary.labourMinor)} at your rate`;
  const books = summary.finished.length === 1 ? '1 book' : `${summary.finished.length} books`;
  const bytes = await printSheet({
    title: 'Day-book',
    lead: from === to ? day(from) : `${day(from)} to ${day(to)}`,
    workshop,
    body: [
      paragraph(
        `${minutesWords(summary.minutes)} of hand-work${labour}; ${books} finished; materials used ${money(summary.materialsMinor)}, spoilt ${money(summary.wastedMinor)}.`,
      ),
      ...part('Hours by operation', 'No time was written down.', summary.byOperation, () =>
        table(
          [
            { head: 'Operation', share: 4 },
            { head: 'Times', share: 1, align: right },
            { head: 'Altogether', share: 1.4, align: right },
          ],
          summary.byOperation.map((row) => [row.operation, String(row.times), minutesWords(row.minutes)]),
        ),
      ),
      ...part('Books', 'No book was worked on.', summary.byBook, () =>
        table(
          [
            { head: 'Book', share: 4 },
            { head: 'Time', share: 1.2, align: right },
            { head: 'Materials', share: 1.2, align: right },
            { head: 'Finished', share: 1.2 },
          ],
          summary.byBook.map((row) => [
            row.bookId === null ? 'about no book' : row.book,
            minutesWords(row.minutes),
            money(row.materialsMinor),
            summary.finished
              .filter(({ bookId }) => bookId === row.bookId)
              .map(({ on }) => day(on))
              .join(', '),
          ]),
        ),
      ),
      ...part('Materials used', 'No material was taken out.', summary.materials, () =>
        table(
          [
            { head: 'Material', share: 4 },
            { head: 'Used', share: 1.2, align: right },
            { head: 'Spoilt', share: 1.2, align: right },
            { head: 'Cost', share: 1.2, align: right },
          ],
          summary.materials.map(({ material, unit, quantity, wasted, costMinor }) => [
            material,
            quantity === 0 ? '' : amountWords(toMillionths(quantity), unit),
            wasted === 0 ? '' : amountWords(toMillionths(wasted), unit),
            money(costMinor),
          ]),
        ),
      ),
      ...part('Estimated and actual', 'No step was finished at the bench with its time.', summary.estimates, () =>
        table(
          [
            { head: 'Operation', share: 4 },
            { head: 'Jobs', share: 0.8, align: right },
            { head: 'Estimated', share: 1.2, align: right },
            { head: 'Took', share: 1.2, align: right },
            { head: 'Ratio', share: 0.8, align: right },
          ],
          summary.estimates.map((row) => [
            row.operation,
            String(row.n),
            minutesWords(row.estimatedMinutes),
            minutesWords(row.actualMinutes),
            row.ratio.toFixed(2),
          ]),
        ),
      ),
      ...part('Days', 'No time was written down.', summary.byDay, () =>
        table(
          [
            { head: 'Day', share: 2 },
            { head: 'Time', share: 1, align: right },
          ],
          summary.byDay.map((row) => [day(row.day), minutesWords(row.minutes)]),
        ),
      ),
    ],
  });
  return ok({ fileName: `day-book-${from}-${to}.pdf`, mediaType: 'application/pdf', base64: bytes.toString('base64') });
}
