import type { GridPlace } from './grid.ts';
import type { CellSpans } from './covered-cells.ts';

/** Rings of one polygon in frame metres, closed or not; first the outline, then the holes. */
export type RingsXY = readonly (readonly (readonly [number, number])[])[];

export type CellLattice = Pick<
  GridPlace,
  'width' | 'height' | 'west' | 'north' | 'cellWidth' | 'cellHeight'
>;

/**
 * Cells whose centre lies inside the polygon (even-odd rule, so holes are out and ring direction
 * does not matter), as spans sorted by row, then column.
 * A centre exactly on an edge goes to one side only: to the polygon east of the edge, or south of
 * a level one. So polygons that share an edge, corner for corner, share no cell and leave none out.
 * Cells off the grid are left out. Throws RangeError for a coordinate that is not finite.
 */
export function polygonMask(place: CellLattice, rings: RingsXY): CellSpans {
  const { width, height } = place;
  const crossings = new Int32Array(height + 1);
  eachCrossing(place, rings, (row) => crossings[row + 1]!++);
  for (let row = 0; row < height; row++) crossings[row + 1]! += crossings[row]!;
  const columns = new Int32Array(crossings[height]!);
  const next = crossings.slice(0, height);
  eachCrossing(place, rings, (row, column) => {
    columns[next[row]!++] = column < 0 ? 0 : column > width ? width : column;
  });
  return spansBetween(columns, crossings, height);
}

/** Sorts the crossings of every row and pairs them, leaving out pairs with no cell between. */
function spansBetween(columns: Int32Array, firstOfRow: Int32Array, height: number): CellSpans {
  const most = columns.length >> 1;
  const spanRow = new Int32Array(most);
  const start = new Int32Array(most);
  const end = new Int32Array(most);
  let count = 0;
  for (let row = 0; row < height; row++) {
    const from = firstOfRow[row]!;
    const to = firstOfRow[row + 1]!;
    if (to > from) columns.subarray(from, to).sort();
    for (let i = from; i + 1 < to; i += 2) {
      if (columns[i]! >= columns[i + 1]!) continue;
      const touches = count > 0 && spanRow[count - 1] === row && end[count - 1] === columns[i];
      if (!touches) {
        spanRow[count] = row;
        start[count] = columns[i]!;
        count++;
      }
      end[count - 1] = columns[i + 1]!;
    }
  }
  return { count, row: spanRow, start, end };
}

/**
 * For every row whose centre line an edge crosses, the first column with its centre at or east of
 * the crossing. Edges are taken from north to south whichever way they run, so the shared edge of
 * two polygons gives both the same column to the last bit.
 */
function eachCrossing(
  place: CellLattice,
  rings: RingsXY,
  found: (row: number, column: number) => void,
): void {
  const { height, west, north, cellWidth, cellHeight } = place;
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i++) {
      let [x0, y0] = ring[i]!;
      let [x1, y1] = ring[i + 1 < ring.length ? i + 1 : 0]!;
      if (!Number.isFinite(x0 + y0)) throw new RangeError(`corner ${x0}, ${y0} is not finite`);
      if (y0 === y1) continue;
      if (y0 < y1) [x0, y0, x1, y1] = [x1, y1, x0, y0];
      // Rows whose centre is at or below the upper end and above the lower one.
      const first = Math.max(0, Math.ceil((north - y0) / cellHeight - 0.5));
      const beyond = Math.min(height, Math.ceil((north - y1) / cellHeight - 0.5));
      for (let row = first; row < beyond; row++) {
        const y = north - (row + 0.5) * cellHeight;
        const x = x0 + ((y0 - y) / (y0 - y1)) * (x1 - x0);
        found(row, Math.ceil((x - west) / cellWidth - 0.5));
      }
    }
  }
}
