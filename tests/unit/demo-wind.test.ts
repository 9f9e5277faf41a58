import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { dawnShares, duskShares, makeWindRecord } from '../../fixtures/generator/wind.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openWind } from '../../geo/formats/wind/open-wind.ts';
import type { WindStation } from '../../geo/plan/wind-record.ts';
import { usualSeason } from '../../geo/wind/hunting-season.ts';
import { recordLength } from '../../geo/wind/record-length.ts';
import {
  EVENING,
  MIDDAY,
  MORNING,
  sunParts,
  usualParts,
  type SunParts,
} from '../../geo/wind/sun-parts.ts';
import { windRose } from '../../geo/wind/wind-rose.ts';

const file = readFileSync(new URL('../../fixtures/demo/wind.csv', import.meta.url));
const place = [-75, 36.14] as const;
/** Two hours after sunrise and before sunset, no more: as section 6.4 counts. */
const noTwilight = { ...usualParts, light: { beforeSunriseMinutes: 0, afterSunsetMinutes: 0 } };

let station: WindStation;
beforeAll(async () => {
  const opened = await openWind(memorySource('wind.csv', file));
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened));
  station = opened.stations[0]!;
});

/** Percent of N, NE … NW and calm among the rows of a part. */
function eighths(sun: SunParts, part: number): number[] {
  const counts = new Array<number>(9).fill(0);
  let rows = 0;
  sun.part.forEach((of, i) => {
    if (of !== part) return;
    rows++;
    const from = station.record.fromDegrees[i]!;
    counts[
      station.record.speedMetersPerSecond[i] === 0 ? 8 : Math.floor(((from + 22.5) % 360) / 45)
    ]!++;
  });
  return counts.map((count) => (100 * count) / rows);
}

describe("the demo's wind", () => {
  it('is what the generator makes, and small', () => {
    expect(file.toString()).toBe(makeWindRecord());
    expect(file.length).toBeLessThan(400_000);
  });

  it('blows with the shares of trade notes 6.4, to 1 percent, in twilight too', () => {
    const exact = sunParts(station.record, ...place, usualSeason, noTwilight);
    const legal = sunParts(station.record, ...place, usualSeason);
    for (const sun of [exact, legal]) {
      eighths(sun, MORNING).forEach((share, i) =>
        expect(Math.abs(share - dawnShares[i]!)).toBeLessThan(1),
      );
      eighths(sun, EVENING).forEach((share, i) =>
        expect(Math.abs(share - duskShares[i]!)).toBeLessThan(1),
      );
    }
    // 7/7, 4/3, 3/2, 5/5, 13/14, 21/24, 16/22, 13/17, calm 18/6.
    expect([dawnShares, duskShares]).toEqual([
      [7, 4, 3, 5, 13, 21, 16, 13, 18],
      [7, 3, 2, 5, 14, 24, 22, 17, 6],
    ]);
  });

  it('means 5 to 7 mph, is light at dawn and lasts from hour to hour', () => {
    const sun = sunParts(station.record, ...place, usualSeason);
    const mph = (parts?: number[]) =>
      windRose(station.record, sun, parts ? { parts } : {}).mean.scalarMetersPerSecond / 0.44704;
    expect(mph()).toBeGreaterThan(5);
    expect(mph()).toBeLessThan(7);
    expect(mph([MORNING])).toBeLessThan(mph([EVENING]) - 1);
    expect(mph([EVENING])).toBeLessThan(mph([MIDDAY]));
    const { fromDegrees } = station.record;
    let [pairs, near] = [0, 0];
    for (let i = 1; i < fromDegrees.length; i++) {
      const turn = Math.abs(((fromDegrees[i]! - fromDegrees[i - 1]! + 540) % 360) - 180);
      if (Number.isNaN(turn)) continue;
      pairs++;
      if (turn <= 45) near++;
    }
    expect(near / pairs).toBeGreaterThan(0.75);
  });

  it('covers five seasons, but for one gap', () => {
    const sun = sunParts(station.record, ...place, usualSeason);
    expect(recordLength(sun)).toEqual({ wholeSeasons: 5, partSeasons: [], isShort: false });
    expect(station.tally).toMatchObject({ rows: 12_831, kept: 12_831, gaps: 1, gapHours: 9 });
    expect(station.tally.variable).toBeGreaterThan(100);
  });
});
