import type { CellField } from '../raster/cell-window.ts';
import { eachCoveredCell, type CoveredCells } from '../raster/covered-cells.ts';
import type { Grid } from '../raster/grid.ts';
import { downhillBearing } from './aspect.ts';

export interface FittedPlane {
  /** Rise over run down its fall line. */
  readonly slope: number;
  /** Grid bearing that it falls toward, degrees clockwise from grid north; null where level. */
  readonly fallsTowardGridDegrees: number | null;
  /** Rise per metre toward grid east and north. */
  readonly east: number;
  readonly north: number;
  /** Weighted mean height, metres: the plane's height at the weighted middle of the cells. */
  readonly meanMeters: number;
  /** Root-mean-square distance of the heights from the plane, metres. */
  readonly residualMeters: number;
}

/**
 * Best-fit plane (weighted least squares) through the heights of the covered cells.
 * `heights` and `covered` lie on `place`; each cell weighs its share; cells without data are left
 * out. Null when fewer than three cells, or all on one line, have data.
 * Stable: means are taken first and only differences from them are multiplied.
 */
export function fitPlane(
  place: Pick<Grid, 'cellWidth' | 'cellHeight'>,
  heights: CellField,
  covered: CoveredCells,
): FittedPlane | null {
  const origin = { row: heights.window.row, column: heights.window.column };
  let weight = 0;
  let sumX = 0;
  let sumY = 0;
  let sumZ = 0;
  eachCoveredCell(covered, heights, (z, share, row, column) => {
    weight += share;
    sumX += share * (column - origin.column);
    sumY += share * (row - origin.row);
    sumZ += share * z;
  });
  if (weight === 0) return null;
  const meanX = sumX / weight;
  const meanY = sumY / weight;
  const meanMeters = sumZ / weight;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xz = 0;
  let yz = 0;
  let zz = 0;
  eachCoveredCell(covered, heights, (height, share, row, column) => {
    const x = (column - origin.column - meanX) * place.cellWidth;
    const y = (meanY - (row - origin.row)) * place.cellHeight;
    const z = height - meanMeters;
    xx += share * x * x;
    xy += share * x * y;
    yy += share * y * y;
    xz += share * x * z;
    yz += share * y * z;
    zz += share * z * z;
  });
  const determinant = xx * yy - xy * xy;
  // On one line the determinant is zero but for rounding.
  if (!(determinant > 1e-12 * (xx + yy) ** 2)) return null;
  const east = (xz * yy - yz * xy) / determinant;
  const north = (yz * xx - xz * xy) / determinant;
  const slope = Math.hypot(east, north);
  // Gentler than this is rounding of the sums, not a fall.
  const level = slope < 1e-9;
  return {
    slope,
    fallsTowardGridDegrees: level ? null : downhillBearing(east, north),
    east,
    north,
    meanMeters,
    residualMeters: Math.sqrt(Math.max(0, zz - east * xz - north * yz) / weight),
  };
}
