/** Widths of letters as the page's own type sets them, for the fit of lettering on a panel: shares of the body's size. */
import type { GlyphWidths } from '../../core/trade/panels.ts';

const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 .,;:’'-–&!?()";

let measured: GlyphWidths | null = null;

/** Measured once with the title face; what a binder's own tools give is near enough to choose a size by. */
export function glyphWidths(): GlyphWidths {
  if (measured !== null) return measured;
  const brush = document.createElement('canvas').getContext('2d');
  if (brush === null) return { widths: {}, capHeight: 0.67 };
  const size = 200;
  brush.font = `600 ${size}px "Source Serif 4 Variable", serif`;
  const widths = Object.fromEntries([...letters].map((letter) => [letter, brush.measureText(letter).width / size]));
  measured = { widths, capHeight: brush.measureText('H').actualBoundingBoxAscent / size };
  return measured;
}
