import { lineLengthMeters } from '../frame/geodesic.ts';
import type { Frame } from '../frame/crs-types.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { aroundLine, bufferChordErrorMeters } from '../plan/construct/buffer.ts';
import { lineLength } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Layer } from '../plan/overlay/overlay.ts';
import { bermSolids } from './berm-solid.ts';

/** The ground that debris lies on, as drawn, in frame metres, for the overlay. */

/**
 * The ground under a berm: a band as wide as its base along its line, round at its ends, at its
 * bends and at its gaps, which are centred on their stations and so wide from toe to toe; just
 * where `bermSolids` stands. Stations and widths are metres on the ground along the line. Where the
 * band folds over itself it counts once; arcs are chords at most 1 cm inside.
 * Null for a line without length or a base without width. Throws RangeError where the frame has no
 * place for a corner.
 * Example: 100 m straight, 7 m wide, one gap of 4 m, covers 2 × (41 × 7 + π × 3.5²) = 651 m².
 */
export function bermFootprint(
  { geometry, properties, id }: PlanFeature<'berm'>,
  frame: Frame,
): Layer | null {
  if (geometry.type !== 'LineString') throw new RangeError(`${id} is a ${geometry.type}`);
  const line = geometry.coordinates.map(([lng, lat]): XY => frame.fromLngLat(lng, lat));
  const length = lineLength(line);
  if (!(length > 0) || !(properties.baseWidthMeters > 0)) return null;
  const solids = bermSolids(line, properties, length / lineLengthMeters(geometry.coordinates));
  const rings = solids.map((solid) =>
    aroundLine(solid.line, solid.halfWidth, bufferChordErrorMeters),
  );
  return { rings, rule: 'positive' };
}

const ovalCorners = 64;

/**
 * The ground under a heap: its drawn outline, or an oval as long (to true east) and wide as it
 * says, drawn with 64 corners so that its area is exactly π/4 × length × width.
 * Null for a point that does not say. Throws RangeError where the frame has no place.
 */
export function heapFootprint(
  { geometry, properties, id }: PlanFeature<'heap'>,
  frame: Frame,
): Layer | null {
  if (geometry.type === 'Polygon') {
    const rings = geometry.coordinates.map((ring) =>
      ring.slice(0, -1).map(([lng, lat]): XY => frame.fromLngLat(lng, lat)),
    );
    return { rings, rule: 'even-odd' };
  }
  if (geometry.type !== 'Point') throw new RangeError(`${id} is a ${geometry.type}`);
  const { lengthMeters, widthMeters } = properties;
  if (!lengthMeters || !widthMeters) return null;
  const [x, y] = frame.fromLngLat(geometry.coordinates[0], geometry.coordinates[1]);
  const { groundAreaPerFrameArea, convergenceDegrees } = frame.distortionAt(x, y);
  const step = (2 * Math.PI) / ovalCorners;
  const scale = Math.sqrt(step / Math.sin(step) / groundAreaPerFrameArea) / 2;
  const turn = (convergenceDegrees * Math.PI) / 180;
  const ring = Array.from({ length: ovalCorners }, (_, k): XY => {
    const east = Math.cos(k * step) * lengthMeters * scale;
    const north = Math.sin(k * step) * widthMeters * scale;
    // True east lies counter-clockwise of grid east by the convergence.
    return [
      x + east * Math.cos(turn) - north * Math.sin(turn),
      y + east * Math.sin(turn) + north * Math.cos(turn),
    ];
  });
  return { rings: [ring], rule: 'even-odd' };
}
