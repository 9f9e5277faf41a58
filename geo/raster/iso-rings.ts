import type { Work } from '../work.ts';
import { crossingShare, followEdges, isSaddle, joinSquare } from './marching-squares.ts';
import { rowsPerBand } from './row-bands.ts';

/**
 * Closed outlines of where a field lies above a level.
 */

/** Corners as [column, row] of cell centres, row down, first corner not repeated. */
export type IsoRing = [number, number][];

/**
 * Rings round every part of a field that lies above `level`: outer rings run counter-clockwise as
 * seen with row 0 at the top, holes clockwise. Row-major, row 0 north; NaN counts as below, and so
 * does everything beyond the rim, so that every ring closes.
 * Method: marching squares with linear crossings between cell centres; a saddle joins or parts by
 * the mean of its four corners. Crossings next to NaN or the rim are half way. A crossing keeps
 * 1/1024 of a cell off the centres, so that rings never touch themselves or each other, not even
 * round a centre that lies exactly at the level (the spill of a low spot does).
 * Yields per band of rows. Throws RangeError where the field is not width × height.
 * Example: one cell of 1 among zeros at level 0.5 gives a diamond of half a cell's reach.
 */
export function* isoRings(
  field: ArrayLike<number>,
  width: number,
  height: number,
  level: number,
): Work<IsoRing[]> {
  if (field.length !== width * height) {
    throw new RangeError(`a field of ${field.length} is not ${width} x ${height}`);
  }
  const walk: Walk = {
    // A rim of "below" all round closes every ring; edges are numbered in the widened grid.
    wide: width + 2,
    level,
    at: (row, column) =>
      row < 1 || column < 1 || row > height || column > width
        ? NaN
        : field[(row - 1) * width + column - 1]!,
    next: new Map(),
  };
  const band = rowsPerBand(width);
  for (let row = 0; row <= height; row += band) {
    const end = Math.min(height + 1, row + band);
    for (let r = row; r < end; r++) linkRow(walk, r);
    yield { share: end / (height + 1), doing: 'drawing outlines' };
  }
  return trace(walk);
}

interface Walk {
  readonly wide: number;
  readonly level: number;
  at(row: number, column: number): number;
  /** From the edge where a piece of outline enters a square to the edge where it leaves. */
  readonly next: Map<number, number>;
}

/** The squares between one row of the widened grid and the next. */
function linkRow({ wide, level, at, next }: Walk, row: number): void {
  const join = (from: number, to: number) => void next.set(from, to);
  let west = 0;
  for (let column = 0; column < wide - 1; column++) {
    // Bits 4 and 2 for the two corners on the east side; next square they are on its west side.
    const east = (at(row, column + 1) > level ? 4 : 0) + (at(row + 1, column + 1) > level ? 2 : 0);
    const sort = west + east;
    west = (east & 4) * 2 + (east & 2) / 2;
    if (sort === 0 || sort === 15) continue;
    const top = 2 * (row * wide + column);
    const left = top + 1;
    const bottom = 2 * ((row + 1) * wide + column);
    const right = 2 * (row * wide + column + 1) + 1;
    const middleIsAbove = isSaddle(sort) && meanOfSquare(at, row, column) > level;
    joinSquare(sort, middleIsAbove, top, right, bottom, left, join);
  }
}

function meanOfSquare(
  at: (row: number, column: number) => number,
  row: number,
  column: number,
): number {
  return (
    (at(row, column) + at(row, column + 1) + at(row + 1, column) + at(row + 1, column + 1)) / 4
  );
}

function trace({ next, wide, level, at }: Walk): IsoRing[] {
  const rings: IsoRing[] = [];
  // Edges that a ring took are passed over: they are no longer there when their turn comes.
  for (const first of next.keys()) {
    const { edges } = followEdges(next, first);
    rings.push(edges.map((edge) => crossing(edge, wide, level, at)));
  }
  return rings;
}

/** Where the level is crossed on an edge between two neighbouring centres, back in the field. */
function crossing(
  edge: number,
  wide: number,
  level: number,
  at: (row: number, column: number) => number,
): [number, number] {
  const cell = edge >> 1;
  const row = Math.floor(cell / wide);
  const column = cell - row * wide;
  const down = (edge & 1) === 1;
  const a = at(row, column);
  const b = down ? at(row + 1, column) : at(row, column + 1);
  const t = crossingShare(a, b, level);
  return down ? [column - 1, row - 1 + t] : [column - 1 + t, row - 1];
}
