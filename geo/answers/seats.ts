import { zoneFrame } from '../frame/zone-frame.ts';
import type { Frame } from '../frame/crs-types.ts';
import { measurePolygon } from '../frame/geodesic.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { shapeDistance, type PlaneShape } from '../plan/shape-distance.ts';
import { seatReach, type ProtectedGround, type SeatReach } from '../wind/seat-reach.ts';
import { seatSlope } from '../wind/seat-slope.ts';
import { horizonProfile, type HorizonProfile } from '../wind/slope-sun.ts';
import type { SeatSlope } from '../wind/slope-flow.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import { firstPosition } from './first-position.ts';
import { inFrame, ringsInFrame } from './ground-inputs.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A place to sit on its ground: what hangs on no wind and no hour. */
export interface SeatPlace {
  readonly at: XY;
  /** A true bearing is a grid bearing plus this. */
  readonly convergenceDegrees: number;
  /** Null off the ground. */
  readonly slope: SeatSlope | null;
  readonly horizon: HorizonProfile | null;
}

export interface Seat extends SeatPlace {
  readonly stand: PlanFeature<'stand'>;
}

export interface Seats {
  readonly frame: Frame;
  readonly seats: readonly Seat[];
}

const HORIZON_REACH_METERS = 1500;

/** Every stand with the slope and the horizon of its ground. */
export const seatsOnGround: SiteDefinition = {
  name: 'seatsOnGround',
  per: 'site',
  shown: false,
  keep: 2,
  reads: ['features:stand', 'raster:ground', 'record:ground'],
  compute(inputs): { done: Seats | null } {
    const ground = inputs.raster('ground');
    const stands = [...inputs.features('stand')].sort((a, b) => (a.id < b.id ? -1 : 1));
    const first = stands[0];
    if (!first) return { done: null };
    const [lng, lat] = firstPosition(first);
    const frame = ground?.frame ?? zoneFrame(lng, lat);
    const seats = stands.flatMap((stand): Seat[] => {
      const at = inFrame(frame, firstPosition(stand));
      if (!at || !isKind(stand, 'stand')) return [];
      return [{ stand, ...seatPlace(ground, frame, at) }];
    });
    return { done: { frame, seats } };
  },
};

/** The slope and the horizon of a place, frame metres. */
export function seatPlace(ground: GroundInUse | null, frame: Frame, at: XY): SeatPlace {
  return {
    at,
    convergenceDegrees: frame.distortionAt(at[0], at[1]).convergenceDegrees,
    slope: ground && seatSlope(ground.grid, at[0], at[1]),
    horizon: ground && horizonProfile(ground.grid, at[0], at[1], HORIZON_REACH_METERS),
  };
}

/** What scent must not reach. */
export const protectedKinds = ['plot', 'bedding-area', 'travel-corridor'] as const;

export interface SeatReaches {
  readonly reaches: ReadonlyMap<string, SeatReach>;
  /** Width of the opening that a seat is in or at, in heights of the trees round it; null in the open. */
  readonly openings: ReadonlyMap<string, number>;
}

/** Trees round an opening where no standing block says how high they are: 60 ft (ours). */
const TREE_METERS = 18.288;
/** A seat so near to a plot looks into its opening. */
const AT_PLOT_METERS = 30;

/** What protected ground lies round each seat, and how narrow the opening is that it is in. */
export const seatReaches: SiteDefinition = {
  name: 'seatReaches',
  per: 'site',
  shown: false,
  keep: 2,
  reads: [
    'answer:seatsOnGround',
    ...protectedKinds.map((kind) => `features:${kind}` as const),
    'features:timber-block',
    'setting:scentRangeMeters',
    'setting:siteCover',
  ],
  compute(inputs): { done: SeatReaches | null } {
    const seats = inputs.answer('seatsOnGround') as Seats | null;
    if (!seats) return { done: null };
    const { frame } = seats;
    const grounds = protectedGrounds(inputs, frame);
    const { scentRangeMeters } = inputs.settings;
    const reaches = new Map<string, SeatReach>();
    const openings = new Map<string, number>();
    for (const { stand, at } of seats.seats) {
      reaches.set(stand.id, seatReach(at, grounds, scentRangeMeters));
      const opening = openingAt(inputs, frame, at);
      if (opening !== null) openings.set(stand.id, opening);
    }
    return { done: { reaches, openings } };
  },
};

/** Plots, bedding areas and corridors in the frame, by kind, then id. */
export function protectedGrounds(inputs: Inputs, frame: Frame): ProtectedGround[] {
  return protectedKinds.flatMap((kind) =>
    [...inputs.features(kind)]
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .flatMap((feature): ProtectedGround[] => {
        const shape = shapeOf(feature, frame);
        return shape ? [{ id: feature.id, shape }] : [];
      }),
  );
}

function shapeOf(feature: PlanFeature, frame: Frame): PlaneShape | null {
  if (feature.geometry.type === 'LineString') {
    const line = lineInFrame({ frame }, feature);
    return line && { kind: 'line', paths: [line] };
  }
  if (feature.geometry.type !== 'Polygon' || findOutlineFault(feature.geometry.coordinates)) return null; // prettier-ignore
  const rings = ringsInFrame(feature, frame);
  return rings && { kind: 'area', paths: rings };
}

/** Width of the opening that a place is in or at, in heights of the trees round it; null in the open. */
export function openingAt(inputs: Inputs, frame: Frame, at: XY): number | null {
  const standing = inputs.features('timber-block').flatMap((block) => {
    if (!isKind(block, 'timber-block') || !block.properties.standing) return [];
    return block.properties.heightMeters ?? [];
  });
  if (!inputs.settings.siteCover.startsWith('woods') && standing.length === 0) return null;
  const trees = standing.length > 0 ? Math.max(...standing) : TREE_METERS;
  let width: number | null = null;
  for (const plot of inputs.features('plot')) {
    const shape = shapeOf(plot, frame);
    if (!shape || plot.geometry.type !== 'Polygon') continue;
    const off = shapeDistance({ kind: 'point', paths: [[at]] }, shape).meters;
    if (off > AT_PLOT_METERS) continue;
    const across = Math.sqrt(measurePolygon(plot.geometry.coordinates).areaSquareMeters);
    width = Math.max(width ?? 0, across);
  }
  return width === null ? null : width / trees;
}
