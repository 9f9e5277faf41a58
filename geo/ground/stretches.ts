/** A straight run of a section. */
export interface Stretch {
  readonly fromStationMeters: number;
  readonly toStationMeters: number;
  /** Rise over run in the direction of the stations: below 0 it falls. */
  readonly slope: number;
}

/**
 * A section as straight stretches that no height strays from by more than a tolerance, so that
 * each can be labelled with its slope. Stretches begin and end at stations; where there is no
 * height (NaN) there is no stretch. A station alone between gaps gives none.
 * Source: Douglas & Peucker 1973, Cartographica 10:112–122, on heights. All lengths in metres.
 * Throws RangeError where the arrays differ in length or the tolerance is not above 0.
 * Example: 0, 1, 2, 1 at stations 0, 10, 20, 30 gives slopes 0.1 and -0.1.
 */
export function stretchesOf(
  stationsMeters: ArrayLike<number>,
  elevationsMeters: ArrayLike<number>,
  toleranceMeters: number,
): Stretch[] {
  if (stationsMeters.length !== elevationsMeters.length) {
    throw new RangeError(`${stationsMeters.length} stations, ${elevationsMeters.length} heights`);
  }
  if (!(toleranceMeters > 0)) throw new RangeError(`a tolerance of ${toleranceMeters} m`);
  const stretches: Stretch[] = [];
  for (let start = 0; start < stationsMeters.length;) {
    let end = start;
    while (end < stationsMeters.length && !Number.isNaN(elevationsMeters[end])) end++;
    if (end - start > 1) {
      addRun(stationsMeters, elevationsMeters, start, end - 1, toleranceMeters, stretches);
    }
    start = Math.max(end, start) + 1;
  }
  return stretches;
}

function addRun(
  s: ArrayLike<number>,
  z: ArrayLike<number>,
  first: number,
  last: number,
  tolerance: number,
  stretches: Stretch[],
): void {
  // Ends still to be reached, the nearest on top.
  const ends = [last];
  let from = first;
  while (ends.length > 0) {
    const to = ends[ends.length - 1];
    const bend = farthestHeight(s, z, from, to, tolerance);
    if (bend >= 0) {
      ends.push(bend);
      continue;
    }
    ends.pop();
    if (s[to] > s[from]) {
      stretches.push({
        fromStationMeters: s[from],
        toStationMeters: s[to],
        slope: (z[to] - z[from]) / (s[to] - s[from]),
      });
    }
    from = to;
  }
}

/** The station whose height strays most from the straight, or -1 where none is past the tolerance. */
function farthestHeight(
  s: ArrayLike<number>,
  z: ArrayLike<number>,
  from: number,
  to: number,
  tolerance: number,
): number {
  const slope = s[to] > s[from] ? (z[to] - z[from]) / (s[to] - s[from]) : 0;
  let farthest = -1;
  let most = tolerance;
  for (let i = from + 1; i < to; i++) {
    const away = Math.abs(z[i] - z[from] - slope * (s[i] - s[from]));
    if (away > most) {
      most = away;
      farthest = i;
    }
  }
  return farthest;
}
