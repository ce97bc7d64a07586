import { assert, ok, type Result, refuse } from '../result.ts';
import { formatMm, mmPerInch } from '../units/lengths.ts';
import type { Step } from './working.ts';

/**
 * Bands and panels of a back, and the largest lettering that fits a panel. The back is divided into one panel more than there are bands,
 * equal but for head and tail: the tail panel is longer (Cockerell 1901, ch. VII), on an octavo the head a trifle longer too.
 */

export type Panels = Readonly<{
  /** Head to tail; with the bands between them they make up the back. */
  heightsMm: readonly number[];
  bandTopsMm: readonly number[];
  working: readonly Step[];
}>;

export type PanelHabits = Readonly<{ bandMm: number; headExtraMm: number; tailExtraMm: number }>;

/** A trifle of 1/16 in at the head, as much again at the tail; bands of 4 mm. Common practice, no source. */
export const usualPanels: PanelHabits = { bandMm: 4, headExtraMm: mmPerInch / 16, tailExtraMm: mmPerInch / 8 };

/** Heights of the panels between so many bands. Refuses bands that leave no panels. */
export function dividePanels(backHeightMm: number, bands: number, habits: Partial<PanelHabits> = {}): Result<Panels> {
  const { bandMm, headExtraMm, tailExtraMm } = { ...usualPanels, ...habits };
  if (!(backHeightMm > 0)) return refuse('A back needs a height.', 'height');
  if (!(Number.isInteger(bands) && bands >= 1 && bands <= 12))
    return refuse('A back has one to twelve bands.', 'bands');
  if (!(bandMm > 0 && headExtraMm >= 0 && tailExtraMm >= 0))
    return refuse('Bands have a width, and panels are not shortened.', 'band');
  const panelMm = (backHeightMm - bands * bandMm - headExtraMm - tailExtraMm) / (bands + 1);
  if (panelMm < bandMm)
    return refuse(
      `${bands} bands of ${formatMm(bandMm)} leave no panels on a back of ${formatMm(backHeightMm)}.`,
      'bands',
    );
  const heightsMm = Array.from(
    { length: bands + 1 },
    (_, place) => panelMm + (place === 0 ? headExtraMm : place === bands ? tailExtraMm : 0),
  );
  const bandTopsMm: number[] = [];
  let at = 0;
  for (const height of heightsMm.slice(0, bands)) {
    bandTopsMm.push(at + height);
    at += height + bandMm;
  }
  return ok({
    heightsMm,
    bandTopsMm,
    working: [
      { label: 'Panels', formula: 'bands + 1', value: bands + 1, unit: '', source: 'Cockerell 1901, ch. VII' },
      {
        label: 'Middle panel',
        formula: '(back − bands − extra at head and tail) ÷ panels',
        value: panelMm,
        unit: 'mm',
      },
    ],
  });
}

/** Widths of characters as a share of the letter size, and the height of capitals likewise; measured from the type or the font. */
export type GlyphWidths = Readonly<{ widths: Readonly<Record<string, number>>; capHeight: number }>;

export type Lettering = Readonly<{
  /** Size of the type body: capitals are `capHeight` of it. */
  sizeMm: number;
  lines: readonly Readonly<{ text: string; widthMm: number }>[];
}>;

/** From foot to foot of two lines, as a multiple of the capitals. Common practice, no source. */
export const usualLeading = 1.6;

/**
 * The largest lettering of a title that fits a panel, with the title broken between words where that lets it be larger. Lines stand
 * `leading` times the capital height apart from foot to foot. Refuses a title with characters of unknown width, and one that would come out
 * under 1 mm of capital height, which no one can tool or read.
 */
export function fitLettering(
  title: string,
  panel: Readonly<{ widthMm: number; heightMm: number; marginMm: number }>,
  glyphs: GlyphWidths,
  { mostLines = 4, leading = usualLeading }: Readonly<{ mostLines?: number; leading?: number }> = {},
): Result<Lettering> {
  const words = title
    .trim()
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return refuse('There is nothing to letter.', 'title');
  if (words.length > 40) return refuse('So long a title does not go on a panel.', 'title');
  const wide = panel.widthMm - 2 * panel.marginMm;
  const high = panel.heightMm - 2 * panel.marginMm;
  if (!(wide > 0 && high > 0 && panel.marginMm >= 0)) return refuse('The margins leave nothing of the panel.', 'panel');
  if (!(glyphs.capHeight > 0 && leading >= 1))
    return refuse('Letters need a height, and lines may not run into each other.', 'leading');
  const unknown = [...new Set([...words.join(''), ...(words.length > 1 ? [' '] : [])])].find(
    (sign) => !((glyphs.widths[sign] ?? 0) > 0),
  );
  if (unknown !== undefined) return refuse(`The width of “${unknown}” in this letter is not known.`, 'title');

  let best: Lettering | undefined;
  for (let lines = 1; lines <= Math.min(mostLines, words.length); lines++) {
    const broken = narrowestBreak(words, lines, glyphs);
    const widest = Math.max(...broken.map((line) => lineWidth(line, glyphs)));
    const sizeMm = Math.min(wide / widest, high / (glyphs.capHeight * (1 + (lines - 1) * leading)));
    if (best === undefined || sizeMm > best.sizeMm + 1e-12) {
      best = { sizeMm, lines: broken.map((line) => ({ text: line, widthMm: lineWidth(line, glyphs) * sizeMm })) };
    }
  }
  assert(best !== undefined, 'a title with words has at least one way to be broken');
  if (best.sizeMm * glyphs.capHeight < 1)
    return refuse('It would come out under 1 mm tall; shorten the title or letter it along the back.', 'title');
  return ok(best);
}

function lineWidth(line: string, glyphs: GlyphWidths): number {
  return [...line].reduce((sum, sign) => sum + (glyphs.widths[sign] ?? 0), 0);
}

/** The words in so many lines with the widest line as narrow as can be: for each line, every place its last word could be. */
function narrowestBreak(words: readonly string[], lines: number, glyphs: GlyphWidths): readonly string[] {
  const width = (from: number, to: number) => lineWidth(words.slice(from, to).join(' '), glyphs);
  let ends: Readonly<{ widest: number; breaks: readonly number[] }>[] = words.map((_, word) => ({
    widest: width(0, word + 1),
    breaks: [word + 1],
  }));
  for (let line = 2; line <= lines; line++) {
    ends = words.map((_, word) => {
      let best = { widest: Number.POSITIVE_INFINITY, breaks: [] as readonly number[] };
      for (let before = line - 2; before < word; before++) {
        const earlier = ends[before];
        if (earlier === undefined) continue;
        const widest = Math.max(earlier.widest, width(before + 1, word + 1));
        if (widest < best.widest) best = { widest, breaks: [...earlier.breaks, word + 1] };
      }
      return best;
    });
  }
  const breaks = ends.at(-1)?.breaks ?? [];
  return breaks.map((end, line) => words.slice(breaks[line - 1] ?? 0, end).join(' '));
}

/**
 * Books of gold leaf: an English book had 24 leaves of 3 1/2 in (Cockerell 1901), later trade books 25 of 3 1/4 in (Roberts & Etherington
 * 1982, "gold leaf").
 */
export const goldBooks = {
  english: { leaves: 24, sideMm: 3.5 * mmPerInch },
  trade: { leaves: 25, sideMm: 3.25 * mmPerInch },
} as const;

/** Leaves of gold to cover an area, with a share lost in cutting and laying (a third: common practice, no source). */
export function goldForArea(
  areaMm2: number,
  book: keyof typeof goldBooks,
  lostShare = 1 / 3,
): Result<Readonly<{ leaves: number; books: number }>> {
  if (!(areaMm2 > 0)) return refuse('There is no area to gild.', 'area');
  if (!(lostShare >= 0 && lostShare < 0.9)) return refuse('Less than nine tenths of the gold are lost.', 'lost');
  const { leaves: inBook, sideMm } = goldBooks[book];
  const leaves = Math.ceil(areaMm2 / (1 - lostShare) / sideMm ** 2 - 1e-9);
  return ok({ leaves, books: Math.ceil(leaves / inBook) });
}
