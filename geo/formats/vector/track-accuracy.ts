import { metersFromFeet } from '../../frame/units.ts';

/** Where a track was walked: bare sky, under trees, or nobody said. */
export type Sky = 'open' | 'canopy' | 'unknown';

export interface Estimate {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

export interface TrackAccuracy {
  readonly positionErrorMeters: Estimate;
  /** Where the figures come from. */
  readonly from: 'hdop' | 'sky';
}

/** Phones and handhelds: 10–16 ft in the open, 20–40 ft under canopy (trade notes, section 1). */
const OPEN_FEET = [10, 16] as const;
const CANOPY_FEET = [20, 40] as const;

/**
 * How far off the positions of a phone or handheld may lie, metres. Where the file gives the
 * dilution of precision, the open-sky figures are multiplied by its median (error = hdop × ranging
 * error, which is what hdop means; never below 1). Under canopy leaves and echoes do not show in the
 * hdop, so the canopy figures stand as the least. Without either the range spans both.
 * @param hdop of each position, NaN where unknown, or null
 * Example: open sky and no hdop gives 3.0 to 4.9 m.
 */
export function trackAccuracy(hdop: Float64Array | null, sky: Sky): TrackAccuracy {
  const [openLow, openHigh] = OPEN_FEET.map(metersFromFeet);
  const [canopyLow, canopyHigh] = CANOPY_FEET.map(metersFromFeet);
  const middle = hdop === null ? Number.NaN : median(hdop);
  const isKnown = middle > 0 && middle < 100;
  const factor = isKnown ? Math.max(1, middle) : 1;
  let [low, high] = [openLow * factor, openHigh * factor];
  if (sky === 'canopy') [low, high] = [Math.max(low, canopyLow), Math.max(high, canopyHigh)];
  else if (sky === 'unknown' && !isKnown) high = canopyHigh;
  // Unknown sky: the middle of the road is where open ground and woods meet.
  const likely = sky === 'unknown' && !isKnown ? (openHigh + canopyLow) / 2 : (low + high) / 2;
  return { positionErrorMeters: { low, likely, high }, from: isKnown ? 'hdop' : 'sky' };
}

/** Middle value, NaN left out; NaN where there is none. */
function median(values: Float64Array): number {
  const known = values.filter((value) => !Number.isNaN(value)).sort();
  return known.length === 0 ? Number.NaN : known[known.length >> 1];
}
