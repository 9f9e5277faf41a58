import { nodeSegments } from './node-segments.ts';
import { segmentArrays } from './segments.ts';
import { windEdges } from './wind-edges.ts';

/**
 * Straight lines laid over each other, cut wherever they meet: the ground on which areas are
 * joined, cut, split and buffered.
 */

export type XY = readonly [number, number];

/** A chain of straight pieces that belongs to a layer. */
export interface Path {
  readonly points: readonly XY[];
  /** Runs back to its first point (which may be repeated at the end or not). */
  readonly closed: boolean;
  /** Which layer's winding number it changes, from 0. */
  readonly layer: number;
  /** 1: what lies left of it is once more inside; 0: a cut, which bounds nothing. Default 1. */
  readonly weight?: 0 | 1;
  /** Any number above 0; kept on the edges that the path leaves. Default 0. */
  readonly tag?: number;
}

/** Vertices and the edges between them; edges meet at vertices only. */
export interface Arrangement {
  readonly layers: number;
  /** Vertices from west to east, then south to north, in units from the origin. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** 1 where a path has a corner or an end, 0 where paths only cross. */
  readonly isCorner: Uint8Array;
  /** Edges from the lower vertex index to the higher. */
  readonly edges: number;
  readonly from: Uint32Array;
  readonly to: Uint32Array;
  readonly tag: Uint32Array;
  /** Winding numbers left of and right of each edge: `[edge × layers + layer]`. */
  readonly left: Int16Array;
  readonly right: Int16Array;
  /** Where 0, 0 lies in the plane, and how long one unit is. */
  readonly origin: XY;
  readonly unit: number;
}

/** 2^-30 m, a billionth of a metre: what a double still holds of a northing of 4,000 km. */
export const planeUnitMeters = 2 ** -30;

/** Coordinates reach this many units from the origin at most, so that differences stay whole. */
const farthest = 2 ** 51;

/**
 * Lays paths over each other. Corners go to the nearest multiple of `unit`; where lines cross, the
 * crossing does too, and every line that passes through the unit square round a vertex is led
 * through that vertex. So edges meet at vertices only and nothing is left to rounding.
 * Source: snap rounding, Hobby 1999, Computational Geometry 13:199–214.
 * Coordinates in metres (or any other unit), x east, y north. Pieces without length vanish.
 * Throws RangeError for coordinates that are not finite or 2^51 units from the middle.
 */
export function arrange(
  paths: readonly Path[],
  layers: number,
  unit: number = planeUnitMeters,
): Arrangement {
  const origin = middleOf(paths, unit);
  let count = 0;
  for (const { points, closed } of paths) count += Math.max(0, points.length - (closed ? 0 : 1));
  const segments = segmentArrays(count);
  const layer = new Uint16Array(count);
  const weight = new Int8Array(count);
  const tag = new Uint32Array(count);
  let n = 0;
  for (const path of paths) {
    const { points, closed } = path;
    for (let i = closed ? 0 : 1; i < points.length; i++) {
      const [ax, ay] = points[i > 0 ? i - 1 : points.length - 1];
      const [bx, by] = points[i];
      segments.ax[n] = inUnits(ax - origin[0], unit);
      segments.ay[n] = inUnits(ay - origin[1], unit);
      segments.bx[n] = inUnits(bx - origin[0], unit);
      segments.by[n] = inUnits(by - origin[1], unit);
      layer[n] = path.layer;
      weight[n] = path.weight ?? 1;
      tag[n] = path.tag ?? 0;
      n++;
    }
  }
  const noded = nodeSegments(segments, layer, weight, tag, layers);
  return { ...noded, ...windEdges(noded, layers), layers, origin, unit };
}

/** A vertex's place in the plane. */
export function placeOf(a: Arrangement, vertex: number): [number, number] {
  return [a.origin[0] + a.x[vertex] * a.unit, a.origin[1] + a.y[vertex] * a.unit];
}

function middleOf(paths: readonly Path[], unit: number): XY {
  let west = Infinity;
  let east = -Infinity;
  let south = Infinity;
  let north = -Infinity;
  for (const { points } of paths) {
    for (const [x, y] of points) {
      if (!Number.isFinite(x + y)) throw new RangeError(`corner ${x}, ${y} is not finite`);
      if (x < west) west = x;
      if (x > east) east = x;
      if (y < south) south = y;
      if (y > north) north = y;
    }
  }
  if (west === Infinity) return [0, 0];
  const whole = (n: number) => Math.round(n / unit) * unit;
  return [whole((west + east) / 2), whole((south + north) / 2)];
}

function inUnits(length: number, unit: number): number {
  const units = Math.round(length / unit);
  if (Math.abs(units) > farthest) throw new RangeError(`${length} is too far for units of ${unit}`);
  // No minus zero: it would make two vertices of one.
  return units + 0;
}
