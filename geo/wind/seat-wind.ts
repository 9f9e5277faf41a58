/** A figure with how far it may lie off. */
export interface SpeedShare {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** How a station's wind comes down to a seat. All of it editable. */
export interface SeatExposure {
  readonly stationHeightMeters: number;
  readonly seatHeightMeters: number;
  /** Power of height; 0.2 to 0.3 over fields and woods (trade notes, section 3.5). */
  readonly power: SpeedShare;
  /** Width of the opening in heights of the trees round it; null in the open. */
  readonly openingTreeHeights: number | null;
  /** Openings narrower than this are sheltered. */
  readonly shelteredBelowTreeHeights: number;
  /** Share of the open wind in a sheltered opening. */
  readonly shelterShare: SpeedShare;
}

/** Airport mast to a seat of 12 ft; ours, common practice at best (trade notes, sections 3.5, 6.8). */
export const usualExposure: SeatExposure = {
  stationHeightMeters: 10,
  seatHeightMeters: 3.66,
  power: { low: 0.2, likely: 0.25, high: 0.3 },
  openingTreeHeights: null,
  shelteredBelowTreeHeights: 8,
  shelterShare: { low: 0.2, likely: 0.35, high: 0.5 },
};

export interface SeatWind {
  /** What the station's speed is multiplied by. */
  readonly share: SpeedShare;
  /** True in a small opening: the air turns there, and every verdict has low confidence. */
  readonly isSheltered: boolean;
}

/**
 * Share of a station's wind at a seat: (seat height / station height) to a power, and in an opening
 * narrower than about 8 tree heights a fifth to a half of it.
 * Throws RangeError for heights that are not above 0.
 * Example: 10 m to 3.66 m in the open: 0.74 to 0.82, likely 0.78.
 */
export function seatWind(exposure: SeatExposure): SeatWind {
  const { stationHeightMeters, seatHeightMeters, power, openingTreeHeights } = exposure;
  const ratio = seatHeightMeters / stationHeightMeters;
  if (!(ratio > 0 && ratio < Infinity)) {
    throw new RangeError(`seatWind: ${seatHeightMeters} m and ${stationHeightMeters} m`);
  }
  const isSheltered =
    openingTreeHeights !== null && openingTreeHeights < exposure.shelteredBelowTreeHeights;
  const none = { low: 1, likely: 1, high: 1 };
  const shelter = isSheltered ? exposure.shelterShare : none;
  const ends = [ratio ** power.low, ratio ** power.high];
  return {
    share: {
      low: Math.min(...ends) * shelter.low,
      likely: ratio ** power.likely * shelter.likely,
      high: Math.max(...ends) * shelter.high,
    },
    isSheltered,
  };
}
