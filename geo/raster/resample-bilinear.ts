import type { Work } from '../work.ts';

/**
 * Where a cell of the new raster lies in the old one: column and row (corner 0,0, first centre
 * 0.5,0.5) into `out[0]`, `out[1]`; NaN where it has no place there.
 */
export type ToSource = (column: number, row: number, out: Float64Array) => void;

export interface SourceCells {
  readonly data: Float32Array;
  readonly width: number;
  readonly height: number;
}

/** Size of the blocks between exactly placed points, and how far off a cell may be taken. */
const CONTROL_CELLS = 64;
const LARGEST_ERROR_CELLS = 0.04;

/**
 * Bilinear resampling through any smooth mapping. Exact places are worked out on a control grid of
 * 64 cells and interpolated between; a block whose middle or edges would be more than 0.04 source
 * cells off is split until it is not. Control-grid warping as in Wolberg (1990), "Digital Image
 * Warping", section 7.
 *
 * No data: a new cell whose nearest old cell is NaN, or that lies outside, is NaN; else the weights
 * of the missing neighbours go to the others, so that edges neither grow nor shrink by more than
 * half a cell.
 *
 * @param width of the new raster in cells; `out` row-major, row 0 first
 * @throws RangeError on arrays of the wrong length
 */
export function* resampleBilinear(
  source: SourceCells,
  toSource: ToSource,
  width: number,
  height: number,
  out: Float32Array = new Float32Array(width * height),
): Work<Float32Array> {
  if (source.data.length !== source.width * source.height) {
    throw new RangeError(`${source.data.length} cells for ${source.width} × ${source.height}`);
  }
  if (out.length !== width * height) throw new RangeError(`out of ${out.length} cells`);
  const across = Math.ceil(width / CONTROL_CELLS);
  const point = new Float64Array(2);
  const exact = (column: number, row: number): Place => {
    toSource(column + 0.5, row + 0.5, point);
    return { u: point[0], v: point[1] };
  };
  const nodes = (row: number): Place[] =>
    Array.from({ length: across + 1 }, (_, i) => exact(i * CONTROL_CELLS, row));
  const target: Target = { source, exact, out, width, height };

  let above = nodes(0);
  for (let row = 0; row < height; row += CONTROL_CELLS) {
    const below = nodes(row + CONTROL_CELLS);
    for (let i = 0; i < across; i++) {
      const block = { column: i * CONTROL_CELLS, row, size: CONTROL_CELLS };
      fillBlock(target, block, above[i], above[i + 1], below[i], below[i + 1]);
    }
    above = below;
    yield { share: Math.min(1, (row + CONTROL_CELLS) / height), doing: 'Fitting to the site' };
  }
  return out;
}

interface Place {
  readonly u: number;
  readonly v: number;
}

interface Block {
  readonly column: number;
  readonly row: number;
  readonly size: number;
}

interface Target {
  readonly source: SourceCells;
  readonly exact: (column: number, row: number) => Place;
  readonly out: Float32Array;
  readonly width: number;
  readonly height: number;
}

/** Fills the cells of a block from its four exact corners, or splits it in four. */
function fillBlock(t: Target, block: Block, nw: Place, ne: Place, sw: Place, se: Place): void {
  const { column, row, size } = block;
  if (column >= t.width || row >= t.height) return;
  if (size > 1) {
    const half = size / 2;
    const n = t.exact(column + half, row);
    const s = t.exact(column + half, row + size);
    const w = t.exact(column, row + half);
    const e = t.exact(column + size, row + half);
    const m = t.exact(column + half, row + half);
    const straight =
      isBetween(n, nw, ne) &&
      isBetween(s, sw, se) &&
      isBetween(w, nw, sw) &&
      isBetween(e, ne, se) &&
      isBetween(m, n, s) &&
      isBetween(m, w, e);
    if (!straight) {
      fillBlock(t, { column, row, size: half }, nw, n, w, m);
      fillBlock(t, { column: column + half, row, size: half }, n, ne, m, e);
      fillBlock(t, { column, row: row + half, size: half }, w, m, sw, s);
      fillBlock(t, { column: column + half, row: row + half, size: half }, m, e, s, se);
      return;
    }
  }
  if (size === 1) {
    // Exact, and right beside a corner that has no place.
    fillRow(t.source, t.out, row * t.width + column, 1, nw.u, nw.v, 0, 0);
    return;
  }
  const columns = Math.min(size, t.width - column);
  const rows = Math.min(size, t.height - row);
  for (let r = 0; r < rows; r++) {
    const share = r / size;
    const u = nw.u + (sw.u - nw.u) * share;
    const v = nw.v + (sw.v - nw.v) * share;
    const du = (ne.u + (se.u - ne.u) * share - u) / size;
    const dv = (ne.v + (se.v - ne.v) * share - v) / size;
    fillRow(t.source, t.out, (row + r) * t.width + column, columns, u, v, du, dv);
  }
}

function isBetween(middle: Place, a: Place, b: Place): boolean {
  const du = Math.abs(middle.u - (a.u + b.u) / 2);
  const dv = Math.abs(middle.v - (a.v + b.v) / 2);
  // Written so that NaN (no place there) counts as not straight.
  return du <= LARGEST_ERROR_CELLS && dv <= LARGEST_ERROR_CELLS;
}

function fillRow(
  source: SourceCells,
  out: Float32Array,
  at: number,
  count: number,
  u: number,
  v: number,
  du: number,
  dv: number,
): void {
  const { data, width } = source;
  const lastColumn = width - 1;
  const lastRow = source.height - 1;
  for (let i = 0; i < count; i++) {
    const x = u + du * i - 0.5;
    const y = v + dv * i - 0.5;
    let value = NaN;
    if (x >= 0 && y >= 0 && x < lastColumn && y < lastRow) {
      const column = x | 0;
      const row = y | 0;
      const k = row * width + column;
      const fx = x - column;
      const top = data[k] + (data[k + 1] - data[k]) * fx;
      const bottom = data[k + width] + (data[k + width + 1] - data[k + width]) * fx;
      value = top + (bottom - top) * (y - row);
    }
    out[at + i] = value === value ? value : sampleAtHole(source, x, y);
  }
}

/** One cell beside missing neighbours or the edge. `x`, `y` in cell centres. */
function sampleAtHole(source: SourceCells, x: number, y: number): number {
  const { data, width, height } = source;
  const nearestColumn = Math.floor(x + 0.5);
  const nearestRow = Math.floor(y + 0.5);
  // The footprint is closed on its far side too: a point on the last edge belongs to the last cell.
  if (!(x >= -0.5 && y >= -0.5 && x <= width - 0.5 && y <= height - 0.5)) return NaN;
  const column = Math.min(nearestColumn, width - 1);
  const row = Math.min(nearestRow, height - 1);
  if (Number.isNaN(data[row * width + column])) return NaN;
  const left = Math.floor(x);
  const top = Math.floor(y);
  let sum = 0;
  let weights = 0;
  for (let j = 0; j < 2; j++) {
    for (let i = 0; i < 2; i++) {
      const c = left + i;
      const r = top + j;
      if (c < 0 || r < 0 || c >= width || r >= height) continue;
      const value = data[r * width + c];
      if (Number.isNaN(value)) continue;
      const weight = (i ? x - left : 1 - (x - left)) * (j ? y - top : 1 - (y - top));
      sum += value * weight;
      weights += weight;
    }
  }
  return weights > 0 ? sum / weights : NaN;
}
