import { solidParts } from '../debris/berm-parts.ts';
import { bermVolume } from '../debris/berm-volume.ts';
import { heapFootprint } from '../debris/footprint.ts';
import { heapVolume } from '../debris/heap-solid.ts';
import type { DebrisSink } from '../debris/nearest-first.ts';
import type { WindrowSection } from '../debris/windrow-sections.ts';
import type { Frame } from '../frame/crs-types.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { distanceToLine } from '../plan/line-geometry.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { Inputs } from './definition.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A berm or heap as a place for debris. */
export interface PlanSink extends DebrisSink {
  readonly feature: PlanFeature<'berm' | 'heap'>;
}

/**
 * Heaps, then berms, by id, each with the loose volume that it holds as drawn. What says no size,
 * and what the frame has no place for, is left out.
 */
export function debrisSinks(inputs: Inputs, frame: Frame): PlanSink[] {
  const byId = (a: PlanFeature, b: PlanFeature) => (a.id < b.id ? -1 : 1);
  return [
    ...[...inputs.features('heap')].sort(byId).flatMap((heap) => heapSink(heap, frame) ?? []),
    ...[...inputs.features('berm')].sort(byId).flatMap((berm) => bermSink(berm, frame) ?? []),
  ];
}

export function sectionOf({ properties }: PlanFeature<'berm'>): WindrowSection {
  const { section: shape, baseWidthMeters, heightMeters } = properties;
  return { shape, baseWidthMeters, heightMeters };
}

/** Lengths of a berm's parts between its gaps, ground metres. */
export function bermParts({ geometry, properties }: PlanFeature<'berm'>): number[] {
  if (geometry.type !== 'LineString') return [];
  const length = lineLengthMeters(geometry.coordinates);
  return solidParts(length, properties.gaps).map(([from, to]) => to - from);
}

function bermSink(feature: PlanFeature, frame: Frame): PlanSink | null {
  if (!isKind(feature, 'berm')) return null;
  const line = lineInFrame({ frame }, feature);
  if (!line) return null;
  const half = feature.properties.baseWidthMeters / 2;
  return {
    feature,
    cubicMeters: bermVolume(sectionOf(feature), bermParts(feature)),
    distanceTo: (x, y) => Math.max(0, distanceToLine([x, y], line) - half),
  };
}

function heapSink(feature: PlanFeature, frame: Frame): PlanSink | null {
  if (!isKind(feature, 'heap')) return null;
  try {
    const footprint = heapFootprint(feature, frame);
    const rings = footprint?.rings.map((ring) => [...ring, ring[0]!]) ?? null;
    const drawn = feature.geometry.type === 'Polygon' ? rings : null;
    const cubicMeters = heapVolume(feature.properties, drawn);
    if (cubicMeters === null || !rings) return null;
    return {
      feature,
      cubicMeters,
      distanceTo: (x, y) =>
        isInPolygon([x, y], rings)
          ? 0
          : Math.min(...rings.map((ring) => distanceToLine([x, y], ring))),
    };
  } catch (error) {
    // The frame has no place for it: half a world away.
    if (error instanceof RangeError) return null;
    throw error;
  }
}
