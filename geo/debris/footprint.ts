import { lineLengthMeters } from '../frame/geodesic.ts';
import type { Frame } from '../frame/crs-types.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { aroundLine, bufferChordErrorMeters, bufferPolygon } from '../plan/construct/buffer.ts';
import { frameMetersPerGroundMeter, ringsToPlane } from '../plan/construct/plan-plane.ts';
import { lineLength } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Layer } from '../plan/overlay/overlay.ts';
import { bermSolids } from './berm-solid.ts';
import { pointHeap } from './point-heap.ts';

/** The ground that debris lies on, as drawn, in frame metres, for the overlay. */

/**
 * The ground under a berm: a band as wide as its base along its line, round at its ends, at its
 * bends and at its gaps, which are centred on their stations and so wide from toe to toe; just
 * where `bermSolids` stands. Stations and widths are metres on the ground along the line. Where the
 * band folds over itself it counts once; arcs are chords at most 1 cm inside.
 * Null for a line without length or a base without width. Throws RangeError where the frame has no
 * place for a corner.
 * @param stripMeters ground round it that counts too
 * Example: 100 m straight, 7 m wide, one gap of 4 m, covers 2 × (41 × 7 + π × 3.5²) = 651 m².
 */
export function bermFootprint(
  { geometry, properties, id }: PlanFeature<'berm'>,
  frame: Frame,
  stripMeters = 0,
): Layer | null {
  if (geometry.type !== 'LineString') throw new RangeError(`${id} is a ${geometry.type}`);
  const line = geometry.coordinates.map(([lng, lat]): XY => frame.fromLngLat(lng, lat));
  const length = lineLength(line);
  if (!(length > 0) || !(properties.baseWidthMeters > 0)) return null;
  const scale = length / lineLengthMeters(geometry.coordinates);
  const rings = bermSolids(line, properties, scale).map((solid) =>
    aroundLine(solid.line, solid.halfWidth + stripMeters * scale, bufferChordErrorMeters),
  );
  return { rings, rule: 'positive' };
}

/**
 * The ground under a heap: its drawn outline, or the outline that its numbers make (`heapOutline`).
 * Null for a point that does not say. Throws RangeError where the frame has no place.
 * @param stripMeters ground round it that counts too
 */
export function heapFootprint(
  { geometry, properties, id }: PlanFeature<'heap'>,
  frame: Frame,
  stripMeters = 0,
): Layer | null {
  if (geometry.type === 'Polygon') {
    return grown(ringsToPlane(frame, geometry), frame, stripMeters);
  }
  if (geometry.type !== 'Point') throw new RangeError(`${id} is a ${geometry.type}`);
  const heap = pointHeap(properties, geometry.coordinates, frame);
  return heap && grown([heap.ring], frame, stripMeters);
}

function grown(rings: readonly (readonly XY[])[], frame: Frame, stripMeters: number): Layer {
  if (!(stripMeters > 0)) return { rings, rule: 'even-odd' };
  const distance = stripMeters * frameMetersPerGroundMeter(frame, rings[0]![0]!);
  const parts = bufferPolygon(rings, distance, bufferChordErrorMeters);
  return { rings: parts.flat(), rule: 'even-odd' };
}
