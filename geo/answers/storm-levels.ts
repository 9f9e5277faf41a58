import { curveNumberWhen } from '../water/soil-wetness.ts';
import { countSurface, stormWater, type Storm, type SurfaceCount } from '../water/storm.ts';
import type { Work } from '../work.ts';
import type { SiteDefinition } from './definition.ts';
import type { StormGroundInUse } from './storm-ground.ts';
import type { SurfaceClasses } from './surface-classes.ts';

/** One storm, and the same for curve numbers lower and higher: levels by basin. */
export interface StormLevels {
  readonly count: SurfaceCount;
  /** Curve numbers by class, for how wet the ground is. */
  readonly numbers: readonly number[];
  readonly likely: Storm;
  readonly low: Storm;
  readonly high: Storm;
}

/** Curve numbers are not better known than this (trade notes §6.6). */
const CURVE_NUMBER_DOUBT = 3;

/** Where the water of the storm under the map comes to rest: what site and plots read. */
export const stormLevels: SiteDefinition = {
  name: 'stormLevels',
  per: 'site',
  shown: false,
  reads: ['answer:surfaceClasses', 'answer:stormGround', 'condition:rain'],
  *compute(inputs): Work<StormLevels | null> {
    const soils = inputs.answer('surfaceClasses') as SurfaceClasses | null;
    const prepared = inputs.answer('stormGround') as StormGroundInUse | null;
    if (!soils || !prepared) return null;
    const { depthMeters: rain, soil } = inputs.conditions.rain;
    const count = yield* countFor(prepared, soils);
    const numbers = soils.classes.map((one) => curveNumberWhen(one.curveNumber, soil));
    const run = (by: number) =>
      stormWater(
        prepared,
        count,
        numbers.map((number) => Math.min(100, Math.max(30, number + by))),
        rain,
      );
    const likely = yield* run(0);
    const low = yield* run(-CURVE_NUMBER_DOUBT);
    const high = yield* run(CURVE_NUMBER_DOUBT);
    return { count, numbers, likely, low, high };
  },
};

/** Which class of surface a basin has so many cells of; the same until ground or soils change. */
const counted = new WeakMap<
  SurfaceClasses,
  { readonly of: StormGroundInUse; readonly count: SurfaceCount }
>();

function* countFor(prepared: StormGroundInUse, soils: SurfaceClasses): Work<SurfaceCount> {
  const before = counted.get(soils);
  if (before?.of === prepared) return before.count;
  const { z, labels, tree } = prepared;
  const count = yield* countSurface(z, labels, soils.classOf, tree.leafCount, soils.classes.length);
  counted.set(soils, { of: prepared, count });
  return count;
}
