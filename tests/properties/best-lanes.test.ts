import { describe, expect, test } from 'vitest';
import * as layout from '../../fixtures/generator/layout.ts';
import {
  bestLanes,
  defaultLaneOptions,
  shareNear,
  type Lane,
} from '../../geo/approach/best-lanes.ts';
import { exposureField, laneCost, type ExposureAt } from '../../geo/approach/lane-cost.ts';
import { defaultLaneWeights, laneGround, type LaneLayers } from '../../geo/approach/lane-ground.ts';
import { laneWalk } from '../../geo/approach/lane-walk.ts';
import { leaveTruckAt } from '../../geo/approach/leave-truck.ts';
import { secondsPerMeter } from '../../geo/approach/walking-time.ts';
import { lineLength, placeAt } from '../../geo/plan/line-geometry.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { isInPolygon } from '../../geo/plan/point-in-polygon.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { seenShare } from '../../geo/sight/seen-share.ts';
import { finish } from '../../geo/work.ts';
import { demoTract, maskOf } from '../demo-tract.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const bare: LaneLayers = { barred: null, path: null, seen: null, wet: null };
const noScent: ExposureAt = () => 0;
const here = { west: 0 };

function lanesOn(
  grid: Grid,
  from: readonly XY[],
  stand: XY,
  layers: Partial<LaneLayers> = {},
  wind: ExposureAt = noScent,
  way: 'in' | 'out' = 'in',
  scentedMeters = Infinity,
) {
  const ground = laneGround(grid, { ...bare, ...layers }, defaultLaneWeights);
  const options = { ...defaultLaneOptions, scentedMeters };
  return finish(bestLanes({ ground, stand, accessPoints: from, way }, [wind], options))[0]!;
}

describe('ground for lanes', () => {
  test('on a tilted plane every direction takes the time of its slope', () => {
    const plane = gridOf(
      { width: 30, height: 24, ...here, north: 24 },
      (x, y) => 0.2 * x - 0.1 * y,
    );
    const ground = laneGround(plane, bare, defaultLaneWeights);
    expect([ground.width, ground.height, ground.cellWidth]).toEqual([10, 8, 3]);
    const middle = 4 * 10 + 5;
    // North, north-east, east, south: 0.36 of the speed off the path in the dark.
    const slopes = { 0: -0.1, 2: 0.1 / Math.SQRT2, 4: 0.2, 8: 0.1 };
    for (const [step, slope] of Object.entries(slopes)) {
      const seconds = ground.secondsPerMeter[Number(step)]![middle]!;
      expect(seconds).toBeCloseTo(secondsPerMeter(slope) / 0.36, 4);
    }
    expect(ground.slope[middle]).toBeCloseTo(Math.hypot(0.2, 0.1), 5);
    // 0.0236 past the 20 % from which steep ground counts, ten times.
    expect(ground.weight[middle]).toBeCloseTo(1 + 10 * (Math.hypot(0.2, 0.1) - 0.2), 4);
  });

  test('one barred or unknown part: barred in part, barred when nothing is known', () => {
    const flat = gridOf({ width: 9, height: 3, ...here, north: 3 }, () => 5);
    const barred = new Uint8Array(27);
    barred[0] = 1;
    const wet = new Float32Array(27).fill(1, 3, 6);
    for (let row = 0; row < 3; row++) flat.data.fill(NaN, 9 * row + 6, 9 * row + 9);
    flat.data[3] = NaN;
    const path = new Uint8Array(27);
    path[4] = 1;
    const ground = laneGround(flat, { ...bare, barred, wet, path }, defaultLaneWeights);
    expect([...ground.barred]).toEqual([1, 0, 1]);
    expect(ground.wet[1]).toBeCloseTo(1 / 3, 6);
    expect(ground.heights[1]).toBe(5);
    expect([...ground.speedFactor].map((f) => f.toFixed(2))).toEqual(['0.36', '0.60', '0.36']);
    expect(() =>
      laneGround(flat, { ...bare, wet: new Float32Array(3) }, defaultLaneWeights),
    ).toThrow(RangeError);
    expect(() => laneGround(flat, bare, { ...defaultLaneWeights, seen: -1 })).toThrow(RangeError);
  });

  test('scent is asked for on a lattice and straight between; unknown counts as sure', () => {
    const flat = gridOf({ width: 101, height: 77, ...here, north: 77 }, () => 0);
    const ground = laneGround(flat, bare, defaultLaneWeights);
    const field = exposureField(ground, (x, y) => (x + 2 * y) / 300, 10);
    for (let at = 0; at < field.length; at++) {
      const x = ((at % ground.width) + 0.5) * 3;
      const y = 77 - (Math.floor(at / ground.width) + 0.5) * 3;
      expect(field[at]).toBeCloseTo(Math.min(1, (x + 2 * y) / 300), 5);
    }
    expect(new Set(exposureField(ground, () => NaN))).toEqual(new Set([1]));
    // The example: 0.7147 s / 0.36 · 11.
    const cost = laneCost(ground, new Float32Array(field.length).fill(0.5));
    expect((cost.perMeter as Float32Array[])[3]![500]).toBeCloseTo(21.84, 2);
  });
});

describe('best lanes', () => {
  const flat = gridOf({ width: 300, height: 240, ...here, north: 240 }, () => 50);

  test('on level open ground: straight, from the nearest access, at 0.36 of 5.037 km/h', () => {
    const { best, second, noLane } = lanesOn(
      flat,
      [
        [20, 20],
        [40, 200],
        [290, 230],
      ],
      [250, 60],
    );
    expect(noLane).toBeNull();
    const straight = Math.hypot(40, 170);
    expect(best!.access).toBe(2);
    expect(best!.line).toEqual([
      [290, 230],
      [250, 60],
    ]);
    expect(best!.seconds).toBeCloseTo((straight * 0.71469) / 0.36, 0);
    expect(best!).toMatchObject({ climbMeters: 0, scentedMeters: 0, exposed: [] });
    // Another way there is one, elsewhere for most of its length.
    expect(shareNear(second!.line, best!.line, 20)).toBeLessThan(0.5);
    expect(second!.cost).toBeGreaterThan(best!.cost);
  });

  test('up a hill and down again take their own time', () => {
    const hill = gridOf({ width: 300, height: 30, ...here, north: 30 }, (x) => 0.15 * x);
    const places: [XY[], XY] = [[[20, 15]], [270, 15]];
    const up = lanesOn(hill, ...places, {}, noScent, 'in').best!;
    const down = lanesOn(hill, ...places, {}, noScent, 'out').best!;
    expect(up.seconds).toBeCloseTo((250 * secondsPerMeter(0.15)) / 0.36, 0);
    expect(down.seconds).toBeCloseTo((250 * secondsPerMeter(-0.15)) / 0.36, 0);
    expect(up.climbMeters).toBeCloseTo(37.5, 1);
    expect(down.climbMeters).toBe(0);
    expect(down.line).toEqual([...up.line].reverse());
  });

  test('what is in the way is gone round: barred, seen and scented ground', () => {
    const block = (value: number) => {
      const layer = new Float32Array(flat.data.length);
      for (let row = 60; row < 240; row++) layer.fill(value, row * 300 + 140, row * 300 + 170);
      return layer;
    };
    const places: [XY[], XY] = [[[40, 60]], [260, 60]];
    const straight = 220;
    const barred = Uint8Array.from(block(1));
    const seen = block(1);
    const scented: ExposureAt = (x, y) => (x > 140 && x < 170 && y < 180 ? 1 : 0);
    for (const [layers, wind] of [
      [{ barred }, noScent],
      [{ seen }, noScent],
      [{}, scented],
    ] as const) {
      const { best } = lanesOn(flat, ...places, layers, wind);
      // Round the block's corners: the taut string is 361 m, give or take a cell or the lattice.
      const taut = 2 * Math.hypot(100, 120) + 30;
      expect(best!.lengthMeters).toBeGreaterThan(straight + 100);
      expect(Math.abs(best!.lengthMeters - taut)).toBeLessThan(0.04 * taut);
      expect(best!.line.length).toBeLessThan(16);
    }
    // Right across where the weights ask for nothing else.
    const careless = { ...defaultLaneWeights, scent: 0 };
    const ground = laneGround(flat, bare, careless);
    const [crossed] = finish(
      bestLanes({ ground, stand: [260, 60], accessPoints: [[40, 60]], way: 'in' }, [scented]),
    );
    expect(crossed!.best!.line).toHaveLength(2);
    // 30 m, straight between two places asked for 9 m apart: from a tenth of it on.
    expect(crossed!.best!.exposed).toHaveLength(1);
    const stretch = crossed!.best!.exposed[0]!;
    expect(stretch.why).toBe('scent');
    expect(Math.abs(stretch.fromMeters - 100)).toBeLessThan(10);
    expect(Math.abs(stretch.toMeters - 130)).toBeLessThan(10);
    expect(crossed!.noLane).toBeNull();
    expect(
      finish(
        bestLanes({ ground, stand: [260, 60], accessPoints: [[40, 60]], way: 'in' }, [scented], {
          ...defaultLaneOptions,
          scentedMeters: 15,
        }),
      )[0]!.noLane,
    ).toBe('scented');
  });

  test('none works only where even the most careful does not', () => {
    // A band of faint scent with a gap far off: across it is the cheaper way by the weights.
    const faint: ExposureAt = (x, y) => (x > 120 && x < 180 && y < 205 ? 0.12 : 0);
    const places: [XY[], XY] = [[[40, 30]], [260, 30]];
    const across = lanesOn(flat, ...places, {}, faint);
    expect(across.best!.lengthMeters).toBeLessThan(225);
    // 60 m wide, its edges blurred by the 8 m between places asked.
    expect(across.best!.scentedMeters).toBeGreaterThan(44);
    const round = lanesOn(flat, ...places, {}, faint, 'in', 40);
    expect(round.noLane).toBeNull();
    expect(round.best!.scentedMeters).toBe(0);
    expect(round.best!.lengthMeters).toBeGreaterThan(400);
    expect(round.best!.cost).toBeGreaterThan(across.best!.cost);
    // Without the gap there is none, and no second to look at.
    const shut = lanesOn(flat, ...places, {}, (x) => (x > 120 && x < 180 ? 0.12 : 0), 'in', 40);
    expect(shut).toMatchObject({ noLane: 'scented', second: null });
    expect(shut.best).not.toBeNull();
  });

  test('no lane: what stands in the way is said', () => {
    const all = (keep: (x: number, y: number) => boolean) => {
      const mask = new Uint8Array(flat.data.length);
      for (let i = 0; i < mask.length; i++)
        mask[i] = keep((i % 300) + 0.5, 239.5 - Math.floor(i / 300)) ? 1 : 0;
      return mask;
    };
    const from: XY[] = [[20, 20]];
    const stand: XY = [200, 120];
    const near = (x: number, y: number, p: XY, meters: number) =>
      Math.hypot(x - p[0], y - p[1]) < meters;
    const why = (mask: Uint8Array) => lanesOn(flat, from, stand, { barred: mask });
    expect(why(all((x, y) => near(x, y, stand, 5)))).toEqual({
      best: null,
      second: null,
      noLane: 'stand-barred',
    });
    expect(why(all((x, y) => near(x, y, from[0]!, 5))).noLane).toBe('access-barred');
    const ring = all((x, y) => near(x, y, stand, 50) && !near(x, y, stand, 40));
    expect(why(ring)).toEqual({ best: null, second: null, noLane: 'shut-in' });
    // Off the ground is no place to stand or to start from; one access point of two will do.
    expect(lanesOn(flat, from, [400, 20]).noLane).toBe('stand-barred');
    expect(lanesOn(flat, [[-1, 20]], stand).noLane).toBe('access-barred');
    expect(lanesOn(flat, [[-1, 20], from[0]!], stand).best!.access).toBe(1);
    expect(() => lanesOn(flat, [], stand)).toThrow(RangeError);
    // Standing on the spot is no walk.
    expect(lanesOn(flat, [stand], stand).best).toMatchObject({ lengthMeters: 0, seconds: 0 });
  });

  test('24 rough grounds: never in barred cells, no dearer for a better world, turned alike', () => {
    let lanes = 0;
    for (let seed = 1; seed <= 24; seed++) {
      const next = seeded(seed);
      const grid = roughGrid({ width: 96, height: 96, ...here, north: 96 }, seed, { noise: 0.05 });
      const barred = Uint8Array.from(grid.data, () => 0);
      for (let k = 0; k < 8; k++) {
        const [c, r] = [Math.floor(next() * 86), Math.floor(next() * 86)];
        for (let row = r; row < r + 10; row++) barred.fill(1, row * 96 + c, row * 96 + c + 10);
      }
      const place = (): XY => [3 + 90 * next(), 3 + 90 * next()];
      const [a, b, axis] = [place(), place(), next() * 6];
      const scent: ExposureAt = (x, y) => 0.5 + 0.5 * Math.sin(x / 20 + axis) * Math.cos(y / 15);
      const full = lanesOn(grid, [a], b, { barred }, scent);
      if (full.best === null) continue;
      lanes++;
      for (const lane of [full.best, full.second]) {
        if (lane) expect(barredUnder(lane, barred)).toBe(0);
      }
      const half = lanesOn(grid, [a], b, { barred }, (x, y) => scent(x, y) / 2);
      const open = lanesOn(grid, [a], b, {}, scent);
      // Ways are sought in steps and straightened after: alike to a few hundredths, not exactly.
      expect(half.best!.cost).toBeLessThan(full.best.cost * 1.02);
      expect(open.best!.cost).toBeLessThan(full.best.cost * 1.02);
      const turned = { ...grid, data: quarterTurn(grid.data, 96) };
      const turn = ([x, y]: XY): XY => [96 - y, x];
      const round = lanesOn(
        turned,
        [turn(a)],
        turn(b),
        { barred: quarterTurn(barred, 96) },
        (x, y) => scent(y, 96 - x),
      );
      expect(round.best!.cost / full.best.cost).toBeCloseTo(1, 6);
      if (full.second) expect(shareNear(full.second.line, full.best.line, 20)).toBeLessThan(0.5);
    }
    expect(lanes).toBeGreaterThan(12);
  });
});

/** Metres of a lane inside barred 1 m cells, by steps of 2 cm. */
function barredUnder(lane: Lane, barred: Uint8Array): number {
  let inside = 0;
  lane.line.forEach((b, i) => {
    if (i === 0) return;
    const a = lane.line[i - 1]!;
    const parts = Math.ceil(50 * Math.hypot(b[0] - a[0], b[1] - a[1]));
    for (let k = 0; k <= parts; k++) {
      const x = a[0] + ((b[0] - a[0]) * k) / parts;
      const y = a[1] + ((b[1] - a[1]) * k) / parts;
      const isOnEdge = [x, y].some((v) => Math.abs(v - Math.round(v)) < 1e-6);
      if (!isOnEdge && barred[Math.floor(96 - y) * 96 + Math.floor(x)] !== 0) inside += 0.02;
    }
  });
  return inside;
}

/** A square grid turned a quarter anticlockwise: what lay at x, y lies at side - y, x. */
function quarterTurn<T extends Float32Array | Uint8Array>(data: T, side: number): T {
  const turned = data.slice() as T;
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      turned[(side - 1 - column) * side + row] = data[row * side + column]!;
    }
  }
  return turned;
}

test('stretches of a lane by reason and station', () => {
  const flat = gridOf({ width: 120, height: 30, ...here, north: 30 }, () => 0);
  const seen = new Float32Array(flat.data.length);
  const wet = new Float32Array(flat.data.length);
  for (let row = 0; row < 30; row++) {
    seen.fill(0.4, row * 120 + 30, row * 120 + 60);
    wet.fill(1, row * 120 + 90, row * 120 + 120);
  }
  const ground = laneGround(flat, { ...bare, seen, wet }, defaultLaneWeights);
  const line: XY[] = [
    [10, 15],
    [115, 15],
  ];
  const walk = laneWalk(ground, line, new Float32Array(ground.width * ground.height));
  expect(walk.lengthMeters).toBe(105);
  expect(
    walk.exposed.map((e) => [e.why, Math.round(e.fromMeters), Math.round(e.toMeters)]),
  ).toEqual([
    ['seen', 20, 50],
    ['wet', 80, 105],
  ]);
  expect(walk.exposed[0]!.most).toBeCloseTo(0.4, 6);
});

test('when to leave the truck, on the early side', () => {
  const light = Date.UTC(2024, 10, 9, 6, 30, 20);
  expect(new Date(leaveTruckAt(light, 25 * 60, 17 * 60 + 10)).toISOString()).toContain('T05:48:00');
  expect(leaveTruckAt(light, 0, 20)).toBe(Date.UTC(2024, 10, 9, 6, 30));
  expect(() => leaveTruckAt(light, -1, 0)).toThrow(RangeError);
});

test('the demo: from the gate to A1, clear of both bedding areas', () => {
  const grid = demoTract();
  const barred = maskOf(grid, [...Object.values(layout.beddings), layout.wetland]);
  const eyes = ([x, y]: XY) => ({ x, y, eyeMeters: 1, radiusMeters: 274 });
  const seen = finish(
    seenShare(grid, [layout.plots.A.map(eyes), layout.beddings.H1.map(eyes)], 1.7),
  );
  const stand = layout.stands.A1.at as XY;
  const { best, second } = lanesOn(grid, [layout.gate], stand, { barred, seen });
  const straight = lineLength([layout.gate, stand]);
  for (const lane of [best!, second!]) {
    expect(lane.lengthMeters).toBeGreaterThan(straight);
    expect(lane.lengthMeters).toBeLessThan(2 * straight);
    for (let station = 0; station < lane.lengthMeters; station++) {
      const { at } = placeAt(lane.line, station);
      for (const bedding of Object.values(layout.beddings)) {
        expect(isInPolygon(at, [bedding])).toBe(false);
      }
    }
  }
  // 555 m as the crow flies and 50 m down: 18 min level in the dark, more round about.
  expect(best!.seconds / 60).toBeGreaterThan(16);
  expect(best!.seconds / 60).toBeLessThan(40);
});
