import { simplifyLine } from '../plan/construct/simplify.ts';
import type { GridPlace } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { isCrest, nextAlong, type FlowGround } from './flow-crest.ts';
import type { FlowCatchments } from './flow-lines.ts';

/** Where flow runs together, from where it begins down to where it ends or joins another. */
export interface FlowLine {
  /** Frame x and y, metres, downhill. */
  readonly points: readonly (readonly [number, number])[];
  /** Ground that drains through each point, square metres. */
  readonly catchmentSquareMeters: readonly number[];
  /** Place in the list of the line that this one runs into; null where its water ends. */
  readonly into: number | null;
}

export interface FlowLineOptions {
  /** Lines begin where this much ground drains through one cell. */
  readonly thresholdSquareMeters: number;
  /** Shorter lines are left out; default 20 m. */
  readonly minLengthMeters?: number;
  /** How far the drawn line may stray from the cells; default one cell. */
  readonly toleranceMeters?: number;
}

/**
 * The lines along which water runs together, for the map: width by the catchment at each point.
 *
 * A line begins at a cell that drains the threshold and is a crest of the catchments: more water
 * goes through it than through its neighbours on either side of its course (a plain slope drains
 * any threshold at its foot, but nothing runs together there, and no line is drawn). It follows
 * the lower neighbour with the largest catchment, over flats the way that water takes, and ends
 * where water leaves the site, in a hollow that was not filled, or beside a line that drains more.
 * The highest beginnings go first. Where one joins, the line joined keeps a corner.
 * Simplified by Douglas & Peucker 1973. Row-major, row 0 north; NaN no data.
 * @param filled the ground that `flow` was worked out on, metres
 * Throws RangeError for a threshold that is not above 0 or arrays of another length.
 * Example: a straight V-shaped draw gives one line down its middle.
 */
export function* traceFlowLines(
  place: GridPlace,
  filled: Float32Array,
  flow: FlowCatchments,
  options: FlowLineOptions,
): Work<FlowLine[]> {
  const { width, height, cellWidth, cellHeight } = place;
  const { thresholdSquareMeters, minLengthMeters = 20 } = options;
  const toleranceMeters = options.toleranceMeters ?? Math.max(cellWidth, cellHeight);
  const area = flow.areaSquareMeters;
  if (!(thresholdSquareMeters > 0)) {
    throw new RangeError(`lines from a catchment of ${thresholdSquareMeters} m²`);
  }
  for (const { length } of [filled, area, flow.pointers]) {
    if (length !== width * height) {
      throw new RangeError(`an array of ${length} for ${width} × ${height} cells`);
    }
  }
  const ground: FlowGround = { width, height, z: filled, area, pointers: flow.pointers };
  const heads = yield* findHeads(ground, thresholdSquareMeters);
  const drawn = new Map<number, number>();
  const courses: Course[] = [];
  for (const [i, head] of heads.entries()) {
    if (!drawn.has(head)) {
      const course = follow(ground, head, drawn);
      if (courseMeters(course.cells, place) >= minLengthMeters) {
        for (const cell of course.cells) if (!drawn.has(cell)) drawn.set(cell, courses.length);
        courses.push(course);
      }
    }
    if (i % 64 === 63) yield { share: 0.5 + (0.5 * i) / heads.length, doing: 'tracing flow lines' };
  }
  const joints = new Set(courses.filter(({ into }) => into !== null).map((c) => c.cells.at(-1)!));
  return courses.map((course) => asLine(course, place, area, joints, toleranceMeters));
}

/** Cells of a line from its beginning; the last one lies on the line `into`, if any. */
interface Course {
  readonly cells: number[];
  readonly into: number | null;
}

/** Crests over the threshold, the highest first, then by index. */
function* findHeads(ground: FlowGround, threshold: number): Work<number[]> {
  const { width, height, area, z } = ground;
  const heads: number[] = [];
  const band = Math.max(1, rowsPerBand(width) >> 1);
  for (let row = 0; row < height; row++) {
    const end = (row + 1) * width;
    for (let cell = row * width; cell < end; cell++) {
      if (area[cell]! >= threshold && isCrest(ground, cell)) heads.push(cell);
    }
    if (row % band === 0) {
      yield { share: (0.5 * row) / height, doing: 'finding where flow runs together' };
    }
  }
  return heads.sort((a, b) => z[b]! - z[a]! || a - b);
}

function follow(ground: FlowGround, head: number, drawn: ReadonlyMap<number, number>): Course {
  const cells = [head];
  for (let cell = head; ;) {
    const beside = besideLine(ground, cell, drawn);
    if (beside >= 0) {
      cells.push(beside);
      return { cells, into: drawn.get(beside)! };
    }
    cell = nextAlong(ground, cell);
    if (cell < 0) return { cells, into: null };
    cells.push(cell);
    const line = drawn.get(cell);
    if (line !== undefined) return { cells, into: line };
  }
}

/** The neighbour on a drawn line that drains most, and no less than the cell itself; else -1. */
function besideLine(
  { width, height, area }: FlowGround,
  cell: number,
  drawn: ReadonlyMap<number, number>,
): number {
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  let best = -1;
  let most = area[cell]!;
  for (let r = Math.max(0, row - 1); r <= Math.min(height - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(width - 1, column + 1); c++) {
      const near = r * width + c;
      if (near === cell || !(area[near]! >= most) || !drawn.has(near)) continue;
      best = near;
      most = area[near]!;
    }
  }
  return best;
}

function courseMeters(
  cells: readonly number[],
  { width, cellWidth, cellHeight }: GridPlace,
): number {
  let length = 0;
  for (let i = 1; i < cells.length; i++) {
    const rows = Math.floor(cells[i]! / width) - Math.floor(cells[i - 1]! / width);
    const columns = cells[i]! - cells[i - 1]! - rows * width;
    length += Math.hypot(columns * cellWidth, rows * cellHeight);
  }
  return length;
}

/** Cell centres in the frame, thinned between the places where other lines join. */
function asLine(
  { cells, into }: Course,
  { width, west, north, cellWidth, cellHeight }: GridPlace,
  area: Float64Array,
  joints: ReadonlySet<number>,
  tolerance: number,
): FlowLine {
  const all = cells.map((cell): [number, number] => {
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    return [west + (column + 0.5) * cellWidth, north - (row + 0.5) * cellHeight];
  });
  const points: [number, number][] = [];
  const catchments: number[] = [];
  for (let from = 0; from < cells.length - 1;) {
    let to = from + 1;
    while (to < cells.length - 1 && !joints.has(cells[to]!)) to++;
    const keep = simplifyLine(all.slice(from, to + 1), tolerance);
    for (let i = from; i <= to; i++) {
      if (keep[i - from] !== 1 || (i === from && from > 0)) continue;
      points.push(all[i]!);
      catchments.push(area[cells[i]!]!);
    }
    from = to;
  }
  return { points, catchmentSquareMeters: catchments, into };
}
