import type { Drawing, Point } from './drawing.ts';
import { pictureOf, spokenMeasures } from './picture.ts';
import type { Look, Mark } from './picture-marks.ts';

/**
 * A drawing as a picture file of its own (SVG 1.1, W3C 2011): measured in real millimetres, dark on white, and nothing in it that a plain
 * viewer would not know. Opened at its own size, a millimetre is a millimetre.
 */

/** How each kind of mark looks in print: strokes in millimetres on white paper. */
export const printLooks: Readonly<
  Record<Look, Readonly<{ fill?: string; stroke: string; widthMm: number; dashMm?: string }>>
> = {
  new: { fill: '#e4e6f4', stroke: '#1d1b18', widthMm: 0.3 },
  board: { fill: '#f0ece4', stroke: '#1d1b18', widthMm: 0.3 },
  paper: { fill: '#ffffff', stroke: '#1d1b18', widthMm: 0.3 },
  lining: { fill: '#f6f0da', stroke: '#1d1b18', widthMm: 0.3 },
  original: { fill: '#ffffff', stroke: '#1d1b18', widthMm: 0.3 },
  beneath: { stroke: '#6d675e', widthMm: 0.2, dashMm: '1.5 1' },
  cut: { stroke: '#8c2f2f', widthMm: 0.3 },
  fold: { stroke: '#6d675e', widthMm: 0.3, dashMm: '1.5 1' },
  hatch: { stroke: '#b9b2a6', widthMm: 0.15 },
  grain: { stroke: '#1f5e57', widthMm: 0.4 },
  dimension: { stroke: '#4a453d', widthMm: 0.2 },
  witness: { stroke: '#b9b2a6', widthMm: 0.15 },
};

/** Lettering of a printed drawing: about nine points. */
export const printLetterMm = 3.2;

/** The whole drawing as one SVG file, its measures in these words. */
export function drawingFile(drawing: Drawing, words: (mm: number) => string): string {
  const picture = pictureOf(drawing, printLetterMm, words);
  const [wide, high] = [figure(picture.widthMm), figure(picture.heightMm)];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}mm" height="${high}mm" viewBox="${figure(picture.leftMm)} ${figure(picture.topMm)} ${wide} ${high}" font-family="Source Sans 3, sans-serif" font-size="${printLetterMm}">`,
    `<title>${escaped(drawing.title)}</title>`,
    `<desc>${escaped(spokenMeasures(drawing, words))}</desc>`,
    `<rect x="${figure(picture.leftMm)}" y="${figure(picture.topMm)}" width="${wide}" height="${high}" fill="#ffffff"/>`,
    ...picture.marks.map((mark) => markFile(mark)),
    '</svg>',
    '',
  ].join('\n');
}

function markFile(mark: Mark): string {
  if (mark.kind === 'lines') {
    const { fill = 'none', stroke, widthMm, dashMm } = printLooks[mark.look];
    const dash = dashMm === undefined ? '' : ` stroke-dasharray="${dashMm}"`;
    const says = mark.says === '' ? '/>' : `><title>${escaped(mark.says)}</title></path>`;
    return `<path d="${pathOf(mark.lines, mark.closed)}" fill="${fill}" stroke="${stroke}" stroke-width="${widthMm}"${dash}${says}`;
  }
  const { at, turned, words, widthMm, of } = mark;
  const turn = turned ? ` transform="rotate(-90 ${figure(at.x)} ${figure(at.y)})"` : '';
  const [left, top] = [figure(at.x - widthMm / 2), figure(at.y - printLetterMm * 0.5)];
  const behind = `<rect x="${left}" y="${top}" width="${figure(widthMm)}" height="${printLetterMm}" fill="#ffffff" fill-opacity="0.85"/>`;
  const ink = of === 'measure' ? '#1d1b18' : '#6d675e';
  return `<g${turn}>${behind}<text x="${figure(at.x)}" y="${figure(at.y + printLetterMm * 0.35)}" text-anchor="middle" fill="${ink}">${escaped(words)}</text></g>`;
}

/** Path data of lines, closed or open. */
export function pathOf(lines: readonly (readonly Point[])[], closed: boolean): string {
  return lines
    .map((line) => `M${line.map(({ x, y }) => `${figure(x)} ${figure(y)}`).join('L')}${closed ? 'Z' : ''}`)
    .join('');
}

/** To a thousandth of a millimetre: finer than any knife, and the same on every machine. */
function figure(mm: number): string {
  return String(Math.round(mm * 1000) / 1000 || 0);
}

function escaped(words: string): string {
  return words.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}
