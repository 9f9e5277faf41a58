import type { Frame } from '../../geo/frame/crs-types.ts';
import { trackAccuracy } from '../../geo/formats/vector/track-accuracy.ts';
import { lineLengthMeters, measurePolygon } from '../../geo/frame/geodesic.ts';
import { zoneFrame } from '../../geo/frame/zone-frame.ts';
import { bufferGeometry } from '../../geo/plan/construct/buffer.ts';
import { cutHole } from '../../geo/plan/construct/cut-hole.ts';
import { duplicateFeature } from '../../geo/plan/construct/duplicate.ts';
import { middleOf, positionsOf } from '../../geo/plan/construct/map-positions.ts';
import { mergePolygons } from '../../geo/plan/construct/merge-polygons.ts';
import { moveByBearing } from '../../geo/plan/construct/move.ts';
import { offsetLine } from '../../geo/plan/construct/offset-line.ts';
import type { LineGeometry, PolygonGeometry } from '../../geo/plan/construct/plan-plane.ts';
import { rotateGeometry } from '../../geo/plan/construct/rotate.ts';
import { simplifyGeometry } from '../../geo/plan/construct/simplify.ts';
import { splitPolygon } from '../../geo/plan/construct/split-polygon.ts';
import type { PlanFeature, PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { repairOutline, type RepairedOutline } from '../../geo/plan/outline-repair.ts';
import { ok, type Result } from '../../geo/result.ts';

/** What can be made of drawn shapes; lengths in metres on the ground, bearings true. */
export type Construction =
  | { readonly make: 'split'; readonly line: LineGeometry }
  | { readonly make: 'merge' }
  | { readonly make: 'hole'; readonly hole: PolygonGeometry }
  | { readonly make: 'buffer'; readonly distanceMeters: number }
  | {
      readonly make: 'offset';
      readonly distanceMeters: number;
      readonly side: 'left' | 'right';
    }
  | { readonly make: 'simplify'; readonly toleranceMeters: number }
  | { readonly make: 'move'; readonly distanceMeters: number; readonly bearingDegrees: number }
  | { readonly make: 'rotate'; readonly clockwiseDegrees: number };

/** A shape that was made, and its size on the ellipsoid. */
export interface Made {
  readonly geometry: PlanGeometry;
  /** Of an area, holes taken off; else null. */
  readonly areaSquareMeters: number | null;
  /** Of a line; else null. */
  readonly lengthMeters: number | null;
  readonly corners: number;
}

/**
 * Makes one construction of one shape, or of several for a merge, in the ground's frame; where
 * there is no ground, or it lies elsewhere, in the UTM zone of the shape. Throws RangeError for a
 * construction that the kind of shape does not have.
 */
export function construct(
  construction: Construction,
  geometries: readonly PlanGeometry[],
  groundFrame: Frame | null,
): Result<Made[]> {
  const frame = frameAt(positionsOf(geometries[0])[0], groundFrame);
  const made = makeOf(construction, geometries, frame);
  return made.ok ? ok(made.value.map(measured)) : made;
}

/** A second one of a feature, moved so that both are seen. */
export function duplicate(
  { feature, id, names, stepMeters }: DuplicateOrder,
  groundFrame: Frame | null,
): PlanFeature {
  const frame = frameAt(positionsOf(feature.geometry)[0], groundFrame);
  return duplicateFeature(feature, id, new Set(names), stepMeters, -stepMeters, frame);
}

/**
 * The sound outlines of one that crosses itself. Drawn over a photo or walked, no edge is better
 * than a receiver's best, so what is narrower than that is no ground of its own.
 */
export function mend(
  rings: readonly (readonly Position[])[],
  groundFrame: Frame | null,
): RepairedOutline & { readonly leastWidthMeters: number } {
  const leastWidthMeters = trackAccuracy(null, 'open').positionErrorMeters.low;
  const frame = frameAt(rings[0][0], groundFrame);
  return { ...repairOutline(rings, frame, leastWidthMeters), leastWidthMeters };
}

export interface DuplicateOrder {
  readonly feature: PlanFeature;
  readonly id: string;
  /** Names that are taken. */
  readonly names: readonly string[];
  /** To the east and to the south. */
  readonly stepMeters: number;
}

function makeOf(
  construction: Construction,
  geometries: readonly PlanGeometry[],
  frame: Frame,
): Result<readonly PlanGeometry[]> {
  const [shape] = geometries;
  switch (construction.make) {
    case 'split':
      return splitPolygon(polygon(shape), construction.line, frame);
    case 'merge': {
      const merged = mergePolygons(geometries.map(polygon), frame);
      return merged.ok ? ok([merged.value]) : merged;
    }
    case 'hole':
      return cutHole(polygon(shape), construction.hole, frame);
    case 'buffer':
      return bufferGeometry(shape, construction.distanceMeters, frame);
    case 'offset':
      return offsetLine(line(shape), construction.distanceMeters, construction.side, frame);
    case 'simplify':
      return ok([simplifyGeometry(shape, construction.toleranceMeters, frame)]);
    case 'move': {
      const { bearingDegrees, distanceMeters } = construction;
      return ok([moveByBearing(shape, bearingDegrees, distanceMeters, frame)]);
    }
    case 'rotate': {
      const middle = frame.toLngLat(...middleOf(shape, frame));
      return ok([rotateGeometry(shape, construction.clockwiseDegrees, middle, frame)]);
    }
  }
}

/** A frame that stretches lengths by more than this is one of another place. */
const mostStretch = 0.002;

/** The ground's frame as far as it is true at a position; else the UTM zone there. */
function frameAt([lng, lat]: Position, groundFrame: Frame | null): Frame {
  return groundFrame && isTrueAt(groundFrame, lng, lat) ? groundFrame : zoneFrame(lng, lat);
}

function isTrueAt(frame: Frame, lng: number, lat: number): boolean {
  try {
    const { groundAreaPerFrameArea } = frame.distortionAt(...frame.fromLngLat(lng, lat));
    return Math.abs(Math.sqrt(groundAreaPerFrameArea) - 1) < mostStretch;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

function measured(geometry: PlanGeometry): Made {
  const positions = positionsOf(geometry).length;
  if (geometry.type === 'Polygon') {
    const { areaSquareMeters } = measurePolygon(geometry.coordinates);
    const corners = positions - geometry.coordinates.length;
    return { geometry, areaSquareMeters, lengthMeters: null, corners };
  }
  const lengthMeters =
    geometry.type === 'LineString' ? lineLengthMeters(geometry.coordinates) : null;
  return { geometry, areaSquareMeters: null, lengthMeters, corners: positions };
}

function polygon(geometry: PlanGeometry): PolygonGeometry {
  if (geometry.type !== 'Polygon') throw new RangeError(`an area, not a ${geometry.type}`);
  return geometry;
}

function line(geometry: PlanGeometry): LineGeometry {
  if (geometry.type !== 'LineString') throw new RangeError(`a line, not a ${geometry.type}`);
  return geometry;
}
