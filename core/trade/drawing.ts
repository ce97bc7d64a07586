/**
 * Drawings to scale as plain geometry in millimetres: x to the right, y down, everything inside 0..width and 0..height, so that the page and
 * the printer draw from the same numbers. Later shapes lie over earlier ones. What each drawing is made of.
 */
import type { PieceMaterial } from './working.ts';

/**
 * Drawings to scale as plain geometry in millimetres: x to the right, y down, everything inside 0..width and 0..height, so that the page and
 * the printer draw from the same numbers. Later shapes lie over earlier ones.
 */

export type Point = Readonly<{ x: number; y: number }>;

/** New material, the book's own, what lies hidden beneath, a fold or a cut line. */
export type Role = 'new' | 'original' | 'beneath' | 'fold' | 'cut';

export type Shape =
  | Readonly<{
      kind: 'area';
      points: readonly Point[];
      role: Role;
      material: PieceMaterial | 'text block';
      label: string;
    }>
  | Readonly<{ kind: 'line'; points: readonly Point[]; role: Role; label: string }>
  /** A dimension line `offsetMm` away from what it measures: to the left or above when negative. */
  | Readonly<{ kind: 'dimension'; from: Point; to: Point; offsetMm: number; mm: number; label: string }>
  | Readonly<{ kind: 'grain'; from: Point; to: Point }>;

export type Drawing = Readonly<{
  title: string;
  widthMm: number;
  heightMm: number;
  shapes: readonly Shape[];
  /** Where in the shapes each loose piece begins, in a drawing whose pieces may lie anywhere; else nothing. */
  loose: readonly number[];
}>;

/** Room round a drawing. */
const marginMm = 6;

/** From one dimension line to the next. */
export const lineMm = 9;

/** A rectangle of some material, by its upper left corner. */
export function area(
  x: number,
  y: number,
  width: number,
  height: number,
  role: Role,
  material: PieceMaterial | 'text block',
  label: string,
): Shape {
  const points = [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
  return { kind: 'area', points, role, material, label };
}

/** A measure from left to right, its line so far below; above when negative. */
export function across(from: number, to: number, y: number, offsetMm: number, label: string): Shape {
  return { kind: 'dimension', from: { x: from, y }, to: { x: to, y }, offsetMm, mm: to - from, label };
}

/** A measure from head to tail, its line so far to the right; to the left when negative. */
export function down(from: number, to: number, x: number, offsetMm: number, label: string): Shape {
  return { kind: 'dimension', from: { x, y: from }, to: { x, y: to }, offsetMm, mm: to - from, label };
}

/** Grain along the height, in the middle third. */
export function upAndDown(x: number, height: number): Shape {
  return grainFrom({ x, y: height * 0.3 }, { x, y: height * 0.7 });
}

export function grainFrom(from: Point, to: Point): Shape {
  return { kind: 'grain', from, to };
}

/** Moves everything so that it lies inside a frame with a margin, dimension lines included. */
export function framed(title: string, shapes: readonly Shape[], loose: readonly number[] = []): Drawing {
  const all = shapes.flatMap(reachOf);
  const left = Math.min(...all.map(({ x }) => x)) - marginMm;
  const top = Math.min(...all.map(({ y }) => y)) - marginMm;
  const moved = (point: Point): Point => ({ x: point.x - left, y: point.y - top });
  return {
    title,
    loose,
    widthMm: Math.max(...all.map(({ x }) => x)) + marginMm - left,
    heightMm: Math.max(...all.map(({ y }) => y)) + marginMm - top,
    shapes: shapes.map((shape) =>
      shape.kind === 'area' || shape.kind === 'line'
        ? { ...shape, points: shape.points.map(moved) }
        : { ...shape, from: moved(shape.from), to: moved(shape.to) },
    ),
  };
}

/** Every point a shape touches; a dimension also where its line is drawn. */
function reachOf(shape: Shape): readonly Point[] {
  if (shape.kind === 'area' || shape.kind === 'line') return shape.points;
  if (shape.kind === 'grain') return [shape.from, shape.to];
  const level = shape.from.y === shape.to.y;
  const shifted = [shape.from, shape.to].map(({ x, y }) => ({
    x: x + (level ? 0 : shape.offsetMm),
    y: y + (level ? shape.offsetMm : 0),
  }));
  return [shape.from, shape.to, ...shifted];
}
