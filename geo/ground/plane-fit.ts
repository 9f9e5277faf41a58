import type { CellField } from '../raster/cell-window.ts';
import { eachCoveredRun, type CoveredCells } from '../raster/covered-cells.ts';
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
  const sums = new Float64Array(4);
  eachCoveredRun(covered, heights, (data, from, to, share, row, column) => {
    let runSum = 0;
    for (let i = from; i < to; i++) runSum += data[i]!;
    const cells = to - from;
    sums[0]! += share * cells;
    sums[1]! += share * cells * (column - origin.column + (cells - 1) / 2);
    sums[2]! += share * cells * (row - origin.row);
    sums[3]! += share * runSum;
  });
  const weight = sums[0]!;
  if (weight === 0) return null;
  const meanX = sums[1]! / weight;
  const meanY = sums[2]! / weight;
  const meanMeters = sums[3]! / weight;
  const products = new Float64Array(6);
  eachCoveredRun(covered, heights, (data, from, to, share, row, column) => {
    const y = (meanY - (row - origin.row)) * place.cellHeight;
    const first = column - origin.column - meanX;
    addProducts(products, data, from, to, share, first, place.cellWidth, y, meanMeters);
  });
  const [xx, xy, yy, xz, yz, zz] = products as unknown as Products;
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

type Products = [xx: number, xy: number, yy: number, xz: number, yz: number, zz: number];

/** Adds the weighted products of the differences from the means along one run of a row. */
function addProducts(
  products: Float64Array,
  data: Float32Array,
  from: number,
  to: number,
  share: number,
  first: number,
  cellWidth: number,
  y: number,
  meanMeters: number,
): void {
  let sx = 0;
  let sz = 0;
  let sxx = 0;
  let sxz = 0;
  let szz = 0;
  for (let i = from; i < to; i++) {
    const x = (first + i - from) * cellWidth;
    const z = data[i]! - meanMeters;
    sx += x;
    sz += z;
    sxx += x * x;
    sxz += x * z;
    szz += z * z;
  }
  products[0]! += share * sxx;
  products[1]! += share * y * sx;
  products[2]! += share * y * y * (to - from);
  products[3]! += share * sxz;
  products[4]! += share * y * sz;
  products[5]! += share * szz;
}
