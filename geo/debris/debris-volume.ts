import { ok, type Result } from '../result.ts';
import { badLowHigh, belowZero, notAboveZero } from './check-numbers.ts';
import { scaleLowHigh as scaled, timesDoubts, type LowHigh } from './low-high.ts';
import type { SpeciesGroup } from './timber-mass.ts';
import { groupDensity } from './wood-density.ts';

export interface Piling {
  /** Wood over gross volume of the pile. */
  readonly packing: LowHigh;
  /** Soil over gross volume of the pile. */
  readonly soilShare: LowHigh;
  /** kg/m³ of groups whose species is known; the others by `groupDensity`. */
  readonly densities?: ReadonlyMap<SpeciesGroup, number>;
  readonly truckLoadCubicMeters: number;
}

/**
 * Packing 0.10 and 0.20 are PNW-GTR-364's for small wood, 0.15 lies between; soil "dirty" up to a
 * tenth, "very dirty" above, a quarter the worst; 12 yd³ on a tandem truck: common practice.
 */
export const usualPiling: Piling = {
  packing: { low: 0.1, likely: 0.15, high: 0.2 },
  soilShare: { low: 0.05, likely: 0.1, high: 0.25 },
  truckLoadCubicMeters: 9.174658,
};

/** Common earth and loam swell by a quarter once dug (handbook §4.4). */
const LOAM_SWELL = 1.25;

export interface DebrisVolume {
  /** Wood without air, m³. */
  readonly solidCubicMeters: LowHigh;
  /** As it lies in the pile, soil and air too, m³. */
  readonly looseCubicMeters: LowHigh;
  /** Loose soil in it, m³. */
  readonly soilCubicMeters: LowHigh;
  /** Topsoil gone from the clearing, metres deep; null where its area was not given. */
  readonly soilLostMeters: LowHigh | null;
  readonly truckLoads: LowHigh;
}

/**
 * Volume of debris in a pile, by the steps of PNW-GTR-364 (handbook §2) run backwards: dry mass over
 * basic density is solid wood; over the packing ratio, and over what soil leaves of the pile, is the
 * gross volume. Loosely packed piles are mostly the dirty ones too, so those two go together in
 * `low` and `high`; the doubts of the mass are independent of them.
 * @param kilograms the whole, dry, with its doubts
 * @param byGroup likely kilograms of each group; only their proportions count
 * Example: 164.4 t of the demo's trees is 438 yd³ solid and 3,240 yd³ loose.
 */
export function debrisVolume(
  kilograms: LowHigh,
  byGroup: ReadonlyMap<SpeciesGroup, number>,
  piling: Piling,
  clearedSquareMeters: number | null = null,
): Result<DebrisVolume> {
  const { packing, soilShare, densities } = piling;
  const bad =
    badLowHigh('debris mass', kilograms, 0, Infinity) ??
    badLowHigh('packing ratio', packing, 0, 1, true) ??
    badLowHigh('share of soil', soilShare, 0, 0.9) ??
    belowZero(Object.fromEntries(byGroup)) ??
    notAboveZero({ 'truck load': piling.truckLoadCubicMeters, ...Object.fromEntries(densities ?? []) }) ??
    (clearedSquareMeters === null ? null : notAboveZero({ 'cleared area': clearedSquareMeters })); // prettier-ignore
  if (bad) return bad;
  let mass = 0;
  let solid = 0;
  for (const [name, part] of byGroup) {
    mass += part;
    solid += part / (densities?.get(name) ?? groupDensity(name).likely);
  }
  const perKilogram = mass > 0 ? solid / mass : 0;
  const bulk = {
    low: 1 / packing.high / (1 - soilShare.low),
    likely: 1 / packing.likely / (1 - soilShare.likely),
    high: 1 / packing.low / (1 - soilShare.high),
  };
  const likelySolid = kilograms.likely * perKilogram;
  const looseCubicMeters = timesDoubts(likelySolid * bulk.likely, [kilograms, bulk]);
  const soilCubicMeters = {
    low: looseCubicMeters.low * soilShare.low,
    likely: looseCubicMeters.likely * soilShare.likely,
    high: looseCubicMeters.high * soilShare.high,
  };
  return ok({
    solidCubicMeters: scaled(kilograms, perKilogram),
    looseCubicMeters,
    soilCubicMeters,
    soilLostMeters: clearedSquareMeters
      ? scaled(soilCubicMeters, 1 / LOAM_SWELL / clearedSquareMeters)
      : null,
    truckLoads: scaled(looseCubicMeters, 1 / piling.truckLoadCubicMeters),
  });
}
