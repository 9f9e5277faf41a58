import type { FrameDefinition } from '../../geo/frame/crs-types.ts';
import { distanceAndBearing, pointAtBearing } from '../../geo/frame/geodesic.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { zoneFrame } from '../../geo/frame/zone-frame.ts';
import { buildSnapIndex, type SnapIndex } from '../../geo/plan/construct/snap-index.ts';
import { snapPoint, type SnapCandidate, type SnapOptions } from '../../geo/plan/construct/snap.ts';
import { roundDegrees, type PlanFeature, type Position } from '../../geo/plan/feature.ts';

/**
 * What drawing to the foot needs: catching on what is drawn, true lengths and bearings. Loaded when
 * the first shape is taken in hand, so that opening the page does not wait for it.
 */

type Box = readonly [west: number, south: number, east: number, north: number];

/** A feature's pieces by place, made when the pointer first comes near it. */
interface Known {
  readonly box: Box;
  index: SnapIndex | null;
}

/** Kept by the feature itself: an edit makes one index anew, never all of them. */
const known = new WeakMap<PlanFeature, Known>();

/** How far an edge runs on past its end, metres. */
const reachMeters = 30;
/** An edge under the pointer goes before the run on of another one that passes by. */
const rank = { vertex: 0, perpendicular: 1, edge: 2, extension: 3 } as const;

/** The best thing to catch on within a tolerance of the pointer, or null. */
export function catchAt(
  features: readonly PlanFeature[],
  pointer: Position,
  toleranceMeters: number,
  definition: FrameDefinition | null,
  options: Pick<SnapOptions, 'from'> & { readonly except?: string },
): SnapCandidate | null {
  const frame = definition ? openedFrame(definition) : zoneFrame(pointer[0], pointer[1]);
  const reach = toleranceMeters + reachMeters;
  // A degree of latitude is never under 110 km.
  const dLat = reach / 110_000;
  const dLng = dLat / Math.max(0.05, Math.cos((pointer[1] * Math.PI) / 180));
  let best: SnapCandidate | null = null;
  for (const feature of features) {
    if (feature.hidden || feature.id === options.except) continue;
    const of = knownOf(feature);
    const [west, south, east, north] = of.box;
    if (pointer[0] < west - dLng || pointer[0] > east + dLng) continue;
    if (pointer[1] < south - dLat || pointer[1] > north + dLat) continue;
    of.index ??= buildSnapIndex([feature]);
    const from = options.from ? { from: options.from } : {};
    for (const found of snapPoint(pointer, of.index, toleranceMeters, frame, {
      ...from,
      reachMeters,
    })) {
      if (best === null || isBetter(found, best)) best = found;
    }
  }
  return best;
}

function isBetter(a: SnapCandidate, b: SnapCandidate): boolean {
  const order = rank[a.catches] - rank[b.catches] || a.awayMeters - b.awayMeters;
  return order < 0 || (order === 0 && a.featureId < b.featureId);
}

function knownOf(feature: PlanFeature): Known {
  const before = known.get(feature);
  if (before) return before;
  const made: Known = { box: boxOf(feature), index: null };
  known.set(feature, made);
  return made;
}

function boxOf({ geometry }: PlanFeature): Box {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const add = ([lng, lat]: Position): void => {
    if (lng < west) west = lng;
    if (lng > east) east = lng;
    if (lat < south) south = lat;
    if (lat > north) north = lat;
  };
  if (geometry.type === 'Point') add(geometry.coordinates);
  else if (geometry.type === 'LineString') geometry.coordinates.forEach(add);
  else for (const ring of geometry.coordinates) ring.forEach(add);
  return [west, south, east, north];
}

const frames = new Map<string, ReturnType<typeof openFrame>>();

function openedFrame(definition: FrameDefinition): ReturnType<typeof openFrame> {
  const key = definition.proj;
  const open = frames.get(key) ?? openFrame(definition);
  frames.set(key, open);
  return open;
}

/** Length and true bearing from one position to another. */
export function legBetween(
  from: Position,
  to: Position,
): { readonly lengthMeters: number; readonly bearingDegrees: number } {
  const { distanceMeters, departureDegrees } = distanceAndBearing(from, to);
  return { lengthMeters: distanceMeters, bearingDegrees: departureDegrees };
}

/** The position at the end of a run. */
export function legEnd(from: Position, bearingDegrees: number, lengthMeters: number): Position {
  const [lng, lat] = pointAtBearing(from, bearingDegrees, lengthMeters);
  return [roundDegrees(lng), roundDegrees(lat)];
}
