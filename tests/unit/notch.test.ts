import { describe, expect, test } from 'vitest';
import { groundBelow } from '../../geo/water/ground-below.ts';
import { drainPath } from '../../geo/water/drain-path.ts';
import { fillIn } from '../../geo/water/fill-in.ts';
import { cutNotch, designNotch } from '../../geo/water/notch.ts';
import { notchFlow } from '../../geo/water/notch-flow.ts';
import { normalFlow } from '../../geo/water/manning.ts';
import { graphicalPeak, rationalPeak } from '../../geo/water/peak-flow.ts';
import { finish } from '../../geo/work.ts';
import { gridOf } from '../terrain-grids.ts';

// Grounds whose notches can be worked out on paper.

const section = { bottomWidthMeters: 2, sideRun: 6, gradeRatio: 0 };
/** Frame metres of the south-west corner of `gridOf` grids. */
const place = (height: number, x: number, y: number): [number, number] => [500_000 + x, 4_800_000 - height + y]; // prettier-ignore

describe('volume', () => {
  // A ridge across the notch, 1 m high, 40 m from foot to foot: area 2 h + 6 h² over h = 0 … 1 … 0
  // gives 40 (2/2 + 6/3) = 120 m³ by calculus.
  const ridge = gridOf({ width: 60, height: 30 }, (x) => Math.max(0, 1 - Math.abs(x - 30) / 20));
  const line = [place(30, 6, 15), place(30, 54, 15)];

  test('of a notch through a ridge is the integral of its sections', () => {
    const design = finish(designNotch(ridge, line, { section, startBottomMeters: 0 }));
    expect(Math.abs(design.bankCubicMeters.likely / 120 - 1)).toBeLessThan(0.01);
    expect(design.maxCutMeters).toBeCloseTo(1, 1);
    expect(design.daylights && design.sidesMeetGround).toBe(true);
    // 0.05 m either way by the same integral: h - e; and h + e with 8 m of feet and round ends.
    const low = 38 * (0.95 + 2 * 0.95 ** 2);
    const high = 40 * (1.05 ** 2 + 2 * 1.05 ** 3 - 0.05 ** 2 - 2 * 0.05 ** 3) + 8 * 0.115 + 0.21;
    expect(Math.abs(design.bankCubicMeters.low / low - 1)).toBeLessThan(0.01);
    expect(Math.abs(design.bankCubicMeters.high / high - 1)).toBeLessThan(0.01);
    const stations = design.stations.map((s) => s.stationMeters);
    expect(stations.slice(0, 3)).toEqual([0, 7.62, 15.24]);
    expect(stations.at(-1)).toBe(48);
  });

  test('agrees with average end areas at every metre, which know nothing of ground beside the line', () => {
    const design = finish(
      designNotch(ridge, line, { section, startBottomMeters: 0, stationMeters: 1 }),
    );
    let sum = 0;
    const area = (cut: number) => (2 + 6 * cut) * cut;
    for (let i = 1; i < design.stations.length; i++) {
      const [a, b] = [design.stations[i - 1]!, design.stations[i]!];
      sum += ((area(a.cutMeters) + area(b.cutMeters)) / 2) * (b.stationMeters - a.stationMeters);
    }
    expect(Math.abs(design.bankCubicMeters.likely / sum - 1)).toBeLessThan(0.01);
  });

  test('by top width: 2 + 2 · 6 · cut on level ground', () => {
    const flat = gridOf({ width: 60, height: 40 }, () => 0.5);
    const along = [place(40, 10, 20), place(40, 50, 20)];
    const design = finish(designNotch(flat, along, { section, startBottomMeters: 0 }));
    for (const stake of design.stations) {
      expect(stake.cutMeters).toBeCloseTo(0.5, 6);
      expect(Math.abs(stake.topWidthMeters - 8)).toBeLessThanOrEqual(0.5);
    }
    expect(design.daylights).toBe(false);
    // The prism, and two half frustums of a cone at the ends: π h (r² + r R + R²) / 3, r 1, R 4.
    const prism = 40 * (2 * 0.5 + 6 * 0.25);
    const ends = (Math.PI * 0.5 * (1 + 4 + 16)) / 3;
    expect(Math.abs(design.bankCubicMeters.likely / (prism + ends) - 1)).toBeLessThan(0.01);
  });

  test('does not hang on the cell size, and the grid once cut has lost it', () => {
    for (const cell of [0.5, 1, 2]) {
      const shape = { width: 60 / cell, height: 30 / cell, cellWidth: cell, cellHeight: cell };
      const ground = gridOf(shape, (x) => Math.max(0, 1 - Math.abs(x - 30) / 20));
      const on = [
        [500_006, 4_800_000 - 15],
        [500_054, 4_800_000 - 15],
      ] as const;
      const design = finish(designNotch(ground, on, { section, startBottomMeters: 0 }));
      expect(Math.abs(design.bankCubicMeters.likely / 120 - 1)).toBeLessThan(0.02);
      const out = ground.data.slice();
      cutNotch(ground, design, out);
      let lost = 0;
      for (let i = 0; i < out.length; i++) lost += (ground.data[i]! - out[i]!) * cell * cell;
      expect(Math.abs(lost / 120 - 1), `cells of ${cell} m`).toBeLessThan(0.06);
    }
  });

  test('side ground as steep as the sides never lets them out, and that is said', () => {
    const hill = gridOf({ width: 60, height: 60 }, (_, y) => y * 0.3);
    const design = finish(
      designNotch(hill, [place(60, 10, 30), place(60, 50, 30)], {
        section,
        startBottomMeters: 8.5,
      }),
    );
    expect(design.sidesMeetGround).toBe(false);
  });

  test('names what is barred where it digs', () => {
    const blocked = new Uint8Array(ridge.data.length);
    blocked[14 * 60 + 30] = 2;
    blocked[2 * 60 + 30] = 5;
    const design = finish(designNotch(ridge, line, { section, startBottomMeters: 0, blocked }));
    expect(design.touches).toEqual([2]);
  });
});

describe('ground below', () => {
  const line = [place(100, 40, 50), place(100, 50, 50)];

  test('on a plane falls as the plane does, and is not steep', () => {
    const plane = gridOf({ width: 100, height: 100 }, (x) => 20 - 0.1 * x);
    const below = groundBelow(plane, line);
    expect(below.outletSlopeRatio).toBeCloseTo(0.1, 4);
    expect(below.steepestRatio).toBeCloseTo(0.1, 4);
    expect(below.steep).toBe(false);
  });

  test.each([
    [20, true],
    [40, false],
  ])('a steep bank that begins %d m off: %s', (off, steep) => {
    const bank = gridOf({ width: 100, height: 100 }, (x) => 20 - 0.02 * x - 0.3 * Math.max(0, x - 50 - off)); // prettier-ignore
    expect(groundBelow(bank, line).steep).toBe(steep);
  });

  test('a bank behind does not count, nor ground that rises', () => {
    const behind = gridOf({ width: 100, height: 100 }, (x) => 20 + 0.4 * Math.max(0, 45 - x));
    expect(groundBelow(behind, line)).toEqual({
      outletSlopeRatio: 0,
      steepestRatio: 0,
      steepestAt: null,
      steep: false,
    });
  });
});

describe('flow in the notch', () => {
  const usual = { bottomWidthMeters: 7 * 0.3048, sideRun: 6, gradeRatio: 0.005 };

  test('a trickle holds bare; more washes bare and holds in grass; a flood holds in nothing', () => {
    expect(notchFlow(0.05, usual, 'sandy-or-silty', 0.02).holdsFrom).toBe('bare');
    expect(notchFlow(0.5, usual, 'sandy-or-silty', 0.02).holdsFrom).toBe('good-grass');
    expect(notchFlow(10, usual, 'sandy-or-silty', 0.02).holdsFrom).toBeNull();
  });

  test('what runs in comes out: speed times section is the flow', () => {
    for (const { depthMeters, metersPerSecond } of notchFlow(0.7, usual, 'clay', 0.02).inNotch) {
      const area = (usual.bottomWidthMeters + 6 * depthMeters) * depthMeters;
      expect(metersPerSecond * area).toBeCloseTo(0.7, 5);
    }
  });

  test('over 10 % of slope no grass is given, and level ground has no speed', () => {
    expect(notchFlow(0.1, usual, 'clay', 0.12).atOutlet).toMatchObject({
      permissibleMetersPerSecond: null,
      holds: false,
    });
    expect(notchFlow(0.1, usual, 'clay', 0).atOutlet).toBeNull();
    expect(notchFlow(0, usual, 'clay', 0.02).holdsFrom).toBe('bare');
  });
});

test('bad values throw with the value', () => {
  const flat = gridOf({ width: 9, height: 9 }, () => 1);
  const at = place(9, 4, 4);
  expect(() => finish(drainPath(flat, flat.data, { start: 40 }))).toThrow('cell 40');
  expect(() => finish(drainPath(flat, new Float32Array(3), { start: 40 }))).toThrow(RangeError);
  expect(() => finish(designNotch(flat, [at, at]))).toThrow(RangeError);
  expect(() => finish(designNotch(flat, [at, place(9, 8, 8)], { swellRatio: 0.5 }))).toThrow('0.5');
  const off: [number, number] = [0, 0];
  expect(() => finish(designNotch(flat, [off, at]))).toThrow(RangeError);
  expect(() => fillIn({ volumeCubicMeters: -1, areaSquareMeters: 1 })).toThrow('-1');
  expect(() => normalFlow(1, { bottomWidthMeters: 0, sideRun: 1 }, 0.01, 0.03)).toThrow(RangeError);
  expect(() => rationalPeak(1.2, 1, 1)).toThrow('1.2');
  const storm = { areaSquareMeters: 1, curveNumber: 20, dayRainMeters: 1, concentrationHours: 1 };
  expect(() => graphicalPeak({ ...storm, rainType: 'II' })).toThrow('20');
});
