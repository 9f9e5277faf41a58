import { feetFromMeters } from '../../geo/frame/units.ts';
import { figure, type UnitSystem } from './format.ts';

/** Directions and distances as deeds write them. */

/** A bearing by its quadrant, to the second: 134.504° is `S 45°29'46" E`; due ones in words. */
export function quadrantBearing(degrees: number): string {
  const whole = ((degrees % 360) + 360) % 360;
  const off = whole <= 90 || whole >= 270 ? Math.min(whole, 360 - whole) : Math.abs(180 - whole);
  const seconds = Math.round(off * 3600);
  const isNorth = whole < 90 || whole > 270;
  if (seconds === 0) return isNorth ? 'due north' : 'due south';
  if (seconds === 90 * 3600) return whole < 180 ? 'due east' : 'due west';
  const two = (value: number) => String(value).padStart(2, '0');
  const written = `${Math.floor(seconds / 3600)}°${two(Math.floor(seconds / 60) % 60)}'${two(seconds % 60)}"`;
  return `${isNorth ? 'N' : 'S'} ${written} ${whole < 180 ? 'E' : 'W'}`;
}

/** Feet to 0.01, as deeds give them; metres to 0.001. */
export function deedLength(meters: number, units: UnitSystem): string {
  return units === 'metric' ? `${figure(meters, 3)} m` : `${figure(feetFromMeters(meters), 2)} ft`;
}
