import type { ContourLine } from './contours.ts';

export interface LabelPlace {
  /** Frame metres. */
  readonly x: number;
  readonly y: number;
  /** Of the line there, degrees clockwise from grid north, 0 up to 180. */
  readonly gridBearingDegrees: number;
}

/**
 * Where a label of a given length (metres) lies best on a contour: the middle of the stretch that
 * long which strays least from straight (its way less its chord); the first of equals. Null where
 * the line is shorter than the label.
 */
export function contourLabelPlace(
  { coordinates, closed }: ContourLine,
  lengthMeters: number,
): LabelPlace | null {
  const points = coordinates.length / 2;
  const count = closed ? points + 1 : points;
  const x = (i: number) => coordinates[2 * (i % points)];
  const y = (i: number) => coordinates[2 * (i % points) + 1];
  const gone = new Float64Array(count);
  for (let i = 1; i < count; i++) {
    gone[i] = gone[i - 1] + Math.hypot(x(i) - x(i - 1), y(i) - y(i - 1));
  }
  let best: LabelPlace | null = null;
  let least = Infinity;
  for (let i = 0, j = 0; i < count; i++) {
    while (j < count && gone[j] - gone[i] < lengthMeters) j++;
    if (j === count) break;
    const dx = x(j) - x(i);
    const dy = y(j) - y(i);
    const stray = gone[j] - gone[i] - Math.hypot(dx, dy);
    if (stray >= least - 1e-9) continue;
    least = stray;
    const bearing = (Math.atan2(dx, dy) * 180) / Math.PI;
    best = {
      ...onLine(x, y, gone, (gone[i] + gone[j]) / 2, i),
      gridBearingDegrees: ((bearing % 180) + 180) % 180,
    };
  }
  return best;
}

function onLine(
  x: (i: number) => number,
  y: (i: number) => number,
  gone: Float64Array,
  station: number,
  from: number,
): { x: number; y: number } {
  let i = from;
  while (gone[i + 1] < station) i++;
  const t = (station - gone[i]) / (gone[i + 1] - gone[i] || 1);
  return { x: x(i) + t * (x(i + 1) - x(i)), y: y(i) + t * (y(i + 1) - y(i)) };
}
