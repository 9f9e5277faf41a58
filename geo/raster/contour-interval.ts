import { metersFromFeet } from '../frame/units.ts';

const feetSteps = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;
const meterSteps = [0.25, 0.5, 1, 2, 5, 10, 25, 50, 100, 250] as const;

/** Every how many contours one is drawn heavier. */
export const indexContourEvery = 5;

/**
 * The contour step that reads well at a scale: on a 20 % slope lines stay about six pixels apart.
 * Never under one foot, which lidar cannot hold. 1 m pixels give 5 ft.
 */
export function contourInterval(metersPerPixel: number, units: 'us' | 'metric'): number {
  const wanted = metersPerPixel * 1.25;
  const steps: readonly number[] = units === 'us' ? feetSteps.map(metersFromFeet) : meterSteps;
  return steps.find((step) => step >= wanted) ?? steps[steps.length - 1];
}
