import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openWind } from '../../geo/formats/wind/open-wind.ts';
import type { WindRecord } from '../../geo/plan/wind-record.ts';
import { usualDriftRule, type DriftRule } from '../../geo/wind/drift-rule.ts';
import { usualSeason } from '../../geo/wind/hunting-season.ts';
import { scentDrift } from '../../geo/wind/scent-drift.ts';
import { seasonHours, type SeasonHours } from '../../geo/wind/season-hours.ts';
import { seasonPaths, seasonSlopeAir } from '../../geo/wind/season-slope-air.ts';
import { seatReach, type ProtectedGround } from '../../geo/wind/seat-reach.ts';
import { usualSlopeFlow } from '../../geo/wind/slope-flow.ts';
import type { HorizonProfile } from '../../geo/wind/slope-sun.ts';
import { standCoverage } from '../../geo/wind/stand-coverage.ts';
import { judgeSeason, shareThatWorks, standSeason, VERDICTS } from '../../geo/wind/stand-season.ts';
import { glareWeeks } from '../../geo/wind/sun-glare.ts';
import { MORNING, sunParts } from '../../geo/wind/sun-parts.ts';
import { sunTimes } from '../../geo/wind/sun-times.ts';
import { windVerdict } from '../../geo/wind/wind-verdict.ts';
import { demoProtected, demoSeats } from '../demo-stands.ts';

const place = [-75, 36.14] as const;
const rule = usualDriftRule;
const level: HorizonProfile = { stepDegrees: 90, elevationDegrees: new Float32Array(4) };
const bench = { grade: 0.022, fallsTowardDegrees: 143 };

let record: WindRecord;
let hours: SeasonHours;
beforeAll(async () => {
  const file = readFileSync(new URL('../../fixtures/demo/wind.csv', import.meta.url));
  const opened = await openWind(memorySource('wind.csv', file));
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened));
  record = opened.stations[0]!.record;
  hours = hoursOf(record);
});

const hoursOf = (from: WindRecord) =>
  seasonHours(from, sunParts(from, ...place, usualSeason), ...place);

function judge(
  of: SeasonHours,
  at: readonly [number, number],
  by: DriftRule = rule,
  grounds: readonly ProtectedGround[] = demoProtected,
  turnDegrees: number | null = null,
) {
  const seat = {
    reach: seatReach([at[0], at[1]], grounds, by.rangeMeters),
    windShare: 1,
    isSheltered: false,
  };
  if (turnDegrees === null) return judgeSeason(of, seat, by);
  // The sun is turned as the ground is: bearings of a grid whose north lies that far round.
  const slope = { ...bench, fallsTowardDegrees: bench.fallsTowardDegrees + turnDegrees };
  const paths = seasonPaths(of, ...place);
  const slopeAir = seasonSlopeAir(of, paths, slope, level, usualSlopeFlow, -turnDegrees);
  return judgeSeason(of, { ...seat, slopeAir }, by);
}

/** Directions at the centres of the 8 points, as section 6.4 takes them. */
function centred(from: WindRecord): WindRecord {
  const turn = (degrees: number) => 45 * (Math.floor((degrees + 22.5) / 45) % 8) || 360;
  return { ...from, fromDegrees: from.fromDegrees.map((d) => (Number.isNaN(d) ? d : turn(d))) };
}

describe("the demo's season, trade notes section 6.4", () => {
  // 30 degrees always, "wind alone": no local turning, no light air.
  const plain = {
    ...rule,
    localTurningDegrees: 0,
    lightAir: { ...rule.lightAir, belowMetersPerSecond: 0 },
  };

  it.each([
    ['A1', 36, 46],
    ['A2', 29, 39],
    ['B1', 63, 77],
    ['B1 moved', 37, 46],
  ])('%s works on %i percent of mornings and %i of evenings, to 1', (id, dawn, dusk) => {
    const of = hoursOf(centred(record));
    const seat = demoSeats.find((one) => one.id === id)!;
    const season = standSeason(of, judge(of, seat.at, plain));
    expect(Math.abs(100 * shareThatWorks(season.morning) - dawn)).toBeLessThan(1);
    expect(Math.abs(100 * shareThatWorks(season.evening) - dusk)).toBeLessThan(1);
  });

  it('no stand works on NE, E or SE; A2 is the one to drop', () => {
    const of = hoursOf(centred(record));
    const stands = demoSeats
      .slice(0, 3)
      .map(({ id, at }) => ({ id, verdicts: judge(of, at, plain) }));
    const candidate = { id: 'B1 moved', verdicts: judge(of, demoSeats[3]!.at, plain) };
    const { morning, evening, dropping, adding } = standCoverage(of, stands, [candidate]);
    for (const { directions } of [morning, evening]) {
      directions.forEach(({ hours: all, noStandHours }, sector) => {
        if (all === 0) return;
        expect(noStandHours / all).toBe([2, 4, 6].includes(sector) ? 1 : 0);
      });
    }
    expect(dropping[0]).toMatchObject({ id: 'A2', onlyHours: 0 });
    expect(adding).toEqual([{ id: 'B1 moved', gainedHours: 0 }]);
  });

  it('A1 looks into the low sun on November evenings, A2 does not', () => {
    const where = { longitude: place[0], latitude: place[1] };
    const glare = (id: string) =>
      glareWeeks(demoSeats.find((seat) => seat.id === id)!.facingDegrees, where, usualSeason, 2025);
    const evenings = glare('A1').map(({ eveningMinutes }) => eveningMinutes);
    // Weeks 5 to 8 of a season from 1 October: November.
    for (const week of [5, 6, 7]) expect(evenings[week]).toBeGreaterThan(15);
    expect(glare('A1').every(({ morningMinutes }) => morningMinutes === 0)).toBe(true);
    expect(glare('A2').every(({ eveningMinutes }) => eveningMinutes === 0)).toBe(true);
  });
});

describe('a season is the sum of its hours', () => {
  it('the same verdicts as hour by hour, and every table adds up to the hours', () => {
    const [, a2] = demoSeats;
    const verdicts = judge(hours, a2!.at);
    const reach = seatReach([a2!.at[0], a2!.at[1]], demoProtected, rule.rangeMeters);
    for (let i = 0; i < hours.count; i += 7) {
      const from = hours.fromDegrees[i]!;
      const air = {
        fromDegrees: Number.isNaN(from) ? null : from,
        speedMetersPerSecond: hours.speedMetersPerSecond[i]!,
        stability: hours.stability[i]!,
        slopeFlow: null,
        isSheltered: false,
      };
      const { verdict, doubts } = windVerdict(reach, scentDrift(air, rule), rule);
      expect(VERDICTS[verdicts.verdict[i]!]).toBe(verdict);
      expect(verdicts.isDoubtful[i] === 1).toBe(doubts.length > 0);
    }
    const season = standSeason(hours, verdicts);
    const sum = (key: 'works' | 'marginal' | 'doesNot') => {
      const parts = [...season.directions, season.calm, season.variable];
      const byWind = parts.reduce((all, part) => all + part.morning[key], 0);
      const byWeek = season.weeks.reduce((all, part) => all + part.morning[key], 0);
      expect(byWind).toBeCloseTo(season.morning[key], 6);
      expect(byWeek).toBe(season.morning[key]);
      return season.morning[key];
    };
    const mornings = hours.part.filter((part) => part === MORNING).length;
    expect(sum('works') + sum('marginal') + sum('doesNot')).toBe(mornings);
    expect(season.weeks).toHaveLength(16);
    expect(hours.seasons).toEqual([2021, 2022, 2023, 2024, 2025]);
  });

  it('turning the whole world, wind and sun included, by a quarter turns every answer', () => {
    const turnedGrounds = demoProtected.map(({ id, shape }) => ({
      id,
      shape: { ...shape, paths: shape.paths.map((path) => path.map(([x, y]) => [y, -x] as const)) },
    })) as unknown as ProtectedGround[];
    const turnedHours: SeasonHours = {
      ...hours,
      fromDegrees: hours.fromDegrees.map((d) => (d + 90 > 360 ? d - 270 : d + 90)),
    };
    for (const { at } of demoSeats) {
      const here = judge(hours, at, rule, demoProtected, 0);
      const there = judge(turnedHours, [at[1], -at[0]], rule, turnedGrounds, 90);
      expect(there).toEqual(here);
      const [one, other] = [standSeason(hours, here), standSeason(turnedHours, there)];
      one.directions.forEach((part, i) => {
        expect(other.directions[(i + 4) % 16]!.evening.works).toBeCloseTo(part.evening.works, 6);
      });
    }
  });

  it('calm evenings drain to 143 once the sun is low: A1 then works, with doubts (6.4)', () => {
    const a1 = demoSeats[0]!.at;
    const alone = judge(hours, a1);
    const drained = judge(hours, a1, rule, demoProtected, 0);
    let checked = 0;
    for (let i = 0; i < hours.count; i++) {
      if (hours.speedMetersPerSecond[i]! > 0 || hours.part[i] === MORNING) continue;
      expect(VERDICTS[alone.verdict[i]!]).toBe('marginal');
      expect(drained.isDoubtful[i]).toBe(1);
      const instant = hours.timeSeconds[i]! * 1000;
      const sets = sunTimes(...place, instant - 5 * 3_600_000).setUtcMilliseconds!;
      if (instant < sets - 44 * 60_000 || hours.cloudShare[i]! > usualSlopeFlow.mostCloudShare)
        continue;
      checked++;
      expect(VERDICTS[drained.verdict[i]!]).toBe('works');
    }
    expect(checked).toBeGreaterThan(20);
  });

  it('more protected ground never gives more hours that work', () => {
    for (const { at } of demoSeats) {
      let before = Infinity;
      for (let k = 0; k <= demoProtected.length; k++) {
        const verdicts = judge(hours, at, rule, demoProtected.slice(0, k));
        const { morning, evening } = standSeason(hours, verdicts);
        expect(morning.works + evening.works).toBeLessThanOrEqual(before);
        before = morning.works + evening.works;
      }
    }
  });
});
