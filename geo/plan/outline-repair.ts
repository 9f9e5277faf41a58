import { union } from '@turf/turf';
import { roundDegrees, type Position } from './feature.ts';
import { findOutlineFault } from './outline-faults.ts';

/**
 * Sound outlines that together cover what a self-crossing outline covers (counted even-odd, as it
 * looks when filled), largest first; empty where it encloses nothing. Each is a list of rings, the
 * outer one first, positions in degrees rounded to 1e-9. The boolean engine is turf's.
 */
export function repairOutline(rings: readonly (readonly Position[])[]): Position[][][] {
  const feature = {
    type: 'Feature' as const,
    properties: {},
    geometry: { type: 'Polygon' as const, coordinates: rings.map((r) => r.map((p) => [...p])) },
  };
  const merged = union({ type: 'FeatureCollection', features: [feature, feature] });
  if (!merged) return [];
  const parts =
    merged.geometry.type === 'Polygon'
      ? [merged.geometry.coordinates]
      : merged.geometry.coordinates;
  return parts
    .map((part) =>
      part.map((ring) => ring.map((p): Position => [roundDegrees(p[0]!), roundDegrees(p[1]!)])),
    )
    .filter((part) => findOutlineFault(part) === null)
    .sort((a, b) => extent(b) - extent(a));
}

/** Area in square degrees, good enough to put neighbours in order. */
function extent(part: readonly (readonly Position[])[]): number {
  const ring = part[0] ?? [];
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [x0, y0] = ring[0]!;
    const [x1, y1] = ring[i]!;
    const [x2, y2] = ring[i + 1]!;
    twice += (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  }
  return Math.abs(twice / 2);
}
