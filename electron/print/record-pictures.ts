/** Photographs as a record shows them: by their row, small enough to print, without anything the camera wrote into them. */
import type { Photograph } from '../../core/contract/photographs.ts';
import { mmPerPixel } from '../../core/photographs/marks.ts';
import { showPhotograph } from '../files/photographs.ts';

export type RecordPicture = Readonly<{
  photograph: Photograph;
  jpeg: Buffer;
  /** Null where no scale is set. */
  widthMm: number | null;
}>;

/** By id; those whose original is missing are left out, and the record says so. */
export async function recordPictures(
  folder: string,
  photographs: readonly Photograph[],
): Promise<ReadonlyMap<string, RecordPicture>> {
  const pictures = new Map<string, RecordPicture>();
  for (const photograph of photographs) {
    const jpeg = await showPhotograph(folder, photograph, 'printed');
    if (jpeg === null) continue;
    const scaled = photograph.scale === null ? null : mmPerPixel(photograph.scale);
    const widthMm = scaled?.ok ? scaled.value * photograph.widthPx : null;
    pictures.set(photograph.id, { photograph, jpeg, widthMm });
  }
  return pictures;
}

/** A round length for a scale bar of about a quarter of the picture, in millimetres. */
export function barMm(widthMm: number): number {
  const steps = [1, 2, 5, 10, 20, 50, 100, 200, 500];
  return steps.findLast((mm) => mm <= widthMm / 3) ?? 1;
}

/** What stands below a picture. */
export function pictureWords({ photograph, widthMm }: RecordPicture, words: string): string {
  const marks = photograph.marks.map((mark) => mark.words.trim()).filter((text) => text !== '');
  return [
    words || photograph.fileName,
    marks.length === 0 ? '' : `Marked: ${marks.join('; ')}`,
    widthMm === null ? '' : `Bar: ${barMm(widthMm)} mm`,
  ]
    .filter(Boolean)
    .join('. ');
}
