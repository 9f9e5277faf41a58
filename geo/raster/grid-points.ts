import Delaunator from 'delaunator';
import { ok, problem, type Result } from '../result.ts';
import type { Work } from '../work.ts';
import { mergePoints, type Points } from './merge-points.ts';

/** 48 bytes of triangles a point, and about a second a million. */
const MOST_POINTS = 4_000_000;
const ROUND_SIZES = [0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 5, 10, 20, 25, 50, 100];
/** Where the user says nothing: longer sides than this many median sides bridge a hole or a bay. */
export const LONGEST_SIDE_IN_SPACINGS = 5;

export interface GridPointsOptions {
  readonly maxCells: number;
  /** Metres; chosen from the spacing where not given. */
  readonly cellMeters?: number;
  readonly longestSideInSpacings?: number;
}

export interface GriddedPoints {
  readonly width: number;
  readonly height: number;
  readonly west: number;
  readonly north: number;
  readonly cellMeters: number;
  /** Row-major, row 0 north, NaN outside the triangles. */
  readonly data: Float32Array;
  /** Median side of the triangles, metres. */
  readonly spacingMeters: number;
  /** Points that shared a place with another. */
  readonly merged: number;
  /** Share of the hull left empty because its triangles were too long-sided. */
  readonly leftOutShare: number;
}

/**
 * Makes a grid of scattered points: Delaunay triangles, heights linear within each (Lawson 1977;
 * triangulation by the delaunator library). Points of one place are averaged; a triangle with a side
 * longer than `longestSideInSpacings` median sides is left without data. Cell: the round size nearest
 * below half the spacing, larger where the grid would pass `maxCells`; its edges lie on multiples of
 * the cell. Yields per band of triangles; the triangulation itself is one step.
 * @param points frame metres, finite, at most 4 million
 * Example: three shots at (0,0,0), (10,0,10), (0,10,0) give 2.5 at (2.5, 2.5).
 */
export function* gridPoints(
  points: Points,
  options: GridPointsOptions,
): Work<Result<GriddedPoints>> {
  yield { share: 0, doing: 'Sorting the points' };
  const merged = mergePoints(points);
  const { x, y } = merged.points;
  if (x.length < 3) {
    return few(`The file holds ${x.length === 1 ? 'one place' : `${x.length} places`} only.`);
  }
  if (x.length > MOST_POINTS) {
    return problem(
      'points-too-many-to-grid',
      `The file holds ${x.length} scattered points; ${MOST_POINTS} is the most that can be joined.`,
      'Thin the points, cut them to your ground, or open the survey as a raster instead.',
    );
  }
  const box = boxOf(x, y);
  // Relative to a corner, so that large coordinates cost no digits.
  const coords = new Float64Array(2 * x.length);
  for (let i = 0; i < x.length; i++) {
    coords[2 * i] = x[i]! - box.west;
    coords[2 * i + 1] = y[i]! - box.south;
  }
  yield { share: 0.1, doing: 'Joining the points' };
  const { triangles } = new Delaunator(coords);
  if (triangles.length === 0) return few('All points lie on one line.');
  const spacing = medianSide(coords, triangles);
  const wanted = options.cellMeters ?? roundBelow(spacing / 2);
  if (!(wanted > 0)) throw new RangeError(`cellMeters ${wanted}`);
  const limit = (options.longestSideInSpacings ?? LONGEST_SIDE_IN_SPACINGS) * spacing;
  const kept = boxOfKept(coords, triangles, limit, box);
  if (!(kept.east > kept.west && kept.north > kept.south)) {
    return few('No three points lie close enough together.');
  }
  const place = placeFor(kept, wanted, options);
  if (!place) {
    return problem(
      'points-too-wide',
      'The points spread too far for one ground at that cell size.',
      'Choose a larger cell, or take out points that lie far from the others.',
    );
  }
  const data = new Float32Array(place.width * place.height).fill(NaN);
  const target = { ...place, data, originX: box.west, originY: box.south };
  let hull = 0;
  let leftOut = 0;
  const BAND = 3 * 4096;
  for (let from = 0; from < triangles.length; from += BAND) {
    const to = Math.min(from + BAND, triangles.length);
    for (let t = from; t < to; t += 3) {
      const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
      const area = Math.abs(doubleArea(coords, a, b, c));
      hull += area;
      if (longestSide(coords, a, b, c) > limit) leftOut += area;
      else fillTriangle(coords, merged.points.z, a, b, c, target);
    }
    yield { share: 0.4 + (0.6 * to) / triangles.length, doing: 'Filling the triangles' };
  }
  if (!data.some((value) => !Number.isNaN(value))) return few('The points span no area.');
  return ok({
    ...place,
    data,
    spacingMeters: spacing,
    merged: merged.merged,
    leftOutShare: leftOut / hull,
  });
}

function few(what: string): Result<never> {
  return problem(
    'points-no-surface',
    `${what} They make no surface.`,
    'Open a file with at least three points that do not lie on one line.',
  );
}

interface Target {
  readonly width: number;
  readonly height: number;
  readonly west: number;
  readonly north: number;
  readonly cellMeters: number;
  readonly data: Float32Array;
  readonly originX: number;
  readonly originY: number;
}

/** Heights of all cell centres in one triangle, edges included. */
function fillTriangle(
  coords: Float64Array,
  z: Float64Array,
  a: number,
  b: number,
  c: number,
  target: Target,
): void {
  const area = doubleArea(coords, a, b, c);
  if (area === 0) return;
  const { width, height, cellMeters: cell, data } = target;
  const [ax, ay] = [coords[2 * a]!, coords[2 * a + 1]!];
  const [bx, by] = [coords[2 * b]!, coords[2 * b + 1]!];
  const [cx, cy] = [coords[2 * c]!, coords[2 * c + 1]!];
  const slopeX = ((z[b]! - z[a]!) * (cy - ay) - (z[c]! - z[a]!) * (by - ay)) / area;
  const slopeY = ((z[c]! - z[a]!) * (bx - ax) - (z[b]! - z[a]!) * (cx - ax)) / area;
  // First cell centre in the triangles' own coordinates.
  const x0 = target.west - target.originX + cell / 2;
  const y0 = target.north - target.originY - cell / 2;
  const top = Math.max(0, Math.ceil((y0 - Math.max(ay, by, cy)) / cell));
  const bottom = Math.min(height - 1, Math.floor((y0 - Math.min(ay, by, cy)) / cell));
  for (let row = top; row <= bottom; row++) {
    const y = y0 - row * cell;
    let low = Infinity;
    let high = -Infinity;
    for (let side = 0; side < 3; side++) {
      const px = side === 0 ? ax : side === 1 ? bx : cx;
      const py = side === 0 ? ay : side === 1 ? by : cy;
      const qx = side === 0 ? bx : side === 1 ? cx : ax;
      const qy = side === 0 ? by : side === 1 ? cy : ay;
      if ((py < y && qy < y) || (py > y && qy > y)) continue;
      if (py === qy) {
        low = Math.min(low, px, qx);
        high = Math.max(high, px, qx);
      } else {
        const x = px + ((y - py) / (qy - py)) * (qx - px);
        if (x < low) low = x;
        if (x > high) high = x;
      }
    }
    // A billionth of a cell takes in centres that lie on a side but for rounding.
    const first = Math.max(0, Math.ceil((low - x0) / cell - 1e-9));
    const last = Math.min(width - 1, Math.floor((high - x0) / cell + 1e-9));
    const base = z[a]! + slopeY * (y - ay);
    for (let column = first; column <= last; column++) {
      data[row * width + column] = base + slopeX * (x0 + column * cell - ax);
    }
  }
}

function boxOf(x: Float64Array, y: Float64Array) {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < x.length; i++) {
    if (!Number.isFinite(x[i]!) || !Number.isFinite(y[i]!)) throw new RangeError(`point ${i}`);
    west = Math.min(west, x[i]!);
    east = Math.max(east, x[i]!);
    south = Math.min(south, y[i]!);
    north = Math.max(north, y[i]!);
  }
  return { west, east, south, north };
}

/** Box of the triangles that are filled: a stray point far off does not blow up the grid. */
function boxOfKept(
  coords: Float64Array,
  triangles: Uint32Array,
  limit: number,
  from: ReturnType<typeof boxOf>,
): ReturnType<typeof boxOf> {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let t = 0; t < triangles.length; t += 3) {
    if (longestSide(coords, triangles[t]!, triangles[t + 1]!, triangles[t + 2]!) > limit) continue;
    for (let corner = t; corner < t + 3; corner++) {
      const x = from.west + coords[2 * triangles[corner]!]!;
      const y = from.south + coords[2 * triangles[corner]! + 1]!;
      west = Math.min(west, x);
      east = Math.max(east, x);
      south = Math.min(south, y);
      north = Math.max(north, y);
    }
  }
  return { west, east, south, north };
}

/** Cells that cover the box; null when they are too many at a size the user asked for. */
function placeFor(box: ReturnType<typeof boxOf>, wanted: number, options: GridPointsOptions) {
  for (let cellMeters = wanted; ; cellMeters = larger(cellMeters)) {
    const west = Math.floor(box.west / cellMeters) * cellMeters;
    const north = Math.ceil(box.north / cellMeters) * cellMeters;
    const width = Math.max(1, Math.ceil((box.east - west) / cellMeters));
    const height = Math.max(1, Math.ceil((north - box.south) / cellMeters));
    if (width * height <= options.maxCells) return { width, height, west, north, cellMeters };
    if (options.cellMeters !== undefined || cellMeters > 1000) return null;
  }
}

const larger = (cell: number) => ROUND_SIZES.find((size) => size > cell) ?? cell * 2;
const roundBelow = (size: number) =>
  ROUND_SIZES.findLast((round) => round <= size) ?? ROUND_SIZES[0]!;

/** Median of the sides of up to 100,000 triangles, evenly picked. */
function medianSide(coords: Float64Array, triangles: Uint32Array): number {
  const count = triangles.length / 3;
  const step = Math.max(1, Math.floor(count / 100_000));
  const sides = new Float64Array(3 * Math.ceil(count / step));
  let at = 0;
  for (let t = 0; t < count; t += step) {
    for (let side = 0; side < 3; side++) {
      const p = triangles[3 * t + side]!;
      const q = triangles[3 * t + ((side + 1) % 3)]!;
      sides[at++] = distance(coords, p, q);
    }
  }
  return sides.subarray(0, at).sort()[at >> 1]!;
}

const longestSide = (coords: Float64Array, a: number, b: number, c: number) =>
  Math.max(distance(coords, a, b), distance(coords, b, c), distance(coords, c, a));

// Math.hypot is ten times slower, and its care for overflow is not needed here.
function distance(coords: Float64Array, p: number, q: number): number {
  const dx = coords[2 * p]! - coords[2 * q]!;
  const dy = coords[2 * p + 1]! - coords[2 * q + 1]!;
  return Math.sqrt(dx * dx + dy * dy);
}

function doubleArea(coords: Float64Array, a: number, b: number, c: number): number {
  const [ax, ay] = [coords[2 * a]!, coords[2 * a + 1]!];
  return (
    (coords[2 * b]! - ax) * (coords[2 * c + 1]! - ay) -
    (coords[2 * c]! - ax) * (coords[2 * b + 1]! - ay)
  );
}
