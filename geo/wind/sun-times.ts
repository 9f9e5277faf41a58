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
const J2000_UNIX_MILLISECONDS = 946_728_000_000;
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

function sunAt(instant: number): { declinationRadians: number; equationOfTimeMinutes: number } {
  // Centuries of dynamical time; the minute between it and UTC moves the sun by 0.0007 degrees.
  const t = (instant - J2000_UNIX_MILLISECONDS) / DAY / 36_525;
  const meanLongitude = radians(280.46646 + t * (36_000.76983 + t * 0.0003032));
  const anomaly = radians(357.52911 + t * (35_999.05029 - t * 0.0001537));
  const eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
  const center =
    (1.914602 - t * (0.004817 + t * 0.000014)) * Math.sin(anomaly) +
    (0.019993 - t * 0.000101) * Math.sin(2 * anomaly) +
    0.000289 * Math.sin(3 * anomaly);
  const node = radians(125.04 - 1934.136 * t);
  const apparent = meanLongitude + radians(center - 0.00569 - 0.00478 * Math.sin(node));
  const obliquity = radians(23 + 26 / 60 + (21.448 - 46.815 * t) / 3600 + 0.00256 * Math.cos(node));
  const y = Math.tan(obliquity / 2) ** 2;
  const equation =
    y * Math.sin(2 * meanLongitude) -
    2 * eccentricity * Math.sin(anomaly) +
    4 * eccentricity * y * Math.sin(anomaly) * Math.cos(2 * meanLongitude) -
    0.5 * y * y * Math.sin(4 * meanLongitude) -
    1.25 * eccentricity * eccentricity * Math.sin(2 * anomaly);
  return {
    declinationRadians: Math.asin(Math.sin(obliquity) * Math.sin(apparent)),
    equationOfTimeMinutes: 4 * degrees(equation),
  };
}

function radians(value: number): number {
  return (value * Math.PI) / 180;
}

function degrees(value: number): number {
  return (value * 180) / Math.PI;
}
