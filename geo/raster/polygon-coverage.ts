import type { CoveredCells } from './covered-cells.ts';
import { CoverageList } from './coverage-list.ts';
import type { CellLattice, RingsXY } from './polygon-mask.ts';

export interface PolygonCoverage extends CoveredCells {
  /** Summed shares of the covered cells: the polygon's area on the grid, in cells. */
  readonly coveredCells: number;
  /** The polygon's whole area, on and off the grid, in cells. */
  readonly polygonCells: number;
}

/** Closer to empty or full than this is rounding. */
const snap = 1e-12;

/**
 * The exact part of every cell that lies inside the polygon: cell and polygon clipped against each
 * other, so that shares times cell area sum to the polygon's area on the grid.
 * Rings in frame metres, the outline first, then holes; either direction; rings must not cross
 * themselves or each other and holes must lie inside (what overlaps wrongly is held to 0 to 1).
 * Method: every edge adds what it encloses to the east of it, cell by cell along each row, and the
 * running sum from west to east is the share (signed-area accumulation, as in exact scan
 * conversion of outlines). Throws RangeError for a coordinate that is not finite.
 */
export function polygonCoverage(place: CellLattice, rings: RingsXY): PolygonCoverage {
  const { edges, cells: polygonCells, left, right } = collectEdges(place, rings);
  const list = new CoverageList();
  const sums = new Float64Array(Math.max(0, right - left) + 2);
  edges.sort((a, b) => a.top - b.top);
  let active: Edge[] = [];
  let next = 0;
  let row = edges.length > 0 ? Math.max(0, Math.floor(edges[0]!.top)) : place.height;
  for (; row < place.height && (next < edges.length || active.length > 0); row++) {
    while (next < edges.length && edges[next]!.top < row + 1) active.push(edges[next++]!);
    active = active.filter((edge) => edge.bottom > row);
    for (const edge of active) addEdgeInRow(sums, edge, row, left, right);
    emitRow(sums, row, left, right - left, list);
  }
  return { ...list.finish(), polygonCells };
}

/** An edge in cell units from the grid's north-west corner, x east and y south, top end first. */
interface Edge {
  readonly top: number;
  readonly bottom: number;
  readonly xTop: number;
  readonly xBottom: number;
  /** What a full row's height of it adds to the share of the cells east of it: 1 or -1. */
  readonly sign: number;
}

function collectEdges(place: CellLattice, rings: RingsXY) {
  const edges: Edge[] = [];
  let cells = 0;
  let least = Infinity;
  let most = -Infinity;
  rings.forEach((ring, ringIndex) => {
    const twiceArea = twiceRingArea(place, ring);
    cells += ((ringIndex === 0 ? 1 : -1) * Math.abs(twiceArea)) / 2;
    const turn = (ringIndex === 0 ? 1 : -1) * Math.sign(twiceArea);
    for (let i = 0; i < ring.length; i++) {
      const [x0, y0] = inCells(place, ring[i]!);
      const [x1, y1] = inCells(place, ring[i + 1 < ring.length ? i + 1 : 0]!);
      least = Math.min(least, x0);
      most = Math.max(most, x0);
      if (y0 === y1 || Math.max(y0, y1) <= 0 || Math.min(y0, y1) >= place.height) continue;
      edges.push(
        y0 < y1
          ? { top: y0, bottom: y1, xTop: x0, xBottom: x1, sign: -turn }
          : { top: y1, bottom: y0, xTop: x1, xBottom: x0, sign: turn },
      );
    }
  });
  const left = Math.min(place.width, Math.max(0, Math.floor(least)));
  const right = Math.max(left, Math.min(place.width, Math.ceil(most)));
  return Number.isFinite(least)
    ? { edges, cells, left, right }
    : { edges, cells, left: 0, right: 0 };
}

function inCells(place: CellLattice, [x, y]: readonly [number, number]): [number, number] {
  if (!Number.isFinite(x + y)) throw new RangeError(`corner ${x}, ${y} is not finite`);
  return [(x - place.west) / place.cellWidth, (place.north - y) / place.cellHeight];
}

/** Shoelace about the first corner, in cells; positive where x-to-y (south) turns. */
function twiceRingArea(place: CellLattice, ring: RingsXY[number]): number {
  if (ring.length < 3) return 0;
  const [ox, oy] = ring[0]!;
  let sum = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[i + 1]!;
    sum += (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
  }
  return -sum / (place.cellWidth * place.cellHeight);
}

/** Adds the part of an edge that runs through one row. */
function addEdgeInRow(
  sums: Float64Array,
  edge: Edge,
  row: number,
  left: number,
  right: number,
): void {
  const top = Math.max(edge.top, row);
  const bottom = Math.min(edge.bottom, row + 1);
  if (bottom <= top) return;
  addPiece(sums, left, right, edgeX(edge, top), edgeX(edge, bottom), edge.sign * (bottom - top));
}

function edgeX({ top, bottom, xTop, xBottom }: Edge, y: number): number {
  if (y === top) return xTop;
  if (y === bottom) return xBottom;
  const x = xTop + ((y - top) / (bottom - top)) * (xBottom - xTop);
  return Math.min(Math.max(x, Math.min(xTop, xBottom)), Math.max(xTop, xBottom));
}

/**
 * A straight piece inside one row from x `a` to `b`, `gain` its height in rows with sign. The sums
 * are differences: their running sum is the share of each cell. What lies west of the window
 * counts as on its west side, what lies east of it adds nothing.
 */
function addPiece(
  sums: Float64Array,
  left: number,
  right: number,
  a: number,
  b: number,
  gain: number,
): void {
  let from = Math.min(a, b) - left;
  let to = Math.max(a, b) - left;
  const beyond = right - left;
  if (to <= 0) sums[0]! += gain;
  if (to <= 0 || from >= beyond) return;
  const cell = Math.floor(from);
  if (from >= 0 && to <= cell + 1) {
    spread(sums, cell, gain, (from + to) / 2 - cell);
    return;
  }
  const perColumn = gain / (to - from);
  if (from < 0) {
    sums[0]! += perColumn * -from;
    from = 0;
  }
  if (to > beyond) to = beyond;
  for (let column = Math.floor(from); from < to; column++) {
    const end = Math.min(to, column + 1);
    spread(sums, column, perColumn * (end - from), (from + end) / 2 - column);
    from = end;
  }
}

/** A piece inside one cell, its middle at `across` of the cell: what is east of it gets the gain. */
function spread(sums: Float64Array, column: number, gain: number, across: number): void {
  sums[column]! += gain * (1 - across);
  sums[column + 1]! += gain * across;
}

/** Turns a row of differences into shares, hands them on and clears the row. */
function emitRow(
  sums: Float64Array,
  row: number,
  left: number,
  count: number,
  list: CoverageList,
): void {
  let share = 0;
  let wholeFrom = -1;
  for (let column = 0; column < count; column++) {
    share += sums[column]!;
    sums[column] = 0;
    const isWhole = share > 1 - snap;
    if (isWhole && wholeFrom < 0) wholeFrom = column;
    if (!isWhole && wholeFrom >= 0) {
      list.addWhole(row, left + wholeFrom, left + column);
      wholeFrom = -1;
    }
    if (!isWhole && share > snap) list.addPartial(row, left + column, share);
  }
  if (wholeFrom >= 0) list.addWhole(row, left + wholeFrom, left + count);
  sums[count] = 0;
  sums[count + 1] = 0;
}
