/** QR codes (ISO/IEC 18004) as one path, for the page and for print alike. */
import { create } from 'qrcode';

/** The dark squares of the code for this text as a path in units of one square; readers want four light squares around it. */
export function qrPath(text: string): Readonly<{ squares: number; path: string }> {
  const { modules } = create(text, { errorCorrectionLevel: 'M' });
  const path: string[] = [];
  for (let row = 0; row < modules.size; row++) {
    for (let column = 0; column < modules.size; column++) {
      if (!modules.get(row, column)) continue;
      let end = column + 1;
      while (end < modules.size && modules.get(row, end)) end++;
      path.push(`M${column} ${row}h${end - column}v1h-${end - column}z`);
      column = end;
    }
  }
  return { squares: modules.size, path: path.join('') };
}
