/** Where a line runs through standing water, by its stations. */
export interface StandingRun {
  readonly fromStationMeters: number;
  readonly toStationMeters: number;
  /** Height of the water. */
  readonly levelMeters: number;
  readonly maxDepthMeters: number;
  /** The first station where it is that deep. */
  readonly deepestStationMeters: number;
}

/** Levels nearer than this are one water. */
const sameLevelMeters = 1e-6;

/**
 * The runs of a line that lie under water, in order. `levels` holds the height of the water that
 * may stand at each station (-Infinity for none), `heights` the ground there (NaN for none; nothing
 * stands there). The edge of a water lies where ground that is straight between stations comes up
 * to it; halfway to a station that has no such water, as at a wall.
 * Metres, stations rising. Throws RangeError where the arrays differ in length.
 * Example: ground at 2, 0, 2 by stations 0, 10, 20 under water at 1 is one run from 5 to 15.
 */
export function standingRuns(
  stations: Float64Array,
  heights: Float64Array,
  levels: Float64Array,
): StandingRun[] {
  if (heights.length !== stations.length || levels.length !== stations.length) {
    throw new RangeError(
      `${heights.length} heights, ${levels.length} levels for ${stations.length}`,
    );
  }
  const isWet = (i: number) => levels[i] > heights[i];
  const runs: StandingRun[] = [];
  for (let i = 0; i < stations.length; i++) {
    if (!isWet(i)) continue;
    const level = levels[i];
    const from = i;
    let deepest = i;
    while (
      i + 1 < stations.length &&
      isWet(i + 1) &&
      Math.abs(levels[i + 1] - level) < sameLevelMeters
    ) {
      i++;
      if (heights[i] < heights[deepest]) deepest = i;
    }
    const edge = (wet: number, dry: number): number => {
      if (dry < 0 || dry >= stations.length || Number.isNaN(heights[dry])) return stations[wet];
      const rise = heights[dry] - heights[wet];
      const share = heights[dry] > level ? (level - heights[wet]) / rise : 0.5;
      return stations[wet] + share * (stations[dry] - stations[wet]);
    };
    runs.push({
      fromStationMeters: edge(from, from - 1),
      toStationMeters: edge(i, i + 1),
      levelMeters: level,
      maxDepthMeters: level - heights[deepest],
      deepestStationMeters: stations[deepest],
    });
  }
  return runs;
}
