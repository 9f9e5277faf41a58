import { describe, expect, it } from 'vitest';
import { beaufort } from '../../geo/wind/beaufort.ts';
import { seasonDay, seasonLengthDays, usualSeason } from '../../geo/wind/hunting-season.ts';
import { recordLength } from '../../geo/wind/record-length.ts';
import { sectorOf, shareOut } from '../../geo/wind/sectors.ts';
import { EVENING, MIDDAY, MORNING, NIGHT, sunParts } from '../../geo/wind/sun-parts.ts';
import { sectorTotal, windRose } from '../../geo/wind/wind-rose.ts';
import { WindSum } from '../../geo/wind/wind-mean.ts';
import { seeded } from '../seeded.ts';
import { windRecord } from '../wind-rig.ts';

describe('directions', () => {
  // Handbook section 7.5.
  it.each([
    [11.24, 0],
    [11.25, 1],
    [348.75, 0],
    [225, 10],
    [360, 0],
    [0, 0],
  ])('%f degrees is sector %i', (degrees, sector) => {
    expect(sectorOf(degrees)).toBe(sector);
  });

  it('means 350 and 10 as vectors: 0 (handbook 7.5)', () => {
    const sum = new WindSum();
    sum.add(350, 3);
    sum.add(10, 3);
    const { fromDegrees, steadiness, scalarMetersPerSecond } = sum.mean();
    expect(Math.min(fromDegrees, 360 - fromDegrees)).toBeCloseTo(0, 9);
    expect(steadiness).toBeCloseTo(Math.cos(Math.PI / 18), 12);
    expect(scalarMetersPerSecond).toBe(3);
  });

  it('opposite winds have no mean direction and no steadiness; calm slows the mean', () => {
    const sum = new WindSum();
    sum.add(90, 4);
    sum.add(270, 4);
    sum.add(NaN, 0);
    sum.add(NaN, 2);
    const mean = sum.mean();
    expect(mean.fromDegrees).toBeNaN();
    expect(mean.steadiness).toBeCloseTo(0, 12);
    expect(mean.scalarMetersPerSecond).toBeCloseTo(8 / 3, 12);
  });

  it('shares of tens give every sector the same part of a wind from all round', () => {
    const shares = new Float64Array(16);
    for (let degrees = 10; degrees <= 360; degrees += 10) {
      shareOut(degrees, 10, (sector, share) => (shares[sector]! += share));
    }
    for (const share of shares) expect(share).toBeCloseTo(36 / 16, 12);
    const ten: [number, number][] = [];
    shareOut(10, 10, (sector, share) => ten.push([sector, share]));
    expect(ten).toEqual([
      [0, 0.625],
      [1, 0.375],
    ]);
  });
});

describe('Beaufort by the table in miles an hour (handbook 7.4, C 46)', () => {
  it.each([
    [0.4, 0],
    [1, 1],
    [3, 1],
    [4, 2],
    [7, 2],
    [8, 3],
    [12, 3],
    [13, 4],
    [18, 4],
    [19, 5],
    [25, 6],
    [32, 7],
    [39, 8],
    [47, 9],
    [55, 10],
    [64, 11],
    [72, 11],
    [73, 12],
  ])('%f mph is force %i', (mph, force) => {
    expect(beaufort(mph * 0.44704).force).toBe(force);
  });
});

describe('season and parts of the day', () => {
  it('a season over the new year, by its own days', () => {
    expect(seasonDay(Date.parse('2024-01-03T00:00:00Z'), usualSeason)).toEqual({
      year: 2023,
      day: 94,
    });
    expect(seasonDay(Date.parse('2023-10-01T23:00:00Z'), usualSeason)).toEqual({
      year: 2023,
      day: 0,
    });
    expect(seasonDay(Date.parse('2024-01-16T00:00:00Z'), usualSeason)).toBeNull();
    expect(seasonDay(Date.parse('2023-09-30T00:00:00Z'), usualSeason)).toBeNull();
    expect(seasonLengthDays(2023, usualSeason)).toBe(107);
  });

  it('by minutes from the sun of the day: Golden, 2 Jan 2015, 07:22 and 16:48 (USNO)', () => {
    const rows = [
      '06:50',
      '06:54',
      '07:22',
      '09:20',
      '09:24',
      '12:00',
      '14:46',
      '14:50',
      '17:16',
      '17:20',
    ];
    const record = windRecord(
      rows.map((time) => ({ time: `2015-01-02T${time}:00-07:00`, speed: 1, from: 90 })),
    );
    const { part, month, season, week } = sunParts(record, -105.1786, 39.742476, usualSeason);
    expect([...part]).toEqual([
      NIGHT,
      MORNING,
      MORNING,
      MORNING,
      MIDDAY,
      MIDDAY,
      MIDDAY,
      EVENING,
      EVENING,
      NIGHT,
    ]);
    expect([month[0], season[0], week[0]]).toEqual([1, 2014, Math.floor(93 / 7)]);
  });

  it('without a sunrise every hour is night, and the day is counted', () => {
    const record = windRecord([{ time: '2026-12-21T11:00:00Z', from: 90, speed: 1 }]);
    const { part, daysWithoutSunrise } = sunParts(record, 20, 75, usualSeason);
    expect([part[0], daysWithoutSunrise]).toEqual([NIGHT, 1]);
  });

  it('fewer than three whole seasons are too few', () => {
    const rows = [2021, 2022, 2023].flatMap((year) =>
      Array.from({ length: year === 2023 ? 40 : 107 }, (_, day) => ({
        time: Date.UTC(year, 9, 1 + day, 17) / 1000,
        from: 10,
        speed: 2,
      })),
    );
    const sun = sunParts(windRecord(rows), -75, 36, usualSeason);
    expect(recordLength(sun)).toEqual({ wholeSeasons: 2, partSeasons: [2023], isShort: true });
  });
});

describe('wind rose', () => {
  const at = (hour: number) => Date.UTC(2023, 10, 1) / 1000 + hour * 3600;

  it('counts by hand: 16 directions by speed, calm and variable apart', () => {
    const record = windRecord([
      { time: at(0), from: 225, speed: 2 },
      { time: at(1), from: 225, speed: 6 },
      { time: at(2), from: 11.3, speed: 2 },
      { time: at(3), speed: 0 },
      { time: at(4), speed: 2 },
    ]);
    const rose = windRose(record, sunParts(record, -75, 36, usualSeason));
    expect(rose).toMatchObject({ hours: 5, calmHours: 1, variableHours: 1, prevailing: 10 });
    expect(sectorTotal(rose, 10)).toBe(2);
    expect(sectorTotal(rose, 1)).toBe(1);
    // 2 m/s is 4.5 mph, the second class; 6 m/s 13.4 mph, the fourth.
    expect([...rose.sectorHours.slice(50, 55)]).toEqual([0, 1, 0, 1, 0]);
  });

  it('keeps every hour, whatever is chosen', () => {
    const random = seeded(11);
    const rows = Array.from({ length: 4000 }, (_, i) => {
      const kind = random();
      const speed = kind < 0.1 ? 0 : 0.5 + 9 * random();
      return { time: at(i), speed, from: kind < 0.15 ? NaN : 10 * Math.ceil(36 * random()) };
    });
    const record = windRecord(rows);
    const sun = sunParts(record, -75, 36, usualSeason);
    const total = (rose: ReturnType<typeof windRose>) =>
      rose.calmHours + rose.variableHours + rose.sectorHours.reduce((a, b) => a + b, 0);
    const whole = windRose(record, sun);
    expect(whole.stepDegrees).toBe(10);
    expect(total(whole)).toBeCloseTo(4000, 6);
    const parts = [NIGHT, MORNING, MIDDAY, EVENING].map((part) =>
      windRose(record, sun, { parts: [part] }),
    );
    expect(parts.reduce((sum, rose) => sum + total(rose), 0)).toBeCloseTo(4000, 6);
    const november = windRose(record, sun, { months: [11], inSeasonOnly: true });
    expect(november.hours).toBe(
      sun.month.filter((month, i) => month === 11 && sun.season[i]! > 0).length,
    );
  });
});
