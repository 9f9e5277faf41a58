/**
 * Where the sun stands on the celestial sphere: declination, and the equation of time.
 * Source: J. Meeus, Astronomical Algorithms, 2nd ed., ch. 25 and 28 (low-accuracy series, good to
 * 0.01 degree from 1900 to 2100). `instant` in Unix milliseconds, UTC.
 * Example: 13 Oct 1992, 0 h: -7.785 degrees, 13.71 minutes.
 */
export function sunAt(instant: number): {
  declinationRadians: number;
  equationOfTimeMinutes: number;
} {
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

const DAY = 86_400_000;
const J2000_UNIX_MILLISECONDS = 946_728_000_000;

export function radians(value: number): number {
  return (value * Math.PI) / 180;
}

export function degrees(value: number): number {
  return (value * 180) / Math.PI;
}
