import type { FeatureCollection } from 'geojson';
import type { LayerSpecification } from 'maplibre-gl';
import type { Position } from '../../geo/plan/feature.ts';
import { localPlane } from './local-plane.ts';

/** Air that leaves a seat, as the map shows it: a field of short strokes, never an outline. */
export interface AirShape {
  readonly seat: readonly [number, number];
  /** True bearing; null where it spreads all round. */
  readonly towardDegrees: number | null;
  readonly halfAngleDegrees: number;
  readonly reachMeters: number;
}

export const airSource = 'air';
const air = '#38376f';

/** Strokes lie on rings so far apart, and about so far from each other along them, metres. */
const RING_METERS = 24;
const ALONG_METERS = 20;
const LONGEST_METERS = 17;
/** Less than this of what goes along the axis is not drawn. */
const LEAST = 0.06;

/** The share that arrives falls off across the drift as a bell and along it to nothing at its reach. */
export function airFeatures(shapes: readonly AirShape[]): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: shapes.flatMap((shape) =>
      strokes(shape).map(({ line, share }) => ({
        type: 'Feature',
        geometry: { type: 'LineString', coordinates: line },
        properties: { share },
      })),
    ),
  };
}

function strokes({ seat, towardDegrees, halfAngleDegrees, reachMeters }: AirShape) {
  const plane = localPlane([seat[0], seat[1]]);
  const axis = towardDegrees ?? 0;
  const half = towardDegrees === null ? 180 : Math.min(180, halfAngleDegrees * 1.4);
  const made: { line: Position[]; share: number }[] = [];
  const rings = Math.floor(reachMeters / RING_METERS);
  for (let ring = 1; ring <= rings; ring++) {
    const radius = ring * RING_METERS;
    const step = (ALONG_METERS / radius) * (180 / Math.PI);
    // Every other ring stands half a step aside, so that the field has no spokes.
    for (let off = -half + (ring % 2) * (step / 2); off <= half; off += step) {
      const across = towardDegrees === null ? 0 : off / (halfAngleDegrees / 1.5);
      const share = Math.exp(-0.5 * across * across) * (1 - radius / (reachMeters * 1.05));
      if (share < LEAST) continue;
      const angle = ((axis + off) * Math.PI) / 180;
      const [east, north] = [Math.sin(angle), Math.cos(angle)];
      const length = LONGEST_METERS * (0.35 + 0.65 * share);
      const end = radius + length;
      made.push({
        line: [
          plane.toPosition([east * radius, north * radius]),
          plane.toPosition([east * end, north * end]),
        ],
        share,
      });
    }
  }
  return made;
}

export const airLayers: readonly LayerSpecification[] = [
  {
    id: 'air-strokes',
    type: 'line',
    source: airSource,
    layout: { 'line-cap': 'round' },
    paint: {
      'line-color': air,
      'line-width': ['+', 1.2, ['*', 1.6, ['get', 'share']]],
      'line-opacity': ['+', 0.25, ['*', 0.7, ['get', 'share']]],
    },
  },
];
