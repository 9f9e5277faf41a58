import { describe, expect, it } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { usualDriftRule } from '../../geo/wind/drift-rule.ts';
import { halfAngleDegrees, scentDrift, type SeatAir } from '../../geo/wind/scent-drift.ts';
import { seatWind, usualExposure } from '../../geo/wind/seat-wind.ts';
import { slopeFlow, usualSlopeFlow } from '../../geo/wind/slope-flow.ts';
import { horizonAt, horizonProfile, sunOnSlope, sunPath } from '../../geo/wind/slope-sun.ts';
import { sunPosition } from '../../geo/wind/sun-position.ts';
import { sunTimes } from '../../geo/wind/sun-times.ts';
import { seeded } from '../seeded.ts';

const air: SeatAir = {
  fromDegrees: 225,
  speedMetersPerSecond: 4,
  stability: 'D',
  slopeFlow: null,
  isSheltered: false,
};
const drain = { kind: 'down', towardDegrees: 143, speedMetersPerSecond: 1 } as const;

describe('scent drift by the rule of trade notes 6.8 and Q23', () => {
  it('goes with the wind, 30 degrees either side in class D, 45 in A, over 60 in very light air', () => {
    expect(scentDrift(air, usualDriftRule)).toEqual({
      axisDegrees: 45,
      halfAngleDegrees: 30,
      reachMeters: 274.32,
      speedMetersPerSecond: 4,
      doubts: [],
    });
    expect(halfAngleDegrees('A', 4, usualDriftRule)).toBe(45);
    expect(halfAngleDegrees('F', 4, usualDriftRule)).toBe(30);
    expect(halfAngleDegrees('F', 1, usualDriftRule)).toBeCloseTo(46.565, 3);
    expect(halfAngleDegrees('F', 0.5, usualDriftRule)).toBeCloseTo(65, 9);
    const narrow = { ...usualDriftRule, leastHalfAngleDegrees: 10, localTurningDegrees: 0 };
    expect(halfAngleDegrees('F', 4, narrow)).toBe(10);
    expect(halfAngleDegrees('D', 4, narrow)).toBe(15);
  });

  it('calm and variable air spreads all round, unless the slope gives it a way', () => {
    const calm = { ...air, fromDegrees: null, speedMetersPerSecond: 0 };
    expect(scentDrift(calm, usualDriftRule)).toMatchObject({
      axisDegrees: null,
      halfAngleDegrees: 180,
      doubts: ['calm'],
    });
    expect(scentDrift({ ...air, fromDegrees: null }, usualDriftRule)).toMatchObject({
      axisDegrees: null,
      doubts: ['variable'],
    });
    const drained = scentDrift({ ...calm, slopeFlow: drain }, usualDriftRule);
    expect(drained).toMatchObject({
      speedMetersPerSecond: 1,
      doubts: ['calm', 'slope-air', 'light-air'],
    });
    expect(drained.axisDegrees).toBeCloseTo(143, 9);
  });

  it('adds the slope to the wind as vectors: from 270 at 1 and north at 1 goes to 45 at 1.41', () => {
    const north = { kind: 'up', towardDegrees: 0, speedMetersPerSecond: 1 } as const;
    const both = { ...air, fromDegrees: 270, speedMetersPerSecond: 1, slopeFlow: north };
    const { axisDegrees, speedMetersPerSecond, doubts } = scentDrift(both, usualDriftRule);
    expect(axisDegrees).toBeCloseTo(45, 9);
    expect(speedMetersPerSecond).toBeCloseTo(Math.SQRT2, 9);
    expect(doubts).toContain('slope-air');
    const against = { ...both, fromDegrees: 0 };
    expect(scentDrift(against, usualDriftRule).axisDegrees).toBeNull();
  });

  it('turns with the world', () => {
    const random = seeded(3);
    for (let i = 0; i < 200; i++) {
      const fromDegrees = 360 * random();
      const speedMetersPerSecond = 0.2 + 3 * random();
      const towardDegrees = 360 * random();
      const slope = { kind: 'down', towardDegrees, speedMetersPerSecond: random() } as const;
      const here = scentDrift(
        { ...air, fromDegrees, speedMetersPerSecond, slopeFlow: slope },
        usualDriftRule,
      );
      const there = scentDrift(
        {
          ...air,
          fromDegrees: fromDegrees + 90,
          speedMetersPerSecond,
          slopeFlow: { ...slope, towardDegrees: towardDegrees + 90 },
        },
        usualDriftRule,
      );
      const turn = (there.axisDegrees! - here.axisDegrees! + 360) % 360;
      expect(turn).toBeCloseTo(90, 6);
      expect(there.halfAngleDegrees).toBeCloseTo(here.halfAngleDegrees, 6);
    }
  });
});

describe('wind at a seat', () => {
  it('by height, 33 ft to 10 ft: (10/33) to the power 0.2 to 0.3 (trade notes 3.5)', () => {
    const exposure = { ...usualExposure, stationHeightMeters: 33, seatHeightMeters: 10 };
    const { share, isSheltered } = seatWind(exposure);
    expect(share.high).toBeCloseTo((10 / 33) ** 0.2, 12);
    expect(share.low).toBeCloseTo((10 / 33) ** 0.3, 12);
    expect(isSheltered).toBe(false);
  });

  it('a fifth to a half of it in an opening under 8 tree heights (trade notes 6.8)', () => {
    const level = { ...usualExposure, seatHeightMeters: 10 };
    expect(seatWind({ ...level, openingTreeHeights: 8 }).isSheltered).toBe(false);
    const { share, isSheltered } = seatWind({ ...level, openingTreeHeights: 3 });
    expect([share.low, share.high, isSheltered]).toEqual([0.2, 0.5, true]);
    // A seat above the mast has more wind, with the ends still in order.
    const high = seatWind({ ...usualExposure, seatHeightMeters: 20 }).share;
    expect(high.low).toBeLessThan(high.likely);
    expect(high.likely).toBeLessThan(high.high);
  });
});

// Demo tract: 36.14 N, 75 W.
const place = { longitude: -75, latitude: 36.14 };
const noon = Date.parse('2026-11-14T16:45:00Z');
const path = sunPath(place.longitude, place.latitude, noon)!;
const minute = 60_000;

/** Ground of `size` metres a side, 10 m cells, heights by place (x east, y north). */
function ground(size: number, height: (x: number, y: number) => number): Grid {
  const cells = size / 10;
  const data = new Float32Array(cells * cells);
  for (let i = 0; i < data.length; i++) {
    data[i] = height(((i % cells) + 0.5) * 10, size - (Math.floor(i / cells) + 0.5) * 10);
  }
  const frame = { epsg: 26918, name: '', datum: 'NAD83', proj: '' } as Grid['frame'];
  const rest = { frame, cellGroundAreaSquareMeters: 100, convergenceDegrees: 0 };
  return {
    width: cells,
    height: cells,
    data,
    west: 0,
    north: size,
    cellWidth: 10,
    cellHeight: 10,
    ...rest,
  };
}

describe('sun on a slope', () => {
  const flat = horizonProfile(
    ground(200, () => 0),
    100,
    100,
  );

  it('a level place has the sun from sunrise to sunset', () => {
    const sun = sunTimes(place.longitude, place.latitude, noon);
    const lit = sunOnSlope({ grade: 0, fallsTowardDegrees: null }, flat, path)!;
    expect(Math.abs(lit.strikesUtcMilliseconds - sun.riseUtcMilliseconds!)).toBeLessThan(
      5 * minute,
    );
    expect(Math.abs(lit.leavesUtcMilliseconds - sun.setUtcMilliseconds!)).toBeLessThan(5 * minute);
  });

  it('a wall to the west takes the sun when it stands no higher than the wall', () => {
    // 57 m at 100 m from an eye 1 m up, and on: 29.6 degrees and less.
    const walled = ground(1000, (x) => (x < 400 ? 57 : 0));
    const horizon = horizonProfile(walled, 500, 500);
    expect(horizonAt(horizon, 270)).toBeCloseTo((Math.atan2(56, 105) * 180) / Math.PI, 1);
    expect(horizonAt(horizon, 90)).toBe(0);
    const lit = sunOnSlope({ grade: 0, fallsTowardDegrees: null }, horizon, path)!;
    const leaving = sunPosition(place.longitude, place.latitude, lit.leavesUtcMilliseconds);
    const wall = horizonAt(horizon, leaving.azimuthDegrees);
    expect(Math.abs(leaving.elevationDegrees - wall)).toBeLessThan(0.05);
    expect(leaving.elevationDegrees).toBeGreaterThan(10);
  });

  it('a slope turned from the sun is left when the sun lies in its plane', () => {
    // Falling east at 0.3: the sun in the west must stand above atan(0.3 cos(difference)).
    const lit = sunOnSlope({ grade: 0.3, fallsTowardDegrees: 90 }, flat, path)!;
    const { azimuthDegrees, elevationDegrees } = sunPosition(
      place.longitude,
      place.latitude,
      lit.leavesUtcMilliseconds,
    );
    const plane = Math.atan(-0.3 * Math.cos(((azimuthDegrees - 90) * Math.PI) / 180));
    expect(elevationDegrees).toBeCloseTo((plane * 180) / Math.PI, 1);
    // A steep north face has no sun in December.
    const winter = Date.parse('2026-12-21T17:00:00Z');
    expect(
      sunOnSlope(
        { grade: 1, fallsTowardDegrees: 0 },
        flat,
        sunPath(place.longitude, place.latitude, winter)!,
      ),
    ).toBeNull();
  });

  it('a grid that is turned turns the sun: convergence is taken off', () => {
    const slope = { grade: 0.3, fallsTowardDegrees: 90 };
    const turned = { grade: 0.3, fallsTowardDegrees: 80 };
    expect(sunOnSlope(turned, flat, path, 10)).toEqual(sunOnSlope(slope, flat, path));
  });
});

describe('air of the slope', () => {
  const slope = { grade: 0.02, fallsTowardDegrees: 143 };
  const sun = {
    strikesUtcMilliseconds: noon - 240 * minute,
    leavesUtcMilliseconds: noon + 240 * minute,
    setsUtcMilliseconds: noon + 310 * minute,
  };
  const at = (minutes: number, wind = 0.5, cloud = 0) =>
    slopeFlow(noon + minutes * minute, slope, sun, wind, cloud, usualSlopeFlow);

  it('drains until the sun strikes, rises an hour later, drains again after it has left', () => {
    expect(
      [-300, -241, -239, -181, -179, 0, 239, 241, 254, 256].map((m) => at(m)?.kind ?? null),
    ).toEqual(['down', 'down', null, null, 'up', 'up', 'up', null, null, 'down']);
    expect(at(-300)).toEqual({ kind: 'down', towardDegrees: 143, speedMetersPerSecond: 0.89408 });
    expect(at(0)!.towardDegrees).toBe(323);
  });

  it('ends an hour before sunset where the sun shines longer, and drains all day if struck later', () => {
    const open = { ...sun, leavesUtcMilliseconds: noon + 310 * minute };
    const on = (minutes: number, struck = open) =>
      slopeFlow(noon + minutes * minute, slope, struck, 0, 0, usualSlopeFlow)?.kind ?? null;
    expect([249, 251, 264, 266].map((m) => on(m))).toEqual(['up', null, null, 'down']);
    const late = { ...open, strikesUtcMilliseconds: noon + 255 * minute };
    expect([0, 254, 256, 300].map((m) => on(m, late))).toEqual(['down', 'down', 'down', 'down']);
  });

  it('gives way to wind over 2 m/s and to cloud, and needs a slope', () => {
    expect(at(300, 2.1)).toBeNull();
    expect(at(300, 2)).not.toBeNull();
    expect(at(300, 1, 0.9)).toBeNull();
    expect(at(300, 1, NaN)).not.toBeNull();
    const level = { grade: 0.005, fallsTowardDegrees: 143 };
    expect(slopeFlow(noon, level, sun, 0, 0, usualSlopeFlow)).toBeNull();
    expect(slopeFlow(noon, slope, null, 0, 0, usualSlopeFlow)!.kind).toBe('down');
  });
});
