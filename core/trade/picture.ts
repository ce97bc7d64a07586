/**
 * A drawing made ready to be looked at: what lies where in millimetres, the original material hatched, grain arrows, and every measure
 * written where it runs into no other. The page, the printer and the picture file all draw from this, so that they cannot differ. Only the
 * size of the lettering is theirs to say, because it depends on how large a millimetre is to whoever reads.
 */
import { formatInches, formatMm } from '../units/lengths.ts';
import type { Drawing, Shape } from './drawing.ts';
import { areaMarks, grainMark } from './picture-areas.ts';
import { type Box, boxOf, type Mark, movedMark, wordsBox } from './picture-marks.ts';
import { partNames, placeDimensions } from './picture-words.ts';

export type Picture = Readonly<{
  title: string;
  /** The corner of the frame, in the drawing's own millimetres; marks are in the same. */
  leftMm: number;
  topMm: number;
  widthMm: number;
  heightMm: number;
  letterMm: number;
  marks: readonly Mark[];
}>;

/**
 * Lays the drawing out for letters so many millimetres tall, each measure in the caller's words. Loose pieces are laid in rows, each with the
 * room its own measures take, about `wider` times as wide as high.
 */
export function pictureOf(drawing: Drawing, letterMm: number, words: (mm: number) => string, wider = 1.4): Picture {
  const groups = drawing.loose.map((from, place) => drawing.shapes.slice(from, drawing.loose[place + 1]));
  const { marks, frame } =
    groups.length > 1
      ? inRows(
          groups.map((shapes) => layOut(shapes, letterMm, words)),
          letterMm,
          wider,
        )
      : layOut(drawing.shapes, letterMm, words);
  return {
    title: drawing.title,
    leftMm: frame.left,
    topMm: frame.top,
    widthMm: frame.right - frame.left,
    heightMm: frame.bottom - frame.top,
    letterMm,
    marks,
  };
}

type LaidOut = Readonly<{ marks: readonly Mark[]; frame: Box }>;

function layOut(shapes: readonly Shape[], letterMm: number, words: (mm: number) => string): LaidOut {
  const marks: Mark[] = [];
  for (const shape of shapes) {
    if (shape.kind === 'area') marks.push(...areaMarks(shape, letterMm));
    if (shape.kind === 'line') {
      const look = shape.role === 'cut' || shape.role === 'original' ? shape.role : 'fold';
      marks.push({ kind: 'lines', look, closed: false, lines: [shape.points], says: shape.label });
    }
    if (shape.kind === 'grain') marks.push(grainMark(shape.from, shape.to, letterMm));
  }
  const areas = shapes.filter((shape) => shape.kind === 'area').filter(({ role }) => role !== 'beneath');
  const written = placeDimensions(shapes, areas, letterMm, words);
  marks.push(...written.marks, ...partNames(areas, shapes, written.taken, letterMm));
  return { marks, frame: around(marks, letterMm) };
}

/** Loose pieces in rows, tall ones first so that a row wastes little. */
function inRows(pieces: readonly LaidOut[], letterMm: number, wider: number): LaidOut {
  const gap = letterMm;
  const sized = pieces
    .map(({ marks, frame }) => ({ marks, frame, wide: frame.right - frame.left, high: frame.bottom - frame.top }))
    .sort((one, other) => other.high - one.high);
  const ground = sized.reduce((sum, { wide, high }) => sum + (wide + gap) * (high + gap), 0);
  const rowMm = Math.max(Math.sqrt(ground * wider), ...sized.map(({ wide }) => wide));
  const marks: Mark[] = [];
  let [x, y, rowHigh, widest] = [0, 0, 0, 0];
  for (const piece of sized) {
    if (x > 0 && x + piece.wide > rowMm) [x, y, rowHigh] = [0, y + rowHigh + gap, 0];
    const [right, down] = [x - piece.frame.left, y - piece.frame.top];
    marks.push(...piece.marks.map((mark) => movedMark(mark, right, down)));
    x += piece.wide + gap;
    rowHigh = Math.max(rowHigh, piece.high);
    widest = Math.max(widest, x - gap);
  }
  return { marks, frame: { left: 0, top: 0, right: widest, bottom: y + rowHigh } };
}

/** Every measure once, as a sentence, for those who cannot see the drawing. */
export function spokenMeasures(drawing: Drawing, words: (mm: number) => string): string {
  const said = drawing.shapes.flatMap((shape) =>
    shape.kind === 'dimension' ? [`${shape.label} ${words(shape.mm)}`] : [],
  );
  return [...new Set(said)].join(', ');
}

/** How a drawing writes its measures: in one unit, or where there is room in both. */
export function measureWords(units: 'mm' | 'in', both: boolean): (mm: number) => string {
  const [first, second] = units === 'mm' ? [formatMm, formatInches] : [formatInches, formatMm];
  return both ? (mm) => `${first(mm)} · ${second(mm)}` : first;
}

function around(marks: readonly Mark[], letterMm: number): Box {
  const boxes = marks.flatMap((mark) =>
    mark.kind === 'words' ? [wordsBox(mark, letterMm)] : mark.lines.map((line) => boxOf(line)),
  );
  const edge = letterMm * 0.5;
  return {
    left: Math.min(...boxes.map(({ left }) => left)) - edge,
    top: Math.min(...boxes.map(({ top }) => top)) - edge,
    right: Math.max(...boxes.map(({ right }) => right)) + edge,
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)) + edge,
  };
}
