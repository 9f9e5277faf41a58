import { simplifyLine } from '../../plan/construct/simplify.ts';
import type { PlanGeometry, Position } from '../../plan/feature.ts';
import type { XY } from '../../plan/overlay/arrangement.ts';
import type { Work } from '../../work.ts';

/** A geometry for the picture only; null where there was no room for it. */
export type ThinShape = PlanGeometry | null;

/** A picture of so many positions is drawn and redrawn without a stutter. */
const MOST_POSITIONS = 60_000;
/** Of the drawing's diagonal: under half a pixel where the whole of it is in sight. */
const FINENESS = 1 / 4000;
const METERS_PER_DEGREE = 111_320;

/**
 * Geometries as a preview shows them. A drawing of up to 60,000 positions comes back as it is; of a
 * larger one lines and outlines are thinned to a 4,000th of its diagonal (Douglas & Peucker), and
 * what then still passes 60,000 is left out, first come first drawn. Never for measuring.
 */
export function* thinShapes(
  geometries: readonly PlanGeometry[],
  [west, south, east, north]: readonly [number, number, number, number],
): Work<readonly ThinShape[]> {
  const count = geometries.reduce((sum, geometry) => sum + positionsOf(geometry), 0);
  if (count <= MOST_POSITIONS) return geometries;
  const shrink = Math.cos((((south + north) / 2) * Math.PI) / 180);
  const toPlane = ([lng, lat]: Position): XY => [
    (lng - west) * shrink * METERS_PER_DEGREE,
    (lat - south) * METERS_PER_DEGREE,
  ];
  const [x, y] = toPlane([east, north]);
  const tolerance = Math.hypot(x, y) * FINENESS;
  const thin = (line: readonly Position[], least: number): readonly Position[] => {
    if (line.length <= least) return line;
    const keep = simplifyLine(line.map(toPlane), tolerance);
    const kept = line.filter((_, i) => keep[i] === 1);
    // An outline smaller than the tolerance stays a shape: four of its corners.
    const quarter = (line.length - 1) / 3;
    return kept.length >= least ? kept : [0, 1, 2, 3].map((i) => line[Math.round(i * quarter)]);
  };
  const shapes: ThinShape[] = [];
  let room = MOST_POSITIONS;
  for (const geometry of geometries) {
    const shape = room > 0 ? thinShape(geometry, thin) : null;
    if (shape) room -= positionsOf(shape);
    shapes.push(room >= 0 ? shape : null);
    yield { share: 0.5 + (0.5 * shapes.length) / geometries.length, doing: 'Drawing' };
  }
  return shapes;
}

function thinShape(
  geometry: PlanGeometry,
  thin: (line: readonly Position[], least: number) => readonly Position[],
): PlanGeometry {
  if (geometry.type === 'Point') return geometry;
  return geometry.type === 'LineString'
    ? { type: 'LineString', coordinates: thin(geometry.coordinates, 2) }
    : { type: 'Polygon', coordinates: geometry.coordinates.map((ring) => thin(ring, 4)) };
}

function positionsOf(geometry: PlanGeometry): number {
  if (geometry.type === 'Point') return 1;
  return geometry.type === 'LineString'
    ? geometry.coordinates.length
    : geometry.coordinates.reduce((sum, ring) => sum + ring.length, 0);
}
