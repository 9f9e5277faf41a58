/**
 * From fractional column and row to coordinates: `x = a·col + b·row + c`, `y = d·col + e·row + f`.
 * Column 0, row 0 is the outer corner of the first cell; its centre is at 0.5, 0.5.
 */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export function affinePoint(t: Affine, column: number, row: number): [number, number] {
  return [t.a * column + t.b * row + t.c, t.d * column + t.e * row + t.f];
}

/** The affine of a part that starts at a column and row, its cells `step` times as large. */
export function affinePart(
  t: Affine,
  column: number,
  row: number,
  stepX = 1,
  stepY = stepX,
): Affine {
  const [c, f] = affinePoint(t, column, row);
  return { a: t.a * stepX, b: t.b * stepY, c, d: t.d * stepX, e: t.e * stepY, f };
}

/** From coordinates back to column and row. Throws RangeError where cells have no area. */
export function affineInverse(t: Affine): Affine {
  const det = t.a * t.e - t.b * t.d;
  if (!(Math.abs(det) > 0) || !Number.isFinite(det)) throw new RangeError(`affine of area ${det}`);
  return {
    a: t.e / det,
    b: -t.b / det,
    c: (t.b * t.f - t.e * t.c) / det,
    d: -t.d / det,
    e: t.a / det,
    f: (t.d * t.c - t.a * t.f) / det,
  };
}

/** True where rows run east and columns run south: what a `Grid` is. */
export function isNorthUp(t: Affine): boolean {
  return t.b === 0 && t.d === 0 && t.a > 0 && t.e < 0;
}

/** Outer bounds of `width` × `height` cells, in coordinates. */
export function affineBounds(
  t: Affine,
  width: number,
  height: number,
): { west: number; south: number; east: number; north: number } {
  const corners = [
    affinePoint(t, 0, 0),
    affinePoint(t, width, 0),
    affinePoint(t, 0, height),
    affinePoint(t, width, height),
  ];
  const xs = corners.map((p) => p[0]);
  const ys = corners.map((p) => p[1]);
  return {
    west: Math.min(...xs),
    south: Math.min(...ys),
    east: Math.max(...xs),
    north: Math.max(...ys),
  };
}
