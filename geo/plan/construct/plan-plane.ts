import type { Frame } from '../../frame/crs-types.ts';
import { roundDegrees, type PlanGeometry, type Position } from '../feature.ts';
import type { XY } from '../overlay/arrangement.ts';
import { overlay } from '../overlay/overlay.ts';
import type { PlanePolygon } from '../overlay/ring-areas.ts';

/** Between the plan's degrees and the site frame's metres, where constructions are made. */

export type PolygonGeometry = Extract<PlanGeometry, { type: 'Polygon' }>;
export type LineGeometry = Extract<PlanGeometry, { type: 'LineString' }>;

/** Pieces smaller than this are leavings of rounding, not ground: 1 cm². */
export const leastPieceSquareMeters = 1e-4;

/** Throws RangeError where the frame has no place for a position. */
export function toPlane(frame: Frame, line: readonly Position[]): XY[] {
  return line.map(([lng, lat]) => frame.fromLngLat(lng, lat));
}

/** Rings as frame metres, first corners not repeated. */
export function ringsToPlane(frame: Frame, polygon: PolygonGeometry): XY[][] {
  return polygon.coordinates.map((ring) => toPlane(frame, ring.slice(0, -1)));
}

export function toPosition(frame: Frame, [x, y]: XY): Position {
  const [lng, lat] = frame.toLngLat(x, y);
  return [roundDegrees(lng), roundDegrees(lat)];
}

/** Frame metres to one metre of ground at a place: 0.9996 on a UTM zone's middle. */
export function frameMetersPerGroundMeter(frame: Frame, [x, y]: XY): number {
  return 1 / Math.sqrt(frame.distortionAt(x, y).groundAreaPerFrameArea);
}

/**
 * Polygons of the plane as plan geometry, sound after their corners are rounded to 1e-9 degree:
 * where rounding lays a corner on another edge the outline is led through it, and a hole that
 * touches its outline in one corner is drawn in there by a millimetre. Pieces under 1 cm² go.
 * Largest first.
 */
export function toPlanPolygons(frame: Frame, polygons: readonly PlanePolygon[]): PolygonGeometry[] {
  return polygons
    .filter((rings) => planeArea(rings) >= leastPieceSquareMeters)
    .flatMap((rings) => soundInDegrees(rings.map((ring) => ring.map((p) => toPosition(frame, p)))))
    .map((rings) => ({
      type: 'Polygon',
      coordinates: apart(rings).map((ring) => [...ring, ring[0]]),
    }));
}

const degreeUnit = 1e-9;

/** The same outlines on the lattice of stored degrees, cut anew where rounding made them meet. */
function soundInDegrees(rings: Position[][]): Position[][][] {
  const least = leastPieceSquareMeters / 111_000 ** 2;
  return overlay([{ rings, rule: 'even-odd' }], ([inside]) => inside, degreeUnit)
    .filter((part) => planeArea(part) >= least)
    .map((part) =>
      part.map((ring) => ring.map(([x, y]): Position => [roundDegrees(x), roundDegrees(y)])),
    );
}

/** One millimetre, in degrees. */
const hair = 1e-8;

/** Draws holes in where they share a corner with the outline or another hole. */
function apart(rings: Position[][]): Position[][] {
  if (rings.length < 2) return rings;
  const seen = new Set(rings[0].map(String));
  return rings.map((ring, i) => {
    if (i === 0) return ring;
    const pulled = ring.map((corner, k): Position => {
      if (!seen.has(String(corner))) return corner;
      const before = ring[(k + ring.length - 1) % ring.length];
      const after = ring[(k + 1) % ring.length];
      const dx = (before[0] + after[0]) / 2 - corner[0];
      const dy = (before[1] + after[1]) / 2 - corner[1];
      const step = hair / (Math.hypot(dx, dy) || 1);
      return [roundDegrees(corner[0] + dx * step), roundDegrees(corner[1] + dy * step)];
    });
    for (const corner of ring) seen.add(String(corner));
    return pulled;
  });
}

/** Outer ring less holes, square units. */
export function planeArea(rings: readonly (readonly XY[])[]): number {
  return rings.reduce((sum, ring, i) => {
    const area = Math.abs(signedArea(ring));
    return i === 0 ? area : sum - area;
  }, 0);
}

/** Above 0 where the ring runs counter-clockwise. */
export function signedArea(ring: readonly XY[]): number {
  const [ox, oy] = ring[0] ?? [0, 0];
  let twice = 0;
  for (let i = 2; i < ring.length; i++) {
    const [ax, ay] = ring[i - 1];
    const [bx, by] = ring[i];
    twice += (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
  }
  return twice / 2;
}
