import type { FeatureCollection } from 'geojson';
import type { LayerSpecification } from 'maplibre-gl';
import type { Position } from '../../geo/plan/feature.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { lineLength, linePart } from '../../geo/plan/line-geometry.ts';
import { isInPolygon } from '../../geo/plan/point-in-polygon.ts';
import { localPlane } from './local-plane.ts';

/** Air that leaves a seat, as the map shows it: a field of short strokes, never an outline. */
export interface AirShape {
  readonly seat: readonly [number, number];
  /** True bearing; null where it spreads all round. */
  readonly towardDegrees: number | null;
  readonly halfAngleDegrees: number;
  readonly reachMeters: number;
  /** Where its air runs down into and stands. */
  readonly pools: readonly AirPoolShape[];
}

export interface AirPoolShape {
  /** Polygons of longitude and latitude. */
  readonly outline: readonly (readonly (readonly (readonly [number, number])[])[])[];
  /** From the seat down into it. */
  readonly way: readonly (readonly [number, number])[];
}

export const airSource = 'air';
const air = '#38376f';

/** Strokes lie on rings so far apart, and about so far from each other along them, metres. */
const RING_METERS = 24;
const ALONG_METERS = 20;
const LONGEST_METERS = 17;
/** Less than this of what goes along the axis is not drawn. */
const LEAST = 0.06;

/** Air that stands: level strokes in staggered rows, metres. */
const POOL_ROW_METERS = 6;
const POOL_ALONG_METERS = 10;
const POOL_STROKE_METERS = 5;
const POOL_SHARE = 0.5;
/** Air that runs down: strokes along its way with gaps between. */
const WAY_STROKE_METERS = 7;
const WAY_GAP_METERS = 5;
const WAY_SHARE = 0.8;

/** The share that arrives falls off across the drift as a bell and along it to nothing at its reach. */
export function airFeatures(shapes: readonly AirShape[]): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: shapes.flatMap((shape) =>
      [...strokes(shape), ...shape.pools.flatMap(poolStrokes)].map(({ line, share }) => ({
        type: 'Feature',
        geometry: { type: 'LineString', coordinates: line },
        properties: { share },
      })),
    ),
  };
}

function strokes({ seat, towardDegrees, halfAngleDegrees, reachMeters }: AirShape): Stroke[] {
  const plane = localPlane([seat[0], seat[1]]);
  const axis = towardDegrees ?? 0;
  const half = towardDegrees === null ? 180 : Math.min(180, halfAngleDegrees * 1.4);
  const made: Stroke[] = [];
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

interface Stroke {
  readonly line: Position[];
  readonly share: number;
}

/** A pool as a faint field of level strokes, never an outline, and the way into it. */
function poolStrokes({ outline, way }: AirPoolShape): Stroke[] {
  const origin = outline[0]?.[0]?.[0];
  if (!origin) return [];
  const plane = localPlane([origin[0], origin[1]]);
  const inPlane = (line: readonly (readonly [number, number])[]) =>
    line.map((at): XY => [...plane.toPlane([at[0], at[1]])]);
  const made: Stroke[] = [];
  for (const polygon of outline) {
    const rings = polygon.map(inPlane);
    const xs = rings[0]!.map(([x]) => x);
    const ys = rings[0]!.map(([, y]) => y);
    // Rows of one lattice for all polygons of a pool.
    const [first, last] = [Math.min(...ys), Math.max(...ys)].map((y) => Math.ceil(y / POOL_ROW_METERS)); // prettier-ignore
    for (let row = first!; row <= last!; row++) {
      const aside = row % 2 === 0 ? 0 : POOL_ALONG_METERS / 2;
      const y = row * POOL_ROW_METERS;
      const from = Math.ceil((Math.min(...xs) - aside) / POOL_ALONG_METERS);
      for (let k = from; k * POOL_ALONG_METERS + aside <= Math.max(...xs); k++) {
        const x = k * POOL_ALONG_METERS + aside;
        if (!isInPolygon([x, y], rings)) continue;
        const half = POOL_STROKE_METERS / 2;
        made.push({ line: [plane.toPosition([x - half, y]), plane.toPosition([x + half, y])], share: POOL_SHARE }); // prettier-ignore
      }
    }
  }
  const line = inPlane(way);
  const length = lineLength(line);
  for (let at = WAY_GAP_METERS; at < length; at += WAY_STROKE_METERS + WAY_GAP_METERS) {
    const part = linePart(line, at, at + WAY_STROKE_METERS);
    if (part.length > 1)
      made.push({ line: part.map((p) => plane.toPosition(p)), share: WAY_SHARE });
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
