import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { Work } from '../work.ts';

/** A tree top: frame metres, and height over the ground. */
export interface CanopyTree {
  readonly x: number;
  readonly y: number;
  readonly heightMeters: number;
}

/** Which trees stand there decides how wide a crown is for its height. */
export type CanopyKind = 'mixed' | 'hardwood' | 'pine';

/**
 * Width of the crown of a tree so high, metres, which is the width of the window that its top is
 * sought in. Popescu & Wynne 2004, Photogramm. Eng. Remote Sens. 70(5):589–604: mixed
 * 2.515 + 0.00901 h², hardwood 3.096 + 0.00895 h², pine 3.751 − 0.179 h + 0.0124 h² (the first seen
 * in public packages, the others from memory).
 * Example: a mixed crown 20 m up is 6.1 m wide.
 */
export function crownWidth(kind: CanopyKind, heightMeters: number): number {
  const square = heightMeters * heightMeters;
  if (kind === 'pine') return 3.75105 - 0.17919 * heightMeters + 0.01241 * square;
  return kind === 'hardwood' ? 3.09632 + 0.00895 * square : 2.51503 + 0.00901 * square;
}

/** Lower than this is brush (2 m, the usual least height in tree finding). */
export const leastTreeMeters = 2;
/** Higher than any tree: a wire, a bird, a fault. */
const MOST = 130;

/**
 * Height of a canopy over the ground on the cells of the canopy's surface, metres, row-major, row 0
 * north; the ground bilinear at their centres. NaN where either has no data.
 */
export function* canopyHeights(surface: Grid, ground: Grid): Work<Float32Array> {
  const { width, height, west, north, cellWidth, cellHeight, data } = surface;
  const heights = new Float32Array(data.length);
  const band = rowsPerBand(width * 16);
  for (let row = 0; row < height; row++) {
    if (row % band === 0) yield { share: row / height, doing: 'measuring the canopy' };
    const y = north - (row + 0.5) * cellHeight;
    for (let column = 0; column < width; column++) {
      const i = row * width + column;
      heights[i] = data[i]! - sampleBilinear(ground, west + (column + 0.5) * cellWidth, y);
    }
  }
  return heights;
}

/**
 * Tree tops by the variable window: cells of at least the least height that nothing within half a
 * crown of their own height tops (of equal ones the first in row order), but never closer than the
 * eight cells round them. In rows from north to south. It finds trees whose tops show: what stands
 * under others is not in it, and a wide hardwood crown may show two tops.
 * @param heights over the ground, on the cells of `place`; NaN is no data and tops nothing
 * Throws RangeError for heights of another length.
 * Example: cones farther apart than their crowns are wide are found one by one.
 */
export function* canopyTrees(
  place: Omit<Grid, 'data'>,
  heights: Float32Array,
  kind: CanopyKind = 'mixed',
): Work<CanopyTree[]> {
  const { width, height, west, north, cellWidth, cellHeight } = place;
  if (heights.length !== width * height) {
    throw new RangeError(`${heights.length} heights for ${width} × ${height} cells`);
  }
  const trees: CanopyTree[] = [];
  const band = rowsPerBand(width * 64);
  for (let row = 0; row < height; row++) {
    if (row % band === 0) yield { share: row / height, doing: 'finding trees' };
    for (let column = 0; column < width; column++) {
      const z = heights[row * width + column]!;
      if (!(z >= leastTreeMeters && z <= MOST)) continue;
      const half = crownWidth(kind, z) / 2;
      if (!isTop(place, heights, row, column, 1.5 * Math.max(cellWidth, cellHeight))) continue;
      if (!isTop(place, heights, row, column, half)) continue;
      const x = west + (column + 0.5) * cellWidth;
      trees.push({ x, y: north - (row + 0.5) * cellHeight, heightMeters: z });
    }
  }
  return trees;
}

function isTop(
  { width, height, cellWidth, cellHeight }: Omit<Grid, 'data'>,
  heights: Float32Array,
  row: number,
  column: number,
  reach: number,
): boolean {
  const [down, across] = [Math.floor(reach / cellHeight), Math.floor(reach / cellWidth)];
  const z = heights[row * width + column]!;
  for (let r = Math.max(0, row - down); r <= Math.min(height - 1, row + down); r++) {
    const dy = (r - row) * cellHeight;
    for (let c = Math.max(0, column - across); c <= Math.min(width - 1, column + across); c++) {
      const dx = (c - column) * cellWidth;
      if (dx * dx + dy * dy > reach * reach) continue;
      const other = heights[r * width + c]!;
      if (other > MOST || !(other >= z)) continue;
      if (other > z || r < row || (r === row && c < column)) return false;
    }
  }
  return true;
}
