import type { Work } from '../work.ts';
import type { Grid } from './grid.ts';
import { above, crossingShare, followEdges, isSaddle, joinSquare } from './marching-squares.ts';
import { rowsPerBand } from './row-bands.ts';

/** A line of one height, higher ground on its left hand. */
export interface ContourLine {
  readonly levelMeters: number;
  /** Comes round to its first point, which is not repeated. */
  readonly closed: boolean;
  /** x, y, x, y … in frame metres. */
  readonly coordinates: Float64Array;
}

/** Above this the interval is a slip: nobody reads so many lines. */
const mostLevels = 20_000;

/**
 * Contour lines of a ground at every whole multiple of an interval above (and below) a base height.
 * Row-major, row 0 north; lines run between cell centres: they end half a cell inside the rim and
 * beside cells without data (NaN). Ground exactly at a level counts as below it.
 * Method: marching squares, crossings linear between neighbouring centres and 1/1024 of a cell off
 * them; at a saddle the mean of the four corners decides whether its high corners join. All levels
 * are found in one pass over the cells. Levels rise; within one, open lines come first.
 * Yields per band of rows and per level. Throws RangeError for an interval that is not above 0 or
 * that would give more than 20,000 levels.
 * Example: a plane that rises 1 m in 10 m, at 1 m, gives straight lines 10 m apart.
 */
export function* contourLines(
  grid: Grid,
  intervalMeters: number,
  baseMeters = 0,
): Work<ContourLine[]> {
  if (!(intervalMeters > 0 && Number.isFinite(intervalMeters + baseMeters))) {
    throw new RangeError(`contours every ${intervalMeters} m from ${baseMeters} m`);
  }
  const levels = new Map<number, Pieces>();
  const band = rowsPerBand(grid.width);
  for (let row = 0; row + 1 < grid.height; row += band) {
    const end = Math.min(grid.height - 1, row + band);
    for (let r = row; r < end; r++) collectRow(grid, r, intervalMeters, baseMeters, levels);
    yield { share: (0.8 * end) / grid.height, doing: 'drawing contours' };
  }
  const lines: ContourLine[] = [];
  let done = 0;
  for (const k of [...levels.keys()].sort((a, b) => a - b)) {
    traceLevel(grid, baseMeters + k * intervalMeters, levels.get(k)!, lines);
    levels.delete(k);
    done++;
    yield { share: 0.8 + (0.2 * done) / (done + levels.size), doing: 'drawing contours' };
  }
  return lines;
}

/** Joined pairs of edges of one level; an edge is twice its cell, plus 1 where it runs down. */
interface Pieces {
  count: number;
  pairs: Int32Array;
}

function collectRow(
  { data, width }: Grid,
  row: number,
  interval: number,
  base: number,
  levels: Map<number, Pieces>,
): void {
  const north = row * width;
  const south = north + width;
  let pieces: Pieces;
  const join = (from: number, to: number) => addPair(pieces, from, to);
  for (let column = 0; column + 1 < width; column++) {
    const nw = data[north + column];
    const ne = data[north + column + 1];
    const se = data[south + column + 1];
    const sw = data[south + column];
    const sum = nw + ne + se + sw;
    if (sum !== sum) continue;
    const low = Math.min(nw, ne, se, sw);
    const high = Math.max(nw, ne, se, sw);
    // One level more at both ends: the comparisons below decide, not the division.
    let k = Math.floor((low - base) / interval);
    const last = Math.ceil((high - base) / interval);
    if (last - k > mostLevels) throw new RangeError(`contours every ${interval} m are too many`);
    for (; k <= last; k++) {
      const level = base + k * interval;
      if (level < low || level >= high) continue;
      const sort =
        (nw > level ? above.northWest : 0) +
        (ne > level ? above.northEast : 0) +
        (se > level ? above.southEast : 0) +
        (sw > level ? above.southWest : 0);
      pieces = levelAt(levels, k);
      const top = 2 * (north + column);
      const bottom = 2 * (south + column);
      joinSquare(sort, isSaddle(sort) && sum / 4 > level, top, top + 3, bottom, top + 1, join);
    }
  }
}

function levelAt(levels: Map<number, Pieces>, k: number): Pieces {
  let pieces = levels.get(k);
  if (!pieces) {
    if (levels.size >= mostLevels) throw new RangeError(`more than ${mostLevels} contour levels`);
    pieces = { count: 0, pairs: new Int32Array(256) };
    levels.set(k, pieces);
  }
  return pieces;
}

function addPair(pieces: Pieces, from: number, to: number): void {
  if (pieces.count === pieces.pairs.length) {
    const more = new Int32Array(2 * pieces.pairs.length);
    more.set(pieces.pairs);
    pieces.pairs = more;
  }
  pieces.pairs[pieces.count++] = from;
  pieces.pairs[pieces.count++] = to;
}

function traceLevel(grid: Grid, level: number, { count, pairs }: Pieces, lines: ContourLine[]) {
  const next = new Map<number, number>();
  const reached = new Set<number>();
  for (let i = 0; i < count; i += 2) {
    next.set(pairs[i], pairs[i + 1]);
    reached.add(pairs[i + 1]);
  }
  const follow = (first: number) => {
    const { edges, closed } = followEdges(next, first);
    const coordinates = new Float64Array(2 * edges.length);
    edges.forEach((edge, i) => placeCrossing(grid, level, edge, coordinates, 2 * i));
    lines.push({ levelMeters: level, closed, coordinates });
  };
  // Open lines from where they begin; what is left then runs in rounds.
  for (const first of next.keys()) if (!reached.has(first)) follow(first);
  for (const first of next.keys()) follow(first);
}

function placeCrossing(
  { data, width, west, north, cellWidth, cellHeight }: Grid,
  level: number,
  edge: number,
  out: Float64Array,
  at: number,
): void {
  const cell = edge >> 1;
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  const down = (edge & 1) === 1;
  const t = crossingShare(data[cell], data[cell + (down ? width : 1)], level);
  out[at] = west + (column + 0.5 + (down ? 0 : t)) * cellWidth;
  out[at + 1] = north - (row + 0.5 + (down ? t : 0)) * cellHeight;
}
