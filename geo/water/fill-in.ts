import type { VolumeRange } from './notch.ts';

export interface FillIn {
  /** Room to be filled, as it lies once compacted. */
  readonly inPlaceCubicMeters: VolumeRange;
  /** To be dug elsewhere for it. */
  readonly bankCubicMeters: VolumeRange;
}

/**
 * Dirt to fill a low spot level to its spill. In place it is the spot's own volume, in the bank that
 * over 1 - shrink (15 % when not given; handbook §4.4 has 10 % for loam and for clay).
 * `low` and `high` move the whole floor by `depthErrorMeters` up and down. What comes of it is dead
 * level: it is no longer deep, and it still does not drain.
 * Throws RangeError for a volume, area or error below 0 or not finite, or a shrink outside 0 to 1.
 * Example: 573 m³ (750 yd³) takes 674 m³ (882 yd³) from the bank.
 */
export function fillIn(
  spot: { readonly volumeCubicMeters: number; readonly areaSquareMeters: number },
  options: { readonly shrinkRatio?: number; readonly depthErrorMeters?: number } = {},
): FillIn {
  const { volumeCubicMeters: likely, areaSquareMeters } = spot;
  const { shrinkRatio = 0.15, depthErrorMeters = 0.05 } = options;
  for (const value of [likely, areaSquareMeters, depthErrorMeters]) {
    if (!(value >= 0 && value < Infinity))
      throw new RangeError(`a volume, area or depth of ${value}`);
  }
  if (!(shrinkRatio >= 0 && shrinkRatio < 1)) throw new RangeError(`a shrink of ${shrinkRatio}`);
  const doubt = areaSquareMeters * depthErrorMeters;
  const inPlace = { low: Math.max(0, likely - doubt), likely, high: likely + doubt };
  const bank = (cubicMeters: number) => cubicMeters / (1 - shrinkRatio);
  return {
    inPlaceCubicMeters: inPlace,
    bankCubicMeters: { low: bank(inPlace.low), likely: bank(likely), high: bank(inPlace.high) },
  };
}
