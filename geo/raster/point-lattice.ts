/** A regular grid that points stand on, in the points' own coordinates. */
export interface Lattice {
  readonly width: number;
  readonly height: number;
  /** Outer edges of the first column and the first (northern) row. */
  readonly west: number;
  readonly north: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
}

/** A point may stand this share of a cell off its place: texts are rounded. */
const OFF_PLACE = 0.02;
/** Share of points that must have a neighbour beside them and one above or below. */
const WITH_NEIGHBOURS = 0.9;

/**
 * Tells whether points already are the cell centres of a regular grid (an XYZ raster), gaps allowed,
 * in any order. Spacing: the smallest step between points that follow each other, made exact by the
 * whole extent. Scattered shots that happen to lie on round numbers are no grid: nine of ten points
 * must have neighbours on both axes.
 * @param x,y same length, any unit; finite
 * @returns null when they are no grid of at most `maxCells`, or stand in one line
 * Example: points at 0.5, 1.5, 2.5 both ways give 3 × 3 cells of 1 from west 0 and north 3.
 */
export function findLattice(x: Float64Array, y: Float64Array, maxCells: number): Lattice | null {
  const across = axisOf(x);
  const up = axisOf(y);
  if (!across || !up) return null;
  const { count: width, first: west, step: cellWidth } = across;
  const { count: height, first: south, step: cellHeight } = up;
  if (width < 2 || height < 2 || width * height > maxCells) return null;
  const lattice: Lattice = {
    width,
    height,
    west: west - cellWidth / 2,
    north: south + (height - 0.5) * cellHeight,
    cellWidth,
    cellHeight,
  };
  // More than twenty cells a point is no survey grid, and need not be searched.
  if (width * height > 20 * x.length + 100) return null;
  return haveNeighbours(x, y, lattice) ? lattice : null;
}

/**
 * Puts points on their lattice: row-major float32, row 0 north, NaN where there is no point, the
 * mean where several points share a cell.
 */
export function placeOnLattice(
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
  lattice: Lattice,
): Float32Array {
  const data = new Float32Array(lattice.width * lattice.height).fill(NaN);
  let shared: Map<number, { sum: number; count: number }> | null = null;
  for (let i = 0; i < x.length; i++) {
    const cell = cellOf(x[i]!, y[i]!, lattice);
    if (Number.isNaN(data[cell]!)) {
      data[cell] = z[i]!;
      continue;
    }
    shared ??= new Map();
    const mean = shared.get(cell) ?? { sum: data[cell]!, count: 1 };
    mean.sum += z[i]!;
    mean.count++;
    shared.set(cell, mean);
    data[cell] = mean.sum / mean.count;
  }
  return data;
}

function axisOf(values: Float64Array): { first: number; step: number; count: number } | null {
  let low = Infinity;
  let high = -Infinity;
  let step = Infinity;
  let before = NaN;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value < low) low = value;
    if (value > high) high = value;
    const gap = Math.abs(value - before);
    if (gap > 0 && gap < step) step = gap;
    before = value;
  }
  if (!Number.isFinite(step) || !(high > low)) return null;
  const steps = Math.round((high - low) / step);
  if (steps > 1e8) return null;
  const exact = (high - low) / steps;
  for (let i = 0; i < values.length; i++) {
    const place = (values[i]! - low) / exact;
    if (Math.abs(place - Math.round(place)) > OFF_PLACE) return null;
  }
  return { first: low, step: exact, count: steps + 1 };
}

function haveNeighbours(x: Float64Array, y: Float64Array, lattice: Lattice): boolean {
  const { width, height } = lattice;
  const filled = new Uint8Array(width * height);
  for (let i = 0; i < x.length; i++) filled[cellOf(x[i]!, y[i]!, lattice)] = 1;
  let cells = 0;
  let good = 0;
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const at = row * width + column;
      if (filled[at] === 0) continue;
      cells++;
      const beside =
        (column > 0 && filled[at - 1] === 1) || (column < width - 1 && filled[at + 1] === 1);
      const above =
        (row > 0 && filled[at - width] === 1) || (row < height - 1 && filled[at + width] === 1);
      if (beside && above) good++;
    }
  }
  return good >= WITH_NEIGHBOURS * cells;
}

function cellOf(x: number, y: number, lattice: Lattice): number {
  const column = Math.round((x - lattice.west) / lattice.cellWidth - 0.5);
  const row = Math.round((lattice.north - y) / lattice.cellHeight - 0.5);
  return row * lattice.width + column;
}
