import { solidParts } from '../debris/berm-parts.ts';
import { bermPieces } from '../debris/berm-volume.ts';
import { drawnVolume } from '../debris/burn-remnant.ts';
import type { DebrisArea } from '../debris/debris-patches.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { pushPlan, usualPushing, type DebrisSink, type PushPlan } from '../debris/push-plan.ts';
import { debrisMaterial, pushHours, type PushHours } from '../estimate/push-hours.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import type { Frame } from '../frame/crs-types.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { Settings } from '../plan/settings.ts';
import { sampleBilinear } from '../raster/sample.ts';
import { sectionOf } from './debris-sinks.ts';
import type { GroundInUse } from './definition.ts';
import { inFrame } from './ground-inputs.ts';
import { dozerOf } from './next-year.ts';
import { lineInFrame, reachMeters } from './plan-on-ground.ts';

/** Pieces of a berm that debris is pushed to, metres. */
const PIECE_METERS = 12;

/** Parts of a berm or heap with room, in the frame; none for what says no size. */
export function sinksOf(feature: PlanFeature<'berm' | 'heap'>, frame: Frame): DebrisSink[] {
  if (isKind(feature, 'berm')) {
    const line = lineInFrame({ frame }, feature);
    if (!line || feature.geometry.type !== 'LineString') return [];
    const length = lineLengthMeters(feature.geometry.coordinates);
    const scale = lineLength(line) / length;
    if (!(scale > 0)) return [];
    const parts = solidParts(length, feature.properties.gaps);
    return bermPieces(sectionOf(feature), parts, PIECE_METERS).map((piece) => ({
      id: feature.id,
      at: placeAt(line, ((piece.fromMeters + piece.toMeters) / 2) * scale).at,
      cubicMeters: piece.cubicMeters,
      reachMeters: reachMeters(feature),
    }));
  }
  const cubicMeters = drawnVolume(feature);
  const { geometry } = feature;
  const place = geometry.type === 'Polygon' ? geometry.coordinates[0]![0]! : geometry.coordinates;
  const at = inFrame(frame, place as [number, number]);
  if (cubicMeters === null || !at) return [];
  return [{ id: feature.id, at, cubicMeters, reachMeters: reachMeters(feature) }];
}

export interface Pushed {
  readonly plan: PushPlan;
  readonly hours: PushHours;
}

/** Debris of areas pushed to berms and heaps in reach; null where a plan cannot be made. */
export function pushedTo(
  areas: readonly DebrisArea[],
  features: readonly PlanFeature<'berm' | 'heap'>[],
  frame: Frame,
  ground: GroundInUse | null,
  settings: Settings,
  volumeShare: LowHigh,
): Pushed | null {
  const sinks = features.flatMap((feature) => sinksOf(feature, frame));
  const groundAt = (x: number, y: number) => (ground ? sampleBilinear(ground.grid, x, y) : NaN);
  const plan = pushPlan(areas, sinks, groundAt, {
    ...usualPushing,
    farthestMeters: settings.pushReachMeters,
  });
  if (!plan.ok) return null;
  const hours = pushHours(plan.value.flows, dozerOf(settings), debrisMaterial, volumeShare);
  return hours.ok ? { plan: plan.value, hours: hours.value } : null;
}
