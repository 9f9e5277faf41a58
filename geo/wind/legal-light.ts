import { sunTimes } from './sun-times.ts';

/** Minutes of legal shooting light before sunrise and after sunset. */
export interface LightOffsets {
  readonly beforeSunriseMinutes: number;
  readonly afterSunsetMinutes: number;
}

/** Common practice in many states, not the law of any one: editable, and to be checked. */
export const usualLight: LightOffsets = { beforeSunriseMinutes: 30, afterSunsetMinutes: 30 };

export interface LegalLight {
  readonly fromUtcMilliseconds: number;
  readonly sunriseUtcMilliseconds: number;
  readonly noonUtcMilliseconds: number;
  readonly sunsetUtcMilliseconds: number;
  readonly toUtcMilliseconds: number;
}

/**
 * The window of legal light of the local day whose solar noon lies nearest to an instant (Unix
 * milliseconds, UTC). Null on a day without a sunrise or a sunset. Throws RangeError for a number
 * that is not finite.
 */
export function legalLight(
  longitude: number,
  latitude: number,
  noonUtcMilliseconds: number,
  offsets: LightOffsets = usualLight,
): LegalLight | null {
  const { beforeSunriseMinutes, afterSunsetMinutes } = offsets;
  if (!Number.isFinite(beforeSunriseMinutes + afterSunsetMinutes)) {
    throw new RangeError(`legalLight: ${beforeSunriseMinutes}, ${afterSunsetMinutes} minutes`);
  }
  const sun = sunTimes(longitude, latitude, noonUtcMilliseconds);
  const { riseUtcMilliseconds: rise, setUtcMilliseconds: set } = sun;
  if (rise === null || set === null) return null;
  return {
    fromUtcMilliseconds: rise - beforeSunriseMinutes * 60_000,
    sunriseUtcMilliseconds: rise,
    noonUtcMilliseconds: sun.noonUtcMilliseconds,
    sunsetUtcMilliseconds: set,
    toUtcMilliseconds: set + afterSunsetMinutes * 60_000,
  };
}
