import { degrees, radians, sunAt } from './sun-series.ts';

/**
 * Sunrise, sunset and solar noon at a place on one day.
 * Source: J. Meeus, Astronomical Algorithms, 2nd ed., ch. 25 and 28 (low-accuracy series), with the
 * zenith of the NOAA solar calculator: 90.833 degrees, upper limb at standard refraction.
 * Longitude and latitude in degrees, east and north positive; instants in Unix milliseconds, UTC.
 * Returns null for rise and set where the sun does not cross the horizon (long day or long night).
 * Good to a minute below 70 degrees of latitude on a flat horizon; hills and woods are not seen.
 * Throws RangeError when a number is not finite.
 * Example: Golden, Colorado (39.742476, -105.1786), noon of 17 Oct 2003: sunrise 06:12:43 MST.
 */
export function sunTimes(
  longitude: number,
  latitude: number,
  noonUtcMilliseconds: number,
): SunTimes {
  for (const value of [longitude, latitude, noonUtcMilliseconds]) {
    if (!Number.isFinite(value)) throw new RangeError(`sunTimes: ${value} is not finite`);
  }
  // The local day is the one whose solar noon lies nearest to the instant given.
  let noon = noonUtcMilliseconds;
  for (let pass = 0; pass < 3; pass++) noon = nearestTransit(noon, longitude, noonUtcMilliseconds);
  return {
    riseUtcMilliseconds: crossing(noon, latitude, -1),
    setUtcMilliseconds: crossing(noon, latitude, 1),
    noonUtcMilliseconds: noon,
  };
}

export interface SunTimes {
  readonly riseUtcMilliseconds: number | null;
  readonly setUtcMilliseconds: number | null;
  readonly noonUtcMilliseconds: number;
}

const DAY = 86_400_000;
const HORIZON_ZENITH_DEGREES = 90.833;

function nearestTransit(guess: number, longitude: number, wanted: number): number {
  const { equationOfTimeMinutes } = sunAt(guess);
  const minutesAfterMidnight = 720 - 4 * longitude - equationOfTimeMinutes;
  const midnight = Math.floor(wanted / DAY) * DAY;
  const transit = midnight + minutesAfterMidnight * 60_000;
  return transit + Math.round((wanted - transit) / DAY) * DAY;
}

function crossing(noon: number, latitude: number, sign: 1 | -1): number | null {
  let instant = noon;
  for (let pass = 0; pass < 5; pass++) {
    const { declinationRadians, equationOfTimeMinutes } = sunAt(instant);
    const phi = radians(latitude);
    const cosine =
      Math.cos(radians(HORIZON_ZENITH_DEGREES)) / (Math.cos(phi) * Math.cos(declinationRadians)) -
      Math.tan(phi) * Math.tan(declinationRadians);
    if (!(Math.abs(cosine) <= 1)) return null;
    const transit = noon + (sunAt(noon).equationOfTimeMinutes - equationOfTimeMinutes) * 60_000;
    instant = transit + sign * 4 * degrees(Math.acos(cosine)) * 60_000;
  }
  return instant;
}
