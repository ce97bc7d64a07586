import { describe, expect, test } from 'vitest';
import { type Letterhead, paragraph, printSheet, table, widthWithin } from '../../../electron/print/sheet.ts';
import { readPdfPages } from './pdf-paths.ts';

const head: Letterhead = { name: 'Alder Yard', heading: '', paper: 'A4' };
const rows = Array.from({ length: 45 }, (_, index) => [`Row ${index}`, 'Zürich']);
const columns = [
  { head: 'What', share: 1 },
  { head: 'Where', share: 2 },
];

function sheet(workshop: Letterhead, orientation: 'portrait' | 'landscape' = 'portrait') {
  return printSheet({
    title: 'A long list',
    lead: 'Invented',
    workshop,
    orientation,
    body: [paragraph('x'), table(columns, rows)],
  });
}

describe('a printed sheet', () => {
  // ISO 216, and 8 1/2 by 11 in.
  test.each([
    ['A4', 'landscape', 297, 210],
    ['LETTER', 'portrait', 215.9, 279.4],
  ] as const)(
    'on %s %s is %d by %d mm on every page, its rules within the margins',
    async (paper, orientation, wide, high) => {
      const workshop = { ...head, paper };
      const pages = readPdfPages(await sheet(workshop, orientation));
      expect(pages.length).toBeGreaterThan(1);
      for (const page of pages) {
        expect(page.widthMm).toBeCloseTo(wide, 1);
        expect(page.heightMm).toBeCloseTo(high, 1);
        const xs = page.paths.flat().map(({ x }) => x);
        expect(Math.max(...xs) - Math.min(...xs)).toBeLessThanOrEqual(
          (widthWithin(workshop, orientation) / 72) * 25.4 + 0.5,
        );
      }
    },
  );

  test('has its fonts within, and makes room for the workshop’s own heading on the first page', async () => {
    const plain = await sheet(head);
    const headed = await sheet({ ...head, heading: '1 Mill Lane\nAlderton\n\nTel. 01234' });
    for (const bytes of [plain, headed]) expect(bytes.toString('latin1')).toMatch(/\/FontFile[23]/);
    expect(headed.length).toBeGreaterThan(plain.length);
    // A fixed height for each row: fewer of them stand on the first page below a heading.
    const rulesOf = (bytes: Buffer) => readPdfPages(bytes)[0]?.paths.length ?? 0;
    expect(rulesOf(headed)).toBeLessThan(rulesOf(plain));
  });
});
