import { describe, expect, test } from 'vitest';
import { HEIGHT, fromFall, makeSurfaces, toFall, WIDTH } from '../../fixtures/generator/terrain.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { drainPath, pathLine } from '../../geo/water/drain-path.ts';
import { fairNotch } from '../../geo/water/fair-notch.ts';
import { fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { fillDepressions } from '../../geo/water/fill-depressions.ts';
import { fillIn } from '../../geo/water/fill-in.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { manningSpeed, normalFlow } from '../../geo/water/manning.ts';
import { cutNotch, designNotch } from '../../geo/water/notch.ts';
import { graphicalPeak, rationalPeak } from '../../geo/water/peak-flow.ts';
import { grassSpeedOnSlope, permissibleSpeed } from '../../geo/water/permissible-speed.ts';
import { runoffCoefficient } from '../../geo/water/runoff-coefficient.ts';
import {
  concentrationHours,
  sheetFlowHours,
  sheetRoughness,
  shallowFlowHours,
} from '../../geo/water/travel-time.ts';
import { finish } from '../../geo/work.ts';
import { gridOf, gridOfRows } from '../terrain-grids.ts';

const FOOT = 0.3048;
const INCH = 0.0254;
const ACRE = 4046.8564224;
const CUBIC_YARD = 0.9144 ** 3;

describe('breaching grid of handbook §10 [C 61]: a basin of 1 in a block of 8, a notch of 7', () => {
  const rows = [
    '0000000000',
    '0888888880',
    '0888888880',
    '0881118880',
    '0881118880',
    '0881118880',
    '0888878880',
    '0888878880',
    '0888878880',
    '0000000000',
  ].map((row) => [...row].map(Number));
  const ground = gridOfRows(rows);
  const filled = finish(fillDepressions(ground));
  const start = 33;
  // Narrower than a cell, upright and level: the breach as the grid's own source cuts it.
  const section = { bottomWidthMeters: 0.5, sideRun: 0, gradeRatio: 0 };
  const search = (limits: object) =>
    finish(drainPath(ground, filled, { start, section, maxCutMeters: 10, ...limits }));

  const lowered = (limits: object) => {
    const found = search(limits);
    if (!found.ok) throw new Error(found.problem.code);
    const design = finish(designNotch(ground, pathLine(ground, found.value.cells), { section }));
    const out = ground.data.slice();
    cutNotch(ground, design, out);
    const changed = [...out.keys()].filter((i) => out[i] !== ground.data[i]);
    return changed.map((i) => [i, out[i]]);
  };

  test('over the notch, a complete breach lowers the three 7s to 1 and nothing else', () => {
    // The source breaches where its flood went over; so here, with the 8s barred.
    const blocked = Uint8Array.from(ground.data, (z) => (z === 8 ? 1 : 0));
    expect(lowered({ blocked })).toEqual([
      [65, 1],
      [75, 1],
      [85, 1],
    ]);
  });

  test('with nothing barred two 8s are less to dig than three 7s: 14 m against 18', () => {
    expect(lowered({})).toEqual([
      [13, 1],
      [23, 1],
    ]);
  });

  test('a length of 2 leaves them as they are', () => {
    const found = search({ maxLengthMeters: 2 });
    expect(found.ok ? null : found.problem.code).toBe('way-out-too-far');
  });

  test('a depth of 3 is refused: the source cuts half a breach there, and the spot stays wet', () => {
    const found = search({ maxCutMeters: 3 });
    expect(found.ok ? null : found.problem.code).toBe('way-out-too-deep');
  });
});

describe('peak flow and channel flow', () => {
  test('TR-55 example 3-1: 0.30 h of sheet flow, 0.24 h of shallow flow, 2.05 ft/s in the channel', () => {
    const sheet = sheetFlowHours(100 * FOOT, 0.01, sheetRoughness['dense-grass'], 3.6 * INCH);
    const shallow = shallowFlowHours(1400 * FOOT, 0.01);
    // The release rounds the factor of its units to 1.49; it is 0.3048^(-1/3).
    const rounded = 1.49 * Math.cbrt(FOOT);
    const speed = (rounded * manningSpeed((27 / 28.2) * FOOT, 0.005, 0.05)) / FOOT;
    expect(Math.abs(sheet - 0.3)).toBeLessThan(0.005);
    expect(Math.abs(shallow - 0.24)).toBeLessThan(0.005);
    expect(Math.abs(speed - 2.05)).toBeLessThan(0.005);
    expect(Math.abs(sheet + shallow + 7300 / (3600 * speed) - 1.53)).toBeLessThan(0.005);
    const way = { slopeRatio: 0.01, roughness: 0.24, twoYearRainMeters: 3.6 * INCH };
    const hours = concentrationHours({ ...way, lengthMeters: 1500 * FOOT });
    expect(Math.abs(hours - 0.54)).toBeLessThan(0.01);
  });

  test('TR-55 example 4-1: Ia/P 0.11, 270 csm/in, 345 ft³/s (from memory; chart read to three figures)', () => {
    const peak = graphicalPeak({
      areaSquareMeters: 250 * ACRE,
      curveNumber: 75,
      dayRainMeters: 6 * INCH,
      concentrationHours: 1.53,
      rainType: 'II',
    });
    expect(peak.iaOverP).toBeCloseTo(0.11, 2);
    expect(peak.runoffMeters / INCH).toBeCloseTo(3.28, 2);
    expect(Math.abs(peak.unitPeakCsmPerInch / 270 - 1)).toBeLessThan(0.01);
    expect(Math.abs(peak.cubicMetersPerSecond / FOOT ** 3 / 345 - 1)).toBeLessThan(0.01);
    expect(peak.offTheChart).toBe(false);
  });

  test('the chart’s edge: 1000 csm/in at 0.1 h (a public worksheet 4, type II, CN 94, Tc 0.02 h)', () => {
    const peak = graphicalPeak({
      areaSquareMeters: ACRE,
      curveNumber: 94,
      dayRainMeters: (0.128 / 0.072) * INCH,
      concentrationHours: 0.02,
      rainType: 'II',
    });
    expect(Math.abs(peak.unitPeakCsmPerInch / 1000 - 1)).toBeLessThan(0.02);
    expect(peak.offTheChart).toBe(true);
  });

  test('unit peaks fall as time and Ia/P grow, on every type, within the table and off it', () => {
    const unit = (rainType: 'I' | 'IA' | 'II' | 'III', curveNumber: number, hours: number) =>
      graphicalPeak({
        areaSquareMeters: ACRE,
        curveNumber,
        dayRainMeters: 3 * INCH,
        concentrationHours: hours,
        rainType,
      }).unitPeakCsmPerInch;
    for (const type of ['I', 'IA', 'II', 'III'] as const) {
      for (let cn = 55; cn < 95; cn += 5) {
        expect(unit(type, cn, 1)).toBeLessThanOrEqual(unit(type, cn + 5, 1));
        expect(unit(type, cn, 2)).toBeLessThan(unit(type, cn, 0.5) + 1e-9);
      }
    }
  });

  test('rational: an inch an hour on an acre at C 0.5 is 0.504 ft³/s (the foot–acre factor 1.008)', () => {
    expect(rationalPeak(0.5, INCH, ACRE) / FOOT ** 3).toBeCloseTo(0.5 * (43560 / 43200), 9);
    expect(runoffCoefficient('cultivated', 'clay-or-silt-loam', 0.022)).toBe(0.5);
    expect(runoffCoefficient('woods', 'sandy-loam', 0.2)).toBe(0.3);
  });

  test('Chow 1959 example 6-2 (from memory): 400 ft³/s in a trapezoid runs 3.36 ft deep, 4.46 ft/s', () => {
    const channel = { bottomWidthMeters: 20 * FOOT, sideRun: 2 };
    const flow = normalFlow(400 * FOOT ** 3, channel, 0.0016, 0.025);
    expect(Math.abs(flow.depthMeters / FOOT - 3.36)).toBeLessThan(0.01);
    expect(Math.abs(flow.metersPerSecond / FOOT - 4.46)).toBeLessThan(0.02);
  });

  test('permissible speeds: bare silt 1.5, clay in good grass 5 ft/s (Minnesota Stormwater Manual); grass mixtures on slopes (SCS TP-61)', () => {
    expect(permissibleSpeed('sandy-or-silty', 'bare') / FOOT).toBeCloseTo(1.5, 12);
    expect(permissibleSpeed('clay', 'good-grass') / FOOT).toBeCloseTo(5, 12);
    expect(grassSpeedOnSlope('clay', 0.03)! / FOOT).toBeCloseTo(5, 12);
    expect(grassSpeedOnSlope('sandy-or-silty', 0.08)! / FOOT).toBeCloseTo(3, 12);
    expect(grassSpeedOnSlope('clay', 0.12)).toBeNull();
  });
});

test('fill: 750 yd³ in place take 880 from the bank (trade notes §6.6); 100 at 10 % take 111.1 (handbook §4.4)', () => {
  const yards = (volume: number, shrinkRatio: number) => {
    const spot = { volumeCubicMeters: volume * CUBIC_YARD, areaSquareMeters: 2630 };
    return fillIn(spot, { shrinkRatio }).bankCubicMeters.likely / CUBIC_YARD;
  };
  expect(Math.abs(yards(750, 0.15) / 880 - 1)).toBeLessThan(0.005);
  expect(yards(100, 0.1)).toBeCloseTo(111.1, 1);
});

describe('P1 of the demo against trade notes §6.6', () => {
  const ground: Grid = {
    ...gridOf({ width: WIDTH, height: HEIGHT, west: 0, north: HEIGHT }, () => 0),
    data: makeSurfaces().ground,
  };
  const filled = finish(fillBasins(ground, finish(findBasins(ground))));
  const { spots, labels } = finish(findLowSpots(ground, filled));
  const start = spots[0]!.deepestCell;
  const found = finish(drainPath(ground, filled, { start }));
  if (!found.ok) throw new Error(found.problem.code);
  const design = finish(fairNotch(ground, pathLine(ground, found.value.cells)));

  test('the best line is about 62 yd³ and 2.0 ft deep, and no longer than 98 ft', () => {
    expect(Math.abs(design.bankCubicMeters.likely / CUBIC_YARD / 62 - 1)).toBeLessThan(0.1);
    expect(Math.abs(design.maxCutMeters / FOOT / 2 - 1)).toBeLessThan(0.1);
    // Ours leaves the spot nearer its deepest cell: 88 ft.
    expect(design.lengthMeters / FOOT).toBeLessThanOrEqual(98);
    expect(design.lengthMeters / FOOT).toBeGreaterThan(80);
    expect(design.daylights && design.sidesMeetGround).toBe(true);
    expect(Math.abs(toFall(...(design.line.at(-1) as [number, number])).c + 45)).toBeLessThan(10);
  });

  test.each([
    [-45, 62],
    [-80, 96],
    [20, 163],
  ])('straight down the fall line at c = %d: %d yd³', (c, yards) => {
    // From the middle of the bowl to where the ground is under the bottom.
    const bottom = ground.data[start]!;
    const under = (d: number) => {
      const [x, y] = fromFall(d, c);
      const cell = Math.floor(HEIGHT - y) * WIDTH + Math.floor(x);
      return ground.data[cell]! < bottom - 0.005 * (d - 558);
    };
    let end = 580;
    while (!under(end)) end++;
    const line = [fromFall(558, c), fromFall(end, c)];
    const { bankCubicMeters } = finish(designNotch(ground, line, { startBottomMeters: bottom }));
    expect(Math.abs(bankCubicMeters.likely / CUBIC_YARD / yards - 1)).toBeLessThan(0.1);
  });

  test('once cut, P1 is gone: what is left lies in its own small pits, under 2 in', () => {
    const out = ground.data.slice();
    cutNotch(ground, design, out);
    const after = { ...ground, data: out };
    const level = finish(fillBasins(after, finish(findBasins(after))));
    expect(level[start]! - out[start]!).toBe(0);
    let left = 0;
    for (let i = 0; i < out.length; i++) {
      if (labels[i] !== 1) continue;
      expect(level[i]! - out[i]!).toBeLessThan(2 * INCH);
      left += level[i]! - out[i]!;
    }
    expect(left).toBeLessThan(0.01 * spots[0]!.volumeCubicMeters);
  });
});
