import { pilingChoices } from '../debris/debris-choices.ts';
import { debrisVolume, type DebrisVolume } from '../debris/debris-volume.ts';
import { heapReestimate, tapedVolume, type Reestimate } from '../debris/heap-reestimate.ts';
import { heapPile } from '../debris/heap-solid.ts';
import { surveyedHeap } from '../debris/surveyed-heap.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { planeArea } from '../plan/construct/plan-plane.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import { overlay, type Layer } from '../plan/overlay/overlay.ts';
import { blockDebris, type BlockDebris } from './block-debris.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import { fingerprint } from './fingerprint.ts';
import { firstPosition } from './first-position.ts';
import { isOneFrame, ringsInFrame } from './ground-inputs.ts';
import { surveyQuality } from './survey-quality.ts';
import { debrisSettings } from './debris-settings.ts';

/** What the heaps that stand already say of the whole job. */
export interface DebrisScale {
  /** Loose volume now over loose volume as estimated, at its low, likely and high; 1 without heaps. */
  readonly factor: LowHigh;
  /** Null while nothing is taped, or no ground is marked as cleared. */
  readonly remeasured: null | {
    readonly reestimate: Reestimate;
    readonly estimated: LowHigh;
    readonly measured: LowHigh;
    /** Of the estimated debris, what stood on the ground cleared so far. */
    readonly clearedShare: number;
    readonly heapIds: readonly string[];
  };
  /** Taped heaps without ground that is marked as cleared, or the other way round. */
  readonly lacks: 'cleared-ground' | 'taped-heap' | null;
}

const asEstimated = { low: 1, likely: 1, high: 1 };

/**
 * Taped heaps against the ground marked as cleared so far: how much more or less debris the whole
 * job makes than its tally said.
 */
export const debrisScale: SiteDefinition = {
  name: 'debrisScale',
  per: 'site',
  shown: false,
  keep: 2,
  reads: [
    ...debrisSettings,
    'features:timber-block',
    'features:heap',
    'features:clearing',
    'raster:ground',
    'record:ground',
    'raster:surface',
    'record:surface',
  ],
  compute(inputs): { done: DebrisScale } {
    const heaps = inputs.features('heap').filter((one) => isKind(one, 'heap') && one.properties.taped); // prettier-ignore
    const cleared = inputs.features('clearing').filter(isCleared);
    if (heaps.length === 0 || cleared.length === 0) {
      const lacks = heaps.length > 0 ? 'cleared-ground' : null;
      return { done: { factor: asEstimated, remeasured: null, lacks } };
    }
    const { settings } = inputs;
    const piling = pilingChoices(settings);
    const blocks = inputs.features('timber-block').flatMap((block) => {
      const debris = blockDebris(block as BlockDebris['block'], settings);
      if (!debris?.mass.ok) return [];
      const { kilograms, byGroup } = debris.mass.value;
      const volume = debrisVolume(kilograms, byGroup, piling);
      return volume.ok ? [{ block, loose: volume.value.looseCubicMeters }] : [];
    });
    const estimated = sum(blocks.map(({ loose }) => loose));
    const onCleared = blocks.reduce(
      (all, { block, loose }) => all + loose.likely * shareWithin(block, cleared),
      0,
    );
    const measured = sum(heaps.flatMap((heap) => tapedOf(heap) ?? surveyedOf(inputs, heap) ?? []));
    const clearedShare = estimated.likely > 0 ? Math.min(1, onCleared / estimated.likely) : 0;
    const made = heapReestimate(measured, clearedShare, estimated);
    if (!made.ok) {
      const lacks = clearedShare > 0 ? 'taped-heap' : 'cleared-ground';
      return { done: { factor: asEstimated, remeasured: null, lacks } };
    }
    const { cubicMeters } = made.value;
    const heapIds = heaps.map(({ id }) => id).sort();
    return {
      done: {
        factor: {
          low: cubicMeters.low / estimated.low,
          likely: cubicMeters.likely / estimated.likely,
          high: cubicMeters.high / estimated.high,
        },
        remeasured: { reestimate: made.value, estimated, measured, clearedShare, heapIds },
        lacks: null,
      },
    };
  },
  seenAs: (value) => fingerprint(value),
};

/** Loose volume, soil and loads as the heaps that stand say; wood stays as it was tallied. */
export function scaledVolume(volume: DebrisVolume, factor: LowHigh): DebrisVolume {
  const scaled = ({ low, likely, high }: LowHigh): LowHigh => {
    return { low: low * factor.low, likely: likely * factor.likely, high: high * factor.high };
  };
  return {
    ...volume,
    looseCubicMeters: scaled(volume.looseCubicMeters),
    soilCubicMeters: scaled(volume.soilCubicMeters),
    soilLostMeters: volume.soilLostMeters && scaled(volume.soilLostMeters),
    truckLoads: scaled(volume.truckLoads),
  };
}

function isCleared(feature: PlanFeature): boolean {
  return (
    isKind(feature, 'clearing') &&
    feature.properties.clearedOn !== null &&
    feature.geometry.type === 'Polygon' &&
    !findOutlineFault(feature.geometry.coordinates)
  );
}

function tapedOf(heap: PlanFeature): LowHigh | null {
  const shape = isKind(heap, 'heap') ? heapPile(heap.properties) : null;
  const taped = shape && tapedVolume({ kind: 'pile', shape });
  return taped?.ok ? taped.value : null;
}

/** A heap that stands and says no size, by the surface flown over it. */
function surveyedOf(inputs: Inputs, heap: PlanFeature): LowHigh | null {
  const [ground, surface] = [inputs.raster('ground'), inputs.raster('surface')];
  if (!ground || !surface || heap.geometry.type !== 'Polygon') return null;
  if (!isOneFrame(ground, surface)) return null;
  const rings = ringsInFrame(heap, ground.frame);
  if (!rings) return null;
  const survey = (of: GroundInUse) => {
    return { grid: of.grid, errorMeters: surveyQuality(of.record).verticalErrorMeters };
  };
  const made = surveyedHeap(survey(surface), survey(ground), rings);
  return made.ok && made.value.cubicMeters.likely > 0 ? made.value.cubicMeters : null;
}

function shareWithin(block: PlanFeature, cleared: readonly PlanFeature[]): number {
  const [lng, lat] = firstPosition(block);
  const frame = zoneFrame(lng, lat);
  const layerOf = (feature: PlanFeature): Layer[] => {
    const rings = ringsInFrame(feature, frame)?.map((ring) => ring.slice(0, -1));
    return rings ? [{ rings, rule: 'even-odd' }] : [];
  };
  const [own] = layerOf(block);
  if (!own) return 0;
  const layers = [own, ...cleared.flatMap(layerOf)];
  const area = (inside: (of: readonly boolean[]) => boolean) =>
    overlay(layers, inside).reduce((all, part) => all + planeArea(part), 0);
  const whole = area(([a]) => a!);
  return whole > 0 ? area(([a, ...others]) => a! && others.some(Boolean)) / whole : 0;
}

function sum(all: readonly LowHigh[]): LowHigh {
  return all.reduce(
    (a, b) => ({ low: a.low + b.low, likely: a.likely + b.likely, high: a.high + b.high }),
    { low: 0, likely: 0, high: 0 },
  );
}
