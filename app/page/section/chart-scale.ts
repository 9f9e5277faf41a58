/** How much taller than true a section is drawn: round, as on engineers' sheets. */
const roundTimes = [1, 2, 3, 4, 5, 8, 10, 15, 20, 30, 40, 50, 80, 100] as const;

export interface HeightScale {
  /** Heights are drawn this many times taller than lengths. */
  readonly times: number;
  readonly bottom: number;
  readonly top: number;
}

/**
 * The tallest round scale at which the heights still fill at most `fill` of the plot. Lengths and
 * heights in one unit, sizes in pixels. Ground that is level gets the tallest.
 * Example: 600 ft over 1000 px and 20 ft of relief over 200 px fill 0.6 of it at 3 times.
 */
export function heightScale(
  length: number,
  lowest: number,
  highest: number,
  widthPixels: number,
  heightPixels: number,
  fill = 0.62,
): HeightScale {
  const pixelsPerUnit = widthPixels / Math.max(length, 1e-9);
  const relief = highest - lowest;
  const fits = roundTimes.filter((times) => relief * times * pixelsPerUnit <= heightPixels * fill);
  const times = fits[fits.length - 1] ?? roundTimes[0];
  const span = heightPixels / (times * pixelsPerUnit);
  // Too steep even for true scale: drawn less than true, and said so.
  const wanted = Math.max(span, relief / fill);
  const middle = (lowest + highest) / 2;
  // More room above, where the slopes are written.
  return {
    times: wanted > span ? span / wanted : times,
    bottom: middle - wanted * 0.45,
    top: middle + wanted * 0.55,
  };
}
