import { centerOfMass, polygon } from '@turf/turf';
import { zoneFrame } from '../frame/zone-frame.ts';
import type { Frame } from '../frame/crs-types.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { isKind, roundDegrees, type PlanFeature, type Position } from '../plan/feature.ts';
import { toPlane } from '../plan/construct/plan-plane.ts';
import { blankProperties, type PropertiesOf } from '../plan/kinds.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { Layer } from '../plan/overlay/overlay.ts';
import { solidParts } from './berm-parts.ts';
import { bermVolume } from './berm-volume.ts';
import { heapFootprint } from './footprint.ts';
import { heapVolume } from './heap-solid.ts';
import { pointHeap } from './point-heap.ts';
import { roundHeap, type RoundHeap } from './round-heap.ts';

/** What is left of a berm or heap once it has burned: heaped round in its middle. */
export interface BurnRemnant extends RoundHeap {
  readonly cubicMeters: number;
  readonly at: Position;
}

/** Loose volume of a berm or heap as drawn, m³; null where it says no size. */
export function drawnVolume(feature: PlanFeature<'berm' | 'heap'>): number | null {
  const { geometry } = feature;
  if (isKind(feature, 'berm')) {
    if (geometry.type !== 'LineString') return null;
    const { section: shape, baseWidthMeters, heightMeters, gaps } = feature.properties;
    const parts = solidParts(lineLengthMeters(geometry.coordinates), gaps);
    return bermVolume({ shape, baseWidthMeters, heightMeters }, parts.map(([from, to]) => to - from)); // prettier-ignore
  }
  if (geometry.type !== 'Polygon') return heapVolume(feature.properties as Heap, null);
  const [lng, lat] = geometry.coordinates[0]![0]!;
  const rings = heapFootprint(feature as PlanFeature<'heap'>, zoneFrame(lng, lat))?.rings;
  return heapVolume(feature.properties as Heap, rings?.map((ring) => [...ring, ring[0]!]) ?? null);
}

type Heap = PropertiesOf<'heap'>;

/**
 * The round heap that the remnant makes, in the middle of what burned; null for what says no size.
 * @param consumedShare of the volume, 0 to 1
 */
export function burnRemnant(
  feature: PlanFeature<'berm' | 'heap'>,
  consumedShare: number,
  maxHeightMeters: number,
): BurnRemnant | null {
  const volume = drawnVolume(feature);
  if (volume === null) return null;
  const cubicMeters = volume * (1 - consumedShare);
  return { ...roundHeap(cubicMeters, maxHeightMeters), cubicMeters, at: middleOf(feature) };
}

/** Ground under a remnant and a strip round it; null where nothing is left. */
export function remnantFootprint(
  { at, widthMeters }: BurnRemnant,
  frame: Frame,
  stripMeters: number,
): Layer | null {
  if (!(widthMeters > 0)) return null;
  const across = widthMeters + 2 * stripMeters;
  const round = { ...blankProperties('heap'), lengthMeters: across, widthMeters: across };
  const heap = pointHeap(round, at, frame);
  return heap && { rings: [heap.ring], rule: 'even-odd' };
}

function middleOf({ geometry }: PlanFeature): Position {
  if (geometry.type === 'Point') return geometry.coordinates;
  if (geometry.type === 'Polygon') {
    const rings = geometry.coordinates.map((ring) => [...ring]);
    const [lng, lat] = centerOfMass(polygon(rings)).geometry.coordinates;
    return [roundDegrees(lng!), roundDegrees(lat!)];
  }
  const [lng, lat] = geometry.coordinates[0]!;
  const frame = zoneFrame(lng, lat);
  const line = toPlane(frame, geometry.coordinates);
  const [x, y] = placeAt(line, lineLength(line) / 2).at;
  return frame.toLngLat(x, y) as Position;
}
