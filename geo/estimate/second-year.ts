import { badLowHigh, badNumber } from '../debris/check-numbers.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { roundHeap } from '../debris/round-heap.ts';
import { ok, type Result } from '../result.ts';
import { bladingHours } from './blading-hours.ts';
import type { Dozer } from './dirt-minutes.ts';
import { debrisMaterial, pushHours } from './push-hours.ts';

/** A heap or berm that burns. */
export interface Burned {
  /** Loose, before the burn. */
  readonly cubicMeters: number;
  /** Ground under it. */
  readonly groundSquareMeters: number;
  /** Its remnant is pushed so far on average to where it is heaped. */
  readonly pushMeters: number;
}

export interface SecondYearChoices {
  /** Share of the wood that burns. */
  readonly consumption: LowHigh;
  /** Soil over gross volume; it does not burn. */
  readonly soilShare: number;
  readonly maxHeightMeters: number;
  readonly dozer: Dozer;
  /** Passes of the blade over the ground that comes free; `usualPasses`. */
  readonly passes: number;
}

/** As over any finished face: common practice, no source. */
export const usualPasses = 4;

export interface SecondYear {
  /** Share of the gross volume that is gone. */
  readonly goneShare: LowHigh;
  /** What is left, heaped round, one heap for each that burned. */
  readonly remnantCubicMeters: LowHigh;
  readonly remnantGroundSquareMeters: LowHigh;
  /** Ground under what burned, less ground under what is left of it; to be bladed and sown. */
  readonly regainedSquareMeters: LowHigh;
  readonly touchUpHours: LowHigh;
}

/**
 * What the year after a burn brings. Wood goes by the share consumed, soil stays, and what is left
 * is heaped in round heaps where it lay (`roundHeap`). Of what comes back, `low` is where least
 * burned. Hours are for pushing the remnant together and blading what comes free; ash is spread
 * with it. Wet ground and move-in are not in them. Problems: values out of bounds.
 * Example: 500 m³ on 700 m², a tenth soil, 87.5 % consumed, 12 ft the limit: 106 m³ left on 76 m²; 624 m² free.
 */
export function secondYear(
  burned: readonly Burned[],
  choices: SecondYearChoices,
): Result<SecondYear> {
  const { consumption, soilShare, maxHeightMeters, dozer, passes } = choices;
  const bad =
    badLowHigh('share consumed', consumption, 0, 1) ??
    badNumber({ 'share of soil': soilShare }, 0, 1) ??
    badNumber({ 'height limit': maxHeightMeters, 'width of the blade': dozer.bladeWidthMeters, 'number of passes': passes }, 0, 1000, true); // prettier-ignore
  if (bad) return bad;
  for (const { cubicMeters, groundSquareMeters, pushMeters } of burned) {
    const wrong = badNumber({ 'volume that burns': cubicMeters, 'ground under it': groundSquareMeters, 'push of its remnant': pushMeters }, 0, 1e9); // prettier-ignore
    if (wrong) return wrong;
  }
  const gone = {
    low: (1 - soilShare) * consumption.low,
    likely: (1 - soilShare) * consumption.likely,
    high: (1 - soilShare) * consumption.high,
  };
  const sum = (pick: (one: Burned) => number) => burned.reduce((all, one) => all + pick(one), 0);
  const left = (share: number) => sum(({ cubicMeters }) => cubicMeters * (1 - share));
  const under = (one: Burned, share: number) => {
    const { widthMeters } = roundHeap(one.cubicMeters * (1 - share), maxHeightMeters);
    return Math.min(one.groundSquareMeters, (Math.PI / 4) * widthMeters * widthMeters);
  };
  const ground = (share: number) => sum((one) => under(one, share));
  const free = (share: number) => sum((one) => one.groundSquareMeters - under(one, share));
  const regained = { low: free(gone.low), likely: free(gone.likely), high: free(gone.high) };
  const remnant = { low: left(gone.high), likely: left(gone.likely), high: left(gone.low) };
  const shares = remnant.likely > 0 ? { low: remnant.low / remnant.likely, likely: 1, high: remnant.high / remnant.likely } : { low: 1, likely: 1, high: 1 }; // prettier-ignore
  const loads = burned.map(({ cubicMeters, pushMeters }) => {
    return { cubicMeters: cubicMeters * (1 - gone.likely), meters: pushMeters, riseMeters: null };
  });
  const pushed = pushHours(loads, dozer, debrisMaterial, shares);
  if (!pushed.ok) return pushed;
  const bladed = bladingHours(regained, passes, dozer);
  return ok({
    goneShare: gone,
    remnantCubicMeters: remnant,
    remnantGroundSquareMeters: { low: ground(gone.high), likely: ground(gone.likely), high: ground(gone.low) }, // prettier-ignore
    regainedSquareMeters: regained,
    touchUpHours: {
      low: pushed.value.hours.low + bladed.low,
      likely: pushed.value.hours.likely + bladed.likely,
      high: pushed.value.hours.high + bladed.high,
    },
  });
}
