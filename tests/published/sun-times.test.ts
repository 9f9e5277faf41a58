import { describe, expect, it } from 'vitest';
import { sunTimes } from '../../geo/wind/sun-times.ts';

// Golden, Colorado (39.742476, -105.1786), Mountain Standard Time = UTC-7.
const longitude = -105.1786;
const latitude = 39.742476;
const mst = (date: string, time: string) => Date.parse(`${date}T${time}-07:00`);

// US Naval Observatory, whole minutes, as kept in pvlib-python tests/test_solarposition.py.
const observatory = [
  ['2015-01-01', '07:22', '16:47', '12:04'],
  ['2015-01-02', '07:22', '16:48', '12:05'],
  ['2015-01-03', '07:22', '16:49', '12:05'],
  ['2015-08-02', '05:00', '19:13', '12:07'],
] as const;

describe('sun times against the US Naval Observatory, within a minute', () => {
  it.each(observatory)('%s', (date, rise, set, transit) => {
    const times = sunTimes(longitude, latitude, mst(date, '12:00:00'));
    expect(Math.abs(times.riseUtcMilliseconds! - mst(date, `${rise}:00`))).toBeLessThan(60_000);
    expect(Math.abs(times.setUtcMilliseconds! - mst(date, `${set}:00`))).toBeLessThan(60_000);
    expect(Math.abs(times.noonUtcMilliseconds - mst(date, `${transit}:00`))).toBeLessThan(60_000);
  });
});

it('agrees with the NREL solar position algorithm on the sunrise of 17 October 2003 to 5 s', () => {
  // NREL/TP-560-34302: sunrise 06:12:43, transit 11:46:05. Its "sunset" is the UT day's, so unused.
  const times = sunTimes(longitude, latitude, mst('2003-10-17', '12:00:00'));
  expect(Math.abs(times.riseUtcMilliseconds! - mst('2003-10-17', '06:12:43'))).toBeLessThan(5000);
  expect(Math.abs(times.noonUtcMilliseconds - mst('2003-10-17', '11:46:05'))).toBeLessThan(5000);
});

it('has no sunrise in a polar summer or winter', () => {
  for (const date of ['2026-06-21', '2026-12-21']) {
    const times = sunTimes(20, 75, Date.parse(`${date}T11:00:00Z`));
    expect(times.riseUtcMilliseconds).toBeNull();
    expect(times.setUtcMilliseconds).toBeNull();
  }
});

it('refuses what is not a place or an instant', () => {
  expect(() => sunTimes(Number.NaN, 40, 0)).toThrow(RangeError);
});
