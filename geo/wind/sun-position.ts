import { degrees, radians, sunAt } from './sun-series.ts';

export interface SunPosition {
  /** Clockwise from true north. */
  readonly azimuthDegrees: number;
  /** Above the horizon as seen, air's refraction included. */
  readonly elevationDegrees: number;
}

/**
 * Where the sun stands in the sky. Longitude and latitude in degrees, east and north positive; the
 * instant in Unix milliseconds, UTC. Series of Meeus (`sun-series`), the parallax of a body at 1 AU,
 * and refraction after Saemundson (Meeus ch. 16) at 1010 hPa and 10 degrees Celsius, only above -1.
 * Within 0.02 degrees of the solar position algorithm NREL/TP-560-34302; nothing of hills or woods.
 * Throws RangeError when a number is not finite.
 * Example: Golden, Colorado, 17 Oct 2003, 12:30:30 MST: azimuth 194.34, elevation 39.89.
 */
export function sunPosition(
  longitude: number,
  latitude: number,
  utcMilliseconds: number,
): SunPosition {
  for (const value of [longitude, latitude, utcMilliseconds]) {
    if (!Number.isFinite(value)) throw new RangeError(`sunPosition: ${value} is not finite`);
  }
  const { declinationRadians, equationOfTimeMinutes } = sunAt(utcMilliseconds);
  const minutes = (utcMilliseconds / 60_000) % 1440;
  const hourAngle = radians((minutes + equationOfTimeMinutes) / 4 + longitude - 180);
  const phi = radians(latitude);
  const [sinPhi, cosPhi] = [Math.sin(phi), Math.cos(phi)];
  const [sinDec, cosDec] = [Math.sin(declinationRadians), Math.cos(declinationRadians)];
  const up = sinPhi * sinDec + cosPhi * cosDec * Math.cos(hourAngle);
  const north = cosPhi * sinDec - sinPhi * cosDec * Math.cos(hourAngle);
  const east = -cosDec * Math.sin(hourAngle);
  const azimuth = degrees(Math.atan2(east, north));
  const bare = degrees(Math.asin(Math.max(-1, Math.min(1, up))));
  const seen = bare - PARALLAX_DEGREES * Math.cos(radians(bare));
  return {
    azimuthDegrees: (azimuth + 360) % 360,
    elevationDegrees: seen + refractionDegrees(seen),
  };
}

const PARALLAX_DEGREES = 8.794 / 3600;

function refractionDegrees(elevation: number): number {
  if (elevation < -1) return 0;
  return 1.02 / 60 / Math.tan(radians(elevation + 10.3 / (elevation + 5.11)));
}
