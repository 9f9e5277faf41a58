import { ok, type Result } from '../result.ts';
import { badLowHigh, badNumber, belowZero } from './check-numbers.ts';
import type { LowHigh } from './low-high.ts';
import type { SpeciesGroup } from './timber-mass.ts';

/**
 * What burning piles gives off: PNW-GTR-364 (Hardy 1996), steps five and six, and EPA AP-42 2.5
 * (handbook §2, §12.2). The factors are from memory of both: an estimate, and no permit's figure.
 */

/** Of the gross volume, soil: none, up to a tenth, more (PNW-GTR-364). */
export type PileQuality = 'clean' | 'dirty' | 'very-dirty';

export function pileQuality(soilShare: number): PileQuality {
  return soilShare > 0.1 ? 'very-dirty' : soilShare > 0 ? 'dirty' : 'clean';
}

/** Of piled wood 75 to 95 % burns, 85 to 90 % by default (PNW-GTR-364). */
export const usualConsumption: LowHigh = { low: 0.75, likely: 0.875, high: 0.95 };

/** Pounds to a short ton consumed; null where no figure is at hand. */
const particulate: Readonly<
  Record<PileQuality, { pm: number | null; pm10: number | null; pm25: number }>
> = {
  clean: { pm: 21.9, pm10: 15.5, pm25: 13.5 },
  dirty: { pm: null, pm10: null, pm25: 17 },
  'very-dirty': { pm: null, pm10: null, pm25: 23.6 },
};

/** AP-42: forest residues, but for those it names; pounds to a short ton. */
const monoxide: Partial<Record<SpeciesGroup, number>> = {
  'douglas-fir': 90,
  'true-fir-hemlock': 90,
  'cedar-larch': 90,
  pine: 195,
};
const MONOXIDE = 140;
const METHANE = 5.7;
const POUNDS_TO_TON = 1 / 2000;
/** Ash of dry wood with its bark: about 1 %, from memory; how far it may be out is ours. */
const ASH: LowHigh = { low: 0.005, likely: 0.01, high: 0.03 };
/** Half of dry wood is carbon (the mean that biomass papers use; IPCC's default is 0.47). */
const CARBON = 0.5;

export interface BurnEmissions {
  readonly consumedKilograms: LowHigh;
  /** Kilograms of each; null where there is no figure for piles so dirty. */
  readonly pm: LowHigh | null;
  readonly pm10: LowHigh | null;
  readonly pm25: LowHigh;
  readonly co: LowHigh;
  readonly ch4: LowHigh;
  /** By what carbon is left of the wood's after the two above. */
  readonly co2: LowHigh;
  /** What stays on the ground. */
  readonly ash: LowHigh;
}

/**
 * Mass consumed and given off by burning so much dry wood (kilograms), likely shares by group.
 * Low and high are those of mass and consumption; factors are taken as they are.
 * Problems: values out of bounds.
 * Example: 7.94 short tons, 85 % consumed, dirty: 6.75 tons consumed and 115 lb of PM2.5.
 */
export function burnEmissions(
  dryKilograms: LowHigh,
  byGroup: ReadonlyMap<SpeciesGroup, number>,
  quality: PileQuality,
  consumption: LowHigh = usualConsumption,
): Result<BurnEmissions> {
  const bad =
    badLowHigh('mass to burn', dryKilograms, 0, 1e12) ??
    badLowHigh('share consumed', consumption, 0, 1) ??
    belowZero(Object.fromEntries(byGroup));
  if (bad) return bad;
  const consumed = {
    low: dryKilograms.low * consumption.low,
    likely: dryKilograms.likely * consumption.likely,
    high: dryKilograms.high * consumption.high,
  };
  const of = (share: number): LowHigh => {
    return { low: consumed.low * share, likely: consumed.likely * share, high: consumed.high * share }; // prettier-ignore
  };
  const pounds = (factor: number) => of(factor * POUNDS_TO_TON);
  const known = (factor: number | null) => (factor === null ? null : pounds(factor));
  const co = meanMonoxide(byGroup);
  const carbonGone = ((co * 12) / 28 + (METHANE * 12) / 16) * POUNDS_TO_TON;
  const { pm, pm10, pm25 } = particulate[quality];
  return ok({
    consumedKilograms: consumed,
    pm: known(pm),
    pm10: known(pm10),
    pm25: pounds(pm25),
    co: pounds(co),
    ch4: pounds(METHANE),
    co2: of(((CARBON - carbonGone) * 44) / 12),
    ash: {
      low: consumed.low * ASH.low,
      likely: consumed.likely * ASH.likely,
      high: consumed.high * ASH.high,
    },
  });
}

function meanMonoxide(byGroup: ReadonlyMap<SpeciesGroup, number>): number {
  let [mass, sum] = [0, 0];
  for (const [group, kilograms] of byGroup) {
    mass += kilograms;
    sum += kilograms * (monoxide[group] ?? MONOXIDE);
  }
  return mass > 0 ? sum / mass : MONOXIDE;
}

/**
 * Dry wood in a pile, kilograms, by the first steps of the same method: gross volume times packing
 * ratio, less its share of soil, times basic density.
 * Problems: values out of bounds.
 * Example: 3,141.59 ft³, packing 0.20, a tenth soil, Douglas-fir (28.08 lb/ft³): 7.94 short tons.
 */
export function pileDryKilograms(
  grossCubicMeters: number,
  packing: number,
  soilShare: number,
  kilogramsPerCubicMeter: number,
): Result<number> {
  const bad =
    badNumber({ 'gross volume': grossCubicMeters }, 0, 1e9) ??
    badNumber({ 'packing ratio': packing }, 0, 1, true) ??
    badNumber({ 'share of soil': soilShare }, 0, 1) ??
    badNumber({ 'density of the wood': kilogramsPerCubicMeter }, 0, 2000, true);
  return bad ?? ok(grossCubicMeters * packing * (1 - soilShare) * kilogramsPerCubicMeter);
}
