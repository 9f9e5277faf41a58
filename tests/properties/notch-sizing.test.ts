import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeRainTable } from '../../fixtures/generator/rain.ts';
import { readRainTable } from '../../geo/formats/rain-table.ts';
import type { RainTable } from '../../geo/plan/rain-table.ts';
import { fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { flowCatchments } from '../../geo/water/flow-lines.ts';
import { pointerSteps } from '../../geo/water/pointer-codes.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { normalFlow } from '../../geo/water/manning.ts';
import { designNotch } from '../../geo/water/notch.ts';
import { graphicalPeak, rationalPeak } from '../../geo/water/peak-flow.ts';
import { rainInHours } from '../../geo/water/rain-in-hours.ts';
import { spoilStrip } from '../../geo/water/spoil-strip.ts';
import { spotWays } from '../../geo/water/spot-ways.ts';
import { finish } from '../../geo/work.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const runs = { seed: 551986, numRuns: 200 };
const types = ['I', 'IA', 'II', 'III'] as const;

function tableOf(text: string): RainTable {
  const read = readRainTable('rain.csv', text);
  if (!read.ok) throw new Error(read.problem.what);
  return read.value;
}
const whole = tableOf(makeRainTable());
/** Gaps in a table must not let more rain be less in other hours. */
const gapped: RainTable = {
  ...whole,
  depthMeters: whole.depthMeters.map((row, i) => row.map((depth, k) => ((i + k) % 5 === 3 ? NaN : depth))), // prettier-ignore
};

describe('peaks', () => {
  test('more rain never has a lower peak, by either method, with a table, with gaps in it, and without', () => {
    const any = fc.record({
      type: fc.constantFrom(...types),
      table: fc.constantFrom(whole, gapped, null),
      duration: fc.constantFrom(1, 2, 3, 6, 12, 24),
      inches: fc.double({ min: 0.05, max: 12, noNaN: true }),
      more: fc.double({ min: 0.001, max: 3, noNaN: true }),
      hours: fc.double({ min: 0.1, max: 9, noNaN: true }),
      number: fc.integer({ min: 40, max: 98 }),
    });
    fc.assert(
      fc.property(any, ({ type, table, duration, inches, more, hours, number }) => {
        const peaks = [inches, inches + more].map((depth) => {
          const storm = { depthMeters: depth * 0.0254, durationHours: duration };
          const graphical = graphicalPeak({
            areaSquareMeters: 80_000,
            curveNumber: number,
            dayRainMeters: rainInHours(storm, 24, table, type).meters,
            concentrationHours: hours,
            rainType: type,
          }).cubicMetersPerSecond;
          const short = rainInHours(storm, hours, table, type).meters;
          return { graphical, rational: rationalPeak(0.4, short / hours, 80_000) };
        });
        const most = 1 + 1e-9;
        expect(peaks[0]!.graphical).toBeLessThanOrEqual(peaks[1]!.graphical * most);
        expect(peaks[0]!.rational).toBeLessThanOrEqual(peaks[1]!.rational * most);
      }),
      runs,
    );
  });

  test('a shorter rain of the same depth has no lower peak without a table', () => {
    const any = fc.record({
      type: fc.constantFrom(...types),
      duration: fc.double({ min: 0.5, max: 23, noNaN: true }),
      hours: fc.double({ min: 0.1, max: 9, noNaN: true }),
    });
    fc.assert(
      fc.property(any, ({ type, duration, hours }) => {
        const deep = (durationHours: number) =>
          rainInHours({ depthMeters: 0.05, durationHours }, hours, null, type).meters;
        expect(deep(duration + 1)).toBeLessThanOrEqual(deep(duration) * (1 + 1e-9));
      }),
      runs,
    );
  });
});

test('a wider notch is never deeper, nor faster from its best section on; more water is both', () => {
  const any = fc.record({
    flow: fc.double({ min: 0.001, max: 20, noNaN: true }),
    bottom: fc.double({ min: 0.5, max: 15, noNaN: true }),
    wider: fc.double({ min: 0.05, max: 5, noNaN: true }),
    side: fc.integer({ min: 0, max: 10 }),
  });
  fc.assert(
    fc.property(any, ({ flow, bottom, wider, side }) => {
      const at = (cubic: number, bottomWidthMeters: number) =>
        normalFlow(cubic, { bottomWidthMeters, sideRun: side }, 0.005, 0.03);
      const [narrow, wide, more] = [at(flow, bottom), at(flow, bottom + wider), at(flow * 1.1, bottom)]; // prettier-ignore
      const most = 1 + 1e-5;
      expect(wide.depthMeters).toBeLessThanOrEqual(narrow.depthMeters * most);
      // Narrower than the section of least wetted rim, widening first speeds the water up (Chow 1959).
      if (bottom >= 2 * narrow.depthMeters * (Math.hypot(1, side) - side)) {
        expect(wide.metersPerSecond).toBeLessThanOrEqual(narrow.metersPerSecond * most);
      }
      expect(more.depthMeters * most).toBeGreaterThanOrEqual(narrow.depthMeters);
      expect(more.metersPerSecond * most).toBeGreaterThanOrEqual(narrow.metersPerSecond);
    }),
    runs,
  );
});

describe('catchments and longest ways', () => {
  test('a trough with a pit: the way from its head, and the trough’s ground at the least', () => {
    // A trough three cells wide between banks, falling 1 % south; a pit in it 20 cells from its head.
    const wall = gridOf({ width: 7, height: 40 }, (x, y) => {
      const middle = Math.abs(x - 3.5) < 1;
      return 100 + 0.01 * y + (middle ? 0 : 5);
    });
    const pitRow = 20;
    wall.data[pitRow * 7 + 3] = wall.data[pitRow * 7 + 3]! - 0.2;
    const filled = finish(fillBasins(wall, finish(findBasins(wall))));
    const { labels, spots } = finish(findLowSpots(wall, filled));
    expect(spots).toHaveLength(1);
    const flow = finish(flowCatchments(wall, filled));
    const { ways } = finish(spotWays(wall, filled, flow, labels, [1]));
    const cells = ways[0]!.catchmentCells.length;
    // Rows 1 to 20 of the trough, the rim row drains off; banks bring more.
    expect(ways[0]!.catchmentSquareMeters).toBeGreaterThan(pitRow);
    expect(cells).toBeGreaterThanOrEqual(pitRow);
    // It begins on the bank, 5 m up, and runs down the 1 % to the pit's own row.
    expect(ways[0]!.fallMeters).toBeCloseTo(5 + 0.01 * pitRow, 1);
    expect(ways[0]!.lengthMeters).toBeGreaterThanOrEqual(pitRow - 1);
    expect(ways[0]!.lengthMeters).toBeLessThan(pitRow + 2);
  });

  test('against a walk down from every cell, on 40 rough grounds with holes', () => {
    let compared = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const shape = { width: 18, height: 16, cellWidth: 2, cellHeight: 2 };
      const ground = roughGrid(shape, seed, { noise: 1.5, holes: seed % 3 === 0 });
      const filled = finish(fillBasins(ground, finish(findBasins(ground))));
      const { labels, spots } = finish(findLowSpots(ground, filled));
      const asked = spots.slice(0, 8).map((_, i) => i + 1);
      const flow = finish(flowCatchments(ground, filled));
      const { ways } = finish(spotWays(ground, filled, flow, labels, asked));
      const steps = pointerSteps(18);
      for (const [k, label] of asked.entries()) {
        let farthest = 0;
        for (let cell = 0; cell < labels.length; cell++) {
          let meters = 0;
          let at = cell;
          while (labels[at] !== label && flow.pointers[at]! < 8) {
            const step = steps[flow.pointers[at]!]!;
            meters += Math.abs(step) === 1 || Math.abs(step) === 18 ? 2 : Math.SQRT2 * 2;
            at += step;
          }
          const arrives = labels[at] === label;
          if (arrives) farthest = Math.max(farthest, meters);
        }
        expect(ways[k]!.lengthMeters).toBeCloseTo(farthest, 6);
        // What runs over its sills is no less than the spot itself, and no more than all ground.
        expect(ways[k]!.catchmentSquareMeters).toBeGreaterThanOrEqual(spots[k]!.areaSquareMeters * (1 - 1e-6)); // prettier-ignore
        expect(ways[k]!.catchmentSquareMeters).toBeLessThanOrEqual(18 * 16 * 4);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(100);
  });

  test('flipped ground has the same catchments; ways over flats hang on ties', () => {
    for (let seed = 100; seed < 110; seed++) {
      const shape = { width: 24, height: 20 };
      const ground = roughGrid(shape, seed, { noise: 1.5 });
      const data = ground.data.map((_, i) => ground.data[Math.floor(i / 24) * 24 + 23 - (i % 24)]!);
      const [one, other] = [ground, { ...ground, data }].map((grid) => {
        const filled = finish(fillBasins(grid, finish(findBasins(grid))));
        const { labels, spots } = finish(findLowSpots(grid, filled));
        const flow = finish(flowCatchments(grid, filled));
        const count = Math.min(8, spots.length);
        const asked = Array.from({ length: count }, (_, i) => i + 1);
        return finish(spotWays(grid, filled, flow, labels, asked)).ways;
      });
      for (const [k, way] of one!.entries()) {
        expect(other![k]!.catchmentSquareMeters).toBeCloseTo(way.catchmentSquareMeters, 3);
      }
    }
  });
});

describe('spoil', () => {
  const section = { bottomWidthMeters: 2, sideRun: 3, gradeRatio: 0 };
  const start: [number, number] = [500_010, 4_800_000 - 30];
  const end: [number, number] = [500_050, 4_800_000 - 30];
  // A ridge across the notch, and ground that falls north (up in the frame) by 2 %.
  const ground = gridOf({ width: 60, height: 60 }, (x, y) => 10 + Math.max(0, 1 - Math.abs(x - 30) / 20) - 0.02 * y); // prettier-ignore
  const design = finish(designNotch(ground, [start, end], { section, startBottomMeters: 9.4 }));
  const strip = (more: object = {}) => spoilStrip(ground, design, { spotSquareMeters: 400, mostWidthMeters: 30, thicknessMeters: 0.5, ...more }); // prettier-ignore

  test('lies on the lower side, and length × width × thickness is the loose dirt', () => {
    const { place, side, toward, lengthMeters, widthMeters, thicknessMeters } = strip();
    expect([place, side]).toEqual(['alongside', 'left']);
    expect(toward[0]).toBeCloseTo(0, 12);
    expect(toward[1]).toBeCloseTo(1, 12);
    expect(lengthMeters * widthMeters * thicknessMeters).toBeCloseTo(design.looseCubicMeters.likely, 9); // prettier-ignore
  });

  test('barred below it lies above; barred on both sides, or too wide, it goes into the low spot', () => {
    const blocked = new Uint8Array(ground.data.length);
    blocked.fill(1, 0, 60 * 22);
    expect(strip({ blocked })).toMatchObject({ place: 'alongside', side: 'right' });
    blocked.fill(1, 60 * 38);
    expect(strip({ blocked }).place).toBe('low-spot');
    expect(strip({ mostWidthMeters: 0.1 }).place).toBe('low-spot');
    expect(strip({ thicknessMeters: 0.25 }).widthMeters).toBeCloseTo(2 * strip().widthMeters, 9);
    expect(() => strip({ thicknessMeters: 0 })).toThrow(RangeError);
  });
});
