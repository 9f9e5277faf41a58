import { turnerClass, type StabilityClass } from './stability-class.ts';
import { sunPosition } from './sun-position.ts';
import { sunTimes } from './sun-times.ts';

const HOUR = 3_600_000;

/** What the sky is like; NaN for what is not known. */
export interface Sky {
  readonly cloudShare: number;
  readonly ceilingMeters: number;
}

/** A sky of which nothing is known. */
export const unknownSky: Sky = { cloudShare: NaN, ceilingMeters: NaN };

/**
 * Stability at an instant (Unix milliseconds, UTC) by Turner's method: night from 1 h before sunset
 * to 1 h after sunrise of the day; on a day without them the sun's height decides.
 * Throws RangeError as `turnerClass` and `sunPosition` do.
 */
export function stabilityAt(
  place: { readonly longitude: number; readonly latitude: number },
  utcMilliseconds: number,
  metersPerSecond: number,
  sky: Sky = unknownSky,
): StabilityClass {
  const { longitude, latitude } = place;
  const { elevationDegrees } = sunPosition(longitude, latitude, utcMilliseconds);
  const sun = sunTimes(longitude, latitude, utcMilliseconds);
  const { riseUtcMilliseconds: rise, setUtcMilliseconds: set } = sun;
  const isNight =
    rise === null || set === null
      ? elevationDegrees <= 0
      : utcMilliseconds < rise + HOUR || utcMilliseconds > set - HOUR;
  return turnerClass({
    speedMetersPerSecond: metersPerSecond,
    sunElevationDegrees: elevationDegrees,
    isNight,
    ...sky,
  });
}
