import type { Frame } from '../../frame/crs-types.ts';
import { ok, problem, type Result } from '../../result.ts';
import type { PlanGeometry } from '../feature.ts';
import type { XY } from '../overlay/arrangement.ts';
import { overlay, type Layer } from '../overlay/overlay.ts';
import { rawOffset, roundEnd, roundPoint, type Join } from '../overlay/raw-offset.ts';
import type { PlanePolygon } from '../overlay/ring-areas.ts';
import {
  frameMetersPerGroundMeter,
  ringsToPlane,
  toPlane,
  toPlanPolygons,
  type PolygonGeometry,
} from './plan-plane.ts';

/** Chords of a buffer's arcs stray from the circle by at most this, to the inside: 1 cm. */
export const bufferChordErrorMeters = 0.01;

/**
 * The ground within a distance of a point, line or area, as areas; below 0, an area less the strip
 * of that width along its edges. Distance in metres on the ground, to within 1e-5 of it over a
 * site. Arcs are chords whose ends lie on the circle, off it by at most 1 cm, so an area comes out
 * that little too small (grown) or too large (shrunk).
 * Several areas come back where an area falls apart when shrunk. Largest first.
 * Throws RangeError for a distance that is not finite or where the frame has no place.
 * Example: a square of 100 m grown by 10 m has 10,000 + 400 × 10 + π × 100 m², less 0.3 m².
 */
export function bufferGeometry(
  geometry: PlanGeometry,
  distanceMeters: number,
  frame: Frame,
): Result<PolygonGeometry[]> {
  if (!Number.isFinite(distanceMeters)) throw new RangeError(`a distance of ${distanceMeters}`);
  if (distanceMeters === 0 || (distanceMeters < 0 && geometry.type !== 'Polygon')) {
    return problem(
      'buffer-without-width',
      'A strip needs a width above zero.',
      'Type how far the new edge shall stand off, in feet or metres.',
    );
  }
  const plane = planeOf(geometry, frame);
  const distance = distanceMeters * frameMetersPerGroundMeter(frame, plane[0][0]);
  const error = bufferChordErrorMeters;
  const made =
    geometry.type === 'Polygon'
      ? bufferPolygon(plane, distance, error)
      : bufferLine(plane[0], distance, error);
  const polygons = toPlanPolygons(frame, made);
  if (polygons.length > 0) return ok(polygons);
  return problem(
    'buffer-nothing-left',
    'Nothing is left of the area: it is narrower than twice that width.',
    'Take a smaller width.',
  );
}

function planeOf(geometry: PlanGeometry, frame: Frame): XY[][] {
  if (geometry.type === 'Polygon') return ringsToPlane(frame, geometry);
  if (geometry.type === 'LineString') return [toPlane(frame, geometry.coordinates)];
  return [toPlane(frame, [geometry.coordinates])];
}

/** Rings grown (above 0) or shrunk (below) by a distance in the plane. */
export function bufferPolygon(
  rings: readonly (readonly XY[])[],
  distance: number,
  chordErrorMeters: number,
): PlanePolygon[] {
  const join: Join = { join: 'round', chordErrorMeters };
  const sound = overlay([{ rings, rule: 'even-odd' }], ([inside]) => inside);
  if (distance > 0) {
    // Outer rings run counter-clockwise, holes clockwise: outside is right of both.
    const raw = sound.flatMap((part) => part.map((ring) => rawOffset(ring, distance, true, join)));
    return overlay([{ rings: raw, rule: 'positive' }], ([inside]) => inside);
  }
  const strips = sound.flatMap((part) =>
    part.map((ring) => aroundLine([...ring, ring[0]], -distance, chordErrorMeters)),
  );
  const area: Layer = { rings: sound.flat(), rule: 'even-odd' };
  return overlay([area, { rings: strips, rule: 'positive' }], ([inside, near]) => inside && !near);
}

/** The ground within a distance of a line, or of a point given as a line of one. */
export function bufferLine(
  line: readonly XY[],
  distance: number,
  chordErrorMeters: number,
): PlanePolygon[] {
  const ring = aroundLine(line, distance, chordErrorMeters);
  return overlay([{ rings: [ring], rule: 'positive' }], ([inside]) => inside);
}

/**
 * Walks once round a line (or a line of one point), there on its right and back on its left: a ring
 * to be filled by the `positive` rule, as it runs over itself inside bends.
 */
export function aroundLine(line: readonly XY[], distance: number, chordErrorMeters: number): XY[] {
  const join: Join = { join: 'round', chordErrorMeters };
  const there = withoutRepeats(line);
  if (there.length < 2) return roundPoint(line[0], distance, chordErrorMeters);
  const back = [...there].reverse();
  return [
    ...rawOffset(there, distance, false, join),
    ...roundEnd(back[1], back[0], distance, chordErrorMeters),
    ...rawOffset(back, distance, false, join),
    ...roundEnd(there[1], there[0], distance, chordErrorMeters),
  ];
}

export function withoutRepeats(line: readonly XY[]): XY[] {
  return line.filter((p, i) => i === 0 || p[0] !== line[i - 1][0] || p[1] !== line[i - 1][1]);
}
