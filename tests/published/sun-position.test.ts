import { describe, expect, it } from 'vitest';
import { legalLight } from '../../geo/wind/legal-light.ts';
import { sunPosition } from '../../geo/wind/sun-position.ts';
import { degrees, sunAt } from '../../geo/wind/sun-series.ts';

const golden = [-105.1786, 39.742476] as const;

describe('sun position against the solar position algorithm, NREL/TP-560-34302, within 0.02 degrees', () => {
  // Handbook section 8 (C 52): apparent elevation and azimuth, 820 mbar, 11 C.
  it.each([
    ['2003-10-17T12:30:30-07:00', 39.888378, 194.340241],
    ['2003-10-18T12:30:30-07:00', 39.505196, 194.311132],
  ])('%s', (instant, elevation, azimuth) => {
    const sun = sunPosition(...golden, Date.parse(instant));
    expect(Math.abs(sun.elevationDegrees - elevation)).toBeLessThan(0.02);
    expect(Math.abs(sun.azimuthDegrees - azimuth)).toBeLessThan(0.02);
  });
});

it('Meeus examples 25.a and 28.a: declination and equation of time', () => {
  // 1992 Oct 13.0 TD: -7.78507 degrees, 13 min 42.6 s (handbook section 8, C 51).
  const { declinationRadians, equationOfTimeMinutes } = sunAt(Date.UTC(1992, 9, 13));
  expect(degrees(declinationRadians)).toBeCloseTo(-7.78507, 4);
  expect(equationOfTimeMinutes * 60).toBeCloseTo(13 * 60 + 42.6, 0);
});

it('at sunrise the upper limb stands on the horizon: the middle 0.27 degrees below, as seen', () => {
  const light = legalLight(...golden, Date.parse('2015-01-02T12:00:00-07:00'))!;
  const sun = sunPosition(...golden, light.sunriseUtcMilliseconds);
  // Half the sun's width; the sun's hours take 34' of refraction, Saemundson gives 29' at the horizon.
  expect(Math.abs(sun.elevationDegrees + 0.267)).toBeLessThan(0.1);
  expect(light.sunriseUtcMilliseconds - light.fromUtcMilliseconds).toBe(30 * 60_000);
  expect(light.toUtcMilliseconds - light.sunsetUtcMilliseconds).toBe(30 * 60_000);
});

it('legal light takes the offsets given, and there is none without a sunrise', () => {
  const noon = Date.parse('2015-01-02T12:00:00-07:00');
  const wider = legalLight(...golden, noon, { beforeSunriseMinutes: 60, afterSunsetMinutes: 0 })!;
  // US Naval Observatory: 07:22 and 16:48, so 06:22 and 16:48.
  const clock = (time: string) => Date.parse(`2015-01-02T${time}:00-07:00`);
  expect(Math.abs(wider.fromUtcMilliseconds - clock('06:22'))).toBeLessThan(60_000);
  expect(Math.abs(wider.toUtcMilliseconds - clock('16:48'))).toBeLessThan(60_000);
  expect(legalLight(20, 75, Date.parse('2026-12-21T11:00:00Z'))).toBeNull();
});
