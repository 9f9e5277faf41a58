import { stretchesOf, type Stretch } from '../../../geo/ground/stretches.ts';

/**
 * Straight runs of a section, few enough to be read: the tolerance starts at the survey's own and
 * doubles until no more than `most` are left.
 */
export function straightRuns(
  stationsMeters: readonly number[],
  elevationsMeters: readonly (number | null)[],
  toleranceMeters: number,
  most: number,
): { readonly runs: readonly Stretch[]; readonly toleranceMeters: number } {
  const heights = elevationsMeters.map((height) => height ?? NaN);
  let tolerance = toleranceMeters;
  for (;;) {
    const runs = stretchesOf(stationsMeters, heights, tolerance);
    if (runs.length <= most || tolerance > 1000) return { runs, toleranceMeters: tolerance };
    tolerance *= 2;
  }
}
