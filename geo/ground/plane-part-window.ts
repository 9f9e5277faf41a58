import type { Grid } from '../raster/grid.ts';

/**
 * Least-squares plane through the cells with data of a window that is not whole, around one cell.
 * Writes rise per metre toward grid east and north at `at`; NaN when the middle cell has no data
 * or fewer cells are there than a grid corner leaves, (halfAcross+1) × (halfDown+1). That many
 * never lie on one line, so the plane is always determined.
 */
export function fitPartWindow(
  ground: Grid,
  row: number,
  column: number,
  halfAcross: number,
  halfDown: number,
  east: Float64Array,
  north: Float64Array,
  at: number,
): void {
  const { data, width, height, cellWidth, cellHeight } = ground;
  east[at] = NaN;
  north[at] = NaN;
  const middle = data[row * width + column]!;
  if (middle !== middle) return;
  const west = Math.max(0, column - halfAcross);
  const right = Math.min(width - 1, column + halfAcross);
  const top = Math.max(0, row - halfDown);
  const bottom = Math.min(height - 1, row + halfDown);
  // Heights and places relative to the middle cell keep the sums small.
  let n = 0;
  let sx = 0;
  let sy = 0;
  let sz = 0;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  let sxz = 0;
  let syz = 0;
  for (let r = top; r <= bottom; r++) {
    for (let c = west; c <= right; c++) {
      const value = data[r * width + c]!;
      if (value !== value) continue;
      const x = c - column;
      const y = row - r;
      const z = value - middle;
      n++;
      sx += x;
      sy += y;
      sz += z;
      sxx += x * x;
      sxy += x * y;
      syy += y * y;
      sxz += x * z;
      syz += y * z;
    }
  }
  if (n < (halfAcross + 1) * (halfDown + 1)) return;
  const xx = sxx - (sx * sx) / n;
  const xy = sxy - (sx * sy) / n;
  const yy = syy - (sy * sy) / n;
  const xz = sxz - (sx * sz) / n;
  const yz = syz - (sy * sz) / n;
  const determinant = xx * yy - xy * xy;
  east[at] = (xz * yy - yz * xy) / determinant / cellWidth;
  north[at] = (yz * xx - xz * xy) / determinant / cellHeight;
}
