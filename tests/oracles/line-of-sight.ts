import type { Grid } from '../../geo/raster/grid.ts';

/** What the slow look needs to know; the same words as the product's, none of its code. */
export interface SlowLook {
  readonly column: number;
  readonly row: number;
  readonly eyeMeters: number;
  readonly radiusMeters: number;
  readonly screens: Float32Array | null;
  readonly earthCurve: number;
}

/**
 * From how high a place is seen, found by drawing the line in metres and looking at the surface at
 * every middle line that it crosses on the way: one target, nothing shared with any other.
 */
export function slowSeenFrom(grid: Grid, look: SlowLook, column: number, row: number): number {
  const { width, data, cellWidth, cellHeight } = grid;
  const base = data[row * width + column]!;
  const east = (column - look.column) * cellWidth;
  const south = (row - look.row) * cellHeight;
  if (Number.isNaN(base) || Math.sqrt(east ** 2 + south ** 2) > look.radiusMeters) return NaN;
  const eye = data[look.row * width + look.column]! + look.eyeMeters;
  const surface = (c: number, r: number): number => {
    const standing = look.screens?.[r * width + c] ?? 0;
    return lowered(c, r) + (Number.isNaN(standing) ? 0 : standing);
  };
  const lowered = (c: number, r: number): number => {
    const meters = Math.hypot((c - look.column) * cellWidth, (r - look.row) * cellHeight);
    return data[r * width + c]! - (look.earthCurve * meters ** 2) / (2 * 6_371_008.8);
  };
  const columns = Math.abs(column - look.column);
  const rows = Math.abs(row - look.row);
  const crossings = Math.max(columns, rows);
  let needed = 0;
  for (let i = 1; i < crossings; i++) {
    const share = i / crossings;
    const c = look.column + (column - look.column) * share;
    const r = look.row + (row - look.row) * share;
    const places: [number, number][] =
      columns >= rows
        ? [
            [Math.round(c), Math.floor(r + 1e-9)],
            [Math.round(c), Math.floor(r + 1e-9) + 1],
          ]
        : [
            [Math.floor(c + 1e-9), Math.round(r)],
            [Math.floor(c + 1e-9) + 1, Math.round(r)],
          ];
    const part = columns >= rows ? r - Math.floor(r + 1e-9) : c - Math.floor(c + 1e-9);
    const isAtCentre = Math.abs(part) < 1e-9;
    const heights = (isAtCentre ? places.slice(0, 1) : places).map(([x, y]) => surface(x, y));
    const weights = isAtCentre ? [1] : [1 - part, part];
    let sum = 0;
    let weight = 0;
    heights.forEach((z, k) => {
      if (Number.isNaN(z)) return;
      sum += weights[k]! * z;
      weight += weights[k]!;
    });
    if (weight === 0) continue;
    // The line from the eye over this crossing, drawn on to the target.
    const over = eye + (sum / weight - eye) / share;
    needed = Math.max(needed, over - lowered(column, row));
  }
  return needed;
}
