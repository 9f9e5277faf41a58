import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Answer, PlotGround, PlotLowSpots, SiteLowSpots } from '../../geo/answers/answers.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import { AnswerGraph, type Settled } from '../../geo/answers/graph.ts';
import { measurePolygon } from '../../geo/frame/geodesic.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { roundDegrees, type PlanFeature, type Position } from '../../geo/plan/feature.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { answersOf, bermOf, groundOf, neededFor, plotOf, standOf } from '../answers-rig.ts';
import { finish } from '../../geo/work.ts';
import { roughGrid } from '../terrain-grids.ts';

/** What must hold for any plan on any ground, drawn well or badly. Seeds are fixed. */

/** Evenly spread, unlike `fc.double`; half a thousandth off every whole number. */
const spread = (low: number, high: number) =>
  fc.integer({ min: low * 1000, max: high * 1000 - 1 }).map((n) => (n + 0.5) / 1000);
const runs = (seed: number, numRuns = 60) => ({ seed, numRuns });
const SIDE = 60;
const shape = { width: SIDE, height: SIDE, west: 499_970 };
const roughGrounds = new Map<number, Grid>();

/** Rough ground of 60 × 60 one-metre cells on the middle line of its UTM zone. */
function groundAt(seed: number, change: (grid: Grid) => void = () => undefined) {
  const rough = roughGrounds.get(seed) ?? roughGrid(shape, seed);
  roughGrounds.set(seed, rough);
  const frame = openFrame(rough.frame);
  const grid = makeGrid(rough, rough.data.slice(), frame);
  change(grid);
  return groundOf(grid, frame);
}
type Ground = ReturnType<typeof groundAt>;

/** Cells east and south of the grid's north-west corner to a position. */
function place({ grid, frame }: Ground, [column, row]: readonly [number, number]): Position {
  const [lng, lat] = frame.toLngLat(grid.west + column, grid.north - row);
  return [roundDegrees(lng), roundDegrees(lat)];
}
const ringIn = (ground: Ground, corners: readonly (readonly [number, number])[]) =>
  corners.map((corner) => place(ground, corner));

/** A round outline: convex, its corners at steps of the circle, askew to the cells. */
function roundOutline(column: number, row: number, radius: number, corners: number) {
  return Array.from({ length: corners }, (_, k): [number, number] => [
    column + radius * Math.cos(0.13 + (2 * Math.PI * k) / corners),
    row + radius * Math.sin(0.13 + (2 * Math.PI * k) / corners),
  ]);
}
const rectangle = (left: number, top: number, right: number, bottom: number) =>
  [
    [left, top],
    [left, bottom],
    [right, bottom],
    [right, top],
  ] as const;

function plotAnswers(feature: PlanFeature, ground: Ground | null, settings?: Partial<Settings>) {
  const answers = answersOf([feature], ground, settings).features[feature.id]!;
  return {
    ground: answers.plotGround as Answer<PlotGround> | null,
    lowSpots: answers.plotLowSpots as Answer<PlotLowSpots> | null,
  };
}

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);
const anywhere = spread(-50, SIDE + 50);
const within = spread(12, SIDE - 12);

describe('plots', () => {
  test('on, off and partly off the ground: the share with heights is exact, classes add up', () => {
    const size = spread(0.2, 60);
    const seen = { on: 0, off: 0, partly: 0 };
    fc.assert(
      fc.property(anywhere, anywhere, size, size, fc.nat(20), (left, top, wide, high, seed) => {
        const ground = groundAt(seed);
        const outline = ringIn(ground, rectangle(left, top, left + wide, top + high));
        const { ground: answer, lowSpots } = plotAnswers(plotOf('plot', [outline]), ground);
        const { terrain, areaSquareMeters } = answer!.value;
        const codes = answer!.findings.map((f) => f.code);
        expect(areaSquareMeters).toBeCloseTo(measurePolygon([outline]).areaSquareMeters, 9);
        const over = (from: number, length: number) =>
          Math.max(0, Math.min(SIDE, from + length) - Math.max(0, from));
        const share = (over(left, wide) * over(top, high)) / (wide * high);
        // Corners are stored to 0.1 mm: on 0.2 m that is 1e-3.
        const grain = 2e-4 / Math.min(wide, high);
        if (share < grain) {
          seen.off++;
          expect(terrain === null || terrain.coveredShare < 2 * grain).toBe(true);
          if (!terrain) expect(codes).toContain('off-ground');
          expect(lowSpots!.value.lowSpots).toEqual([]);
          return;
        }
        expect(Math.abs(terrain!.coveredShare - share)).toBeLessThan(grain);
        expect(sum(terrain!.slopeClassAreasSquareMeters)).toBeCloseTo(
          areaSquareMeters * terrain!.coveredShare,
          6,
        );
        if (share < 0.99) {
          seen.partly++;
          expect(codes).toContain('partly-off-ground');
        } else seen.on++;
        expect(terrain!.medianSlope).toBeLessThanOrEqual(terrain!.percentile90Slope);
        expect(terrain!.percentile90Slope).toBeLessThanOrEqual(terrain!.greatestSlope + 1e-12);
        expect(terrain!.fallMeters).toBeGreaterThanOrEqual(0);
      }),
      runs(1, 300),
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(10);
  });

  test('half a world away, where the projection has no such place: no throw, no terrain', () => {
    const lng = spread(-179, 179);
    const lat = spread(-89, 89);
    const ground = groundAt(3);
    let nowhere = 0;
    const check = (at: Position) => {
      if (Math.abs(at[0] + 87) < 0.1 && Math.abs(at[1] - 43) < 2) return;
      const plot = plotOf('plot', [[at, [at[0] + 0.001, at[1]], [at[0], at[1] + 0.001]]]);
      const answers = answersOf(
        [plot, standOf('stand', at), bermOf('berm', [at, [at[0] + 0.001, at[1]]])],
        ground,
      ).features;
      expect(answers['plot']!.plotGround!.value.terrain).toBeNull();
      expect(answers['plot']!.plotGround!.value.areaSquareMeters).toBeGreaterThan(0);
      expect(answers['plot']!.plotLowSpots!.value.lowSpots).toEqual([]);
      expect(answers['stand']!.standGround!.value.elevationMeters).toBeNull();
      expect(answers['berm']!.bermLine!.value.lowestMeters).toBeNull();
      for (const one of Object.values(answers)) {
        for (const { findings } of Object.values(one).slice(0, 1)) {
          expect(findings.map((f) => f.code)).toContain('off-ground');
        }
      }
      try {
        ground.frame.fromLngLat(...at);
      } catch {
        nowhere++;
      }
    };
    check([3, 0]);
    fc.assert(
      fc.property(lng, lat, (x, y) => check([roundDegrees(x), roundDegrees(y)])),
      runs(2, 80),
    );
    // 90° of longitude from the meridian on the equator lies at infinity.
    expect(nowhere).toBeGreaterThan(0);
  });

  test('smaller than a cell: the cell’s height, and slope and fall of the ground round it', () => {
    const part = spread(0.01, 0.3);
    const bearing = spread(0, 359.9);
    fc.assert(
      fc.property(within, within, part, part, bearing, (column, row, wide, high, toward) => {
        const turn = (toward * Math.PI) / 180;
        const ground = groundAt(1, ({ data }) => {
          for (let i = 0; i < data.length; i++) {
            const east = (i % SIDE) - SIDE / 2;
            const south = Math.floor(i / SIDE) - SIDE / 2;
            data[i] = 250 - 0.06 * (east * Math.sin(turn) - south * Math.cos(turn));
          }
        });
        const [left, top] = [Math.floor(column) + 0.35, Math.floor(row) + 0.35];
        const outline = ringIn(ground, rectangle(left, top, left + wide, top + high));
        const { ground: answer } = plotAnswers(plotOf('plot', [outline]), ground);
        const terrain = answer!.value.terrain!;
        const height = ground.grid.data[Math.floor(row) * SIDE + Math.floor(column)];
        expect(terrain.lowestMeters).toBe(height);
        expect(terrain.highestMeters).toBe(height);
        expect(terrain.planeSlope).toBeCloseTo(0.06, 4);
        expect(terrain.medianSlope).toBeCloseTo(0.06, 4);
        // The zone's middle line runs through the grid: grid north is true north to 1e-3°.
        expect(bearingApart(terrain.fallsTowardDegrees!, toward)).toBeLessThan(0.05);
      }),
      runs(3),
    );
  });

  test('a hole takes its own acres, heights and low spots out', () => {
    const radius = spread(2, 11);
    fc.assert(
      fc.property(radius, fc.integer({ min: 3, max: 12 }), fc.nat(20), (r, corners, seed) => {
        const ground = groundAt(seed);
        const outer = ringIn(ground, roundOutline(30, 30, 25, 24));
        const hole = ringIn(ground, roundOutline(30, 30, r, corners));
        const settings = { listMinDepthMeters: 0, listMinAreaSquareMeters: 0 };
        const answer = (rings: Position[][]) => plotAnswers(plotOf('p', rings), ground, settings);
        const whole = answer([outer]);
        const inner = answer([hole]);
        const rest = answer([outer, hole]);
        expect(rest.ground!.value.areaSquareMeters).toBeCloseTo(
          whole.ground!.value.areaSquareMeters - inner.ground!.value.areaSquareMeters,
          6,
        );
        expect(rest.ground!.value.perimeterMeters).toBeCloseTo(
          whole.ground!.value.perimeterMeters + inner.ground!.value.perimeterMeters,
          6,
        );
        expect(rest.ground!.value.terrain!.coveredShare).toBeCloseTo(1, 9);
        expect(sum(rest.ground!.value.terrain!.slopeClassAreasSquareMeters)).toBeCloseTo(
          rest.ground!.value.areaSquareMeters,
          6,
        );
        expect(insideArea(rest) + insideArea(inner)).toBeCloseTo(insideArea(whole), 6);
      }),
      runs(4),
    );
  });

  test('an outline that crosses itself has no answer, and nothing throws', () => {
    fc.assert(
      fc.property(within, within, within, within, (a, b, c, d) => {
        fc.pre(Math.abs(a - c) > 1 && Math.abs(b - d) > 1);
        const ground = groundAt(5);
        // A bow tie of the corners of a rectangle.
        const bow = ringIn(ground, [
          [a, b],
          [c, d],
          [c, b],
          [a, d],
        ]);
        const { ground: answer, lowSpots } = plotAnswers(plotOf('bow', [bow]), ground);
        expect(answer).toBeNull();
        expect(lowSpots).toBeNull();
        expect(
          plotAnswers(plotOf('flat', [[bow[0]!, bow[1]!, bow[0]!]]), ground).ground,
        ).toBeNull();
      }),
      runs(5),
    );
  });

  test('no data under the plot counts as off the ground', () => {
    const edge = fc.integer({ min: 8, max: 50 });
    fc.assert(
      fc.property(edge, edge, edge, edge, fc.nat(20), (c0, c1, r0, r1, seed) => {
        const [left, right] = [Math.min(c0, c1), Math.max(c0, c1)];
        const [top, bottom] = [Math.min(r0, r1), Math.max(r0, r1)];
        const ground = groundAt(seed, ({ data }) => {
          for (let row = top; row < bottom; row++) {
            data.fill(NaN, row * SIDE + left, row * SIDE + right);
          }
        });
        const outline = ringIn(ground, rectangle(10.5, 12.25, 48, 45));
        const { ground: answer, lowSpots } = plotAnswers(plotOf('plot', [outline]), ground);
        const { terrain, areaSquareMeters } = answer!.value;
        const over = (from: number, to: number, low: number, high: number) =>
          Math.max(0, Math.min(to, high) - Math.max(from, low));
        const missing = over(left, right, 10.5, 48) * over(top, bottom, 12.25, 45);
        const share = 1 - missing / (37.5 * 32.75);
        if (share < 1e-9) {
          expect(terrain).toBeNull();
          return;
        }
        expect(Math.abs(terrain!.coveredShare - share)).toBeLessThan(1e-5);
        const classes = sum(terrain!.slopeClassAreasSquareMeters);
        expect(classes).toBeCloseTo(areaSquareMeters * terrain!.coveredShare, 6);
        expect(Number.isFinite(terrain!.lowestMeters + terrain!.highestMeters)).toBe(true);
        for (const spot of lowSpots!.value.lowSpots) {
          expect(spot.insideAreaSquareMeters).toBeLessThanOrEqual(spot.areaSquareMeters + 1e-9);
        }
      }),
      runs(6),
    );
  });

  test('two plots side by side hold together what the two as one hold', () => {
    const corners = fc.integer({ min: 4, max: 20 });
    let wet = 0;
    fc.assert(
      fc.property(within, within, corners, fc.nat(), fc.nat(20), (column, row, n, cut, seed) => {
        const ground = groundAt(seed);
        const outline = ringIn(ground, roundOutline(column, row, 22, n));
        // Cut from corner to corner, so that both parts have the whole's own corners.
        const at = 2 + (cut % (n - 3));
        const settings = { listMinDepthMeters: 0, listMinAreaSquareMeters: 0 };
        const answer = (ring: Position[]) => plotAnswers(plotOf('plot', [ring]), ground, settings);
        const whole = answer(outline);
        const one = answer(outline.slice(0, at + 1));
        const other = answer([...outline.slice(at), outline[0]!]);
        expect(insideArea(one) + insideArea(other)).toBeCloseTo(insideArea(whole), 6);
        wet += insideArea(whole) > 0 ? 1 : 0;
        const acres = (a: ReturnType<typeof answer>) => a.ground!.value.areaSquareMeters;
        expect(acres(one) + acres(other)).toBeCloseTo(acres(whole), 6);
      }),
      runs(7),
    );
    expect(wet).toBeGreaterThan(30);
  });

  test('a quarter-turn of the world turns the fall by 90° and nothing else', () => {
    fc.assert(
      fc.property(within, within, fc.integer({ min: 3, max: 9 }), fc.nat(20), (c, r, n, seed) => {
        const ground = groundAt(seed);
        const turned = groundAt(seed, (grid) => {
          const before = grid.data.slice();
          for (let row = 0; row < SIDE; row++) {
            for (let column = 0; column < SIDE; column++) {
              // Clockwise: what was west comes north.
              grid.data[row * SIDE + column] = before[(SIDE - 1 - column) * SIDE + row]!;
            }
          }
        });
        const outline = roundOutline(c, r, 11, n);
        const turnedOutline = outline.map(([x, y]): [number, number] => [SIDE - y, x]);
        const settings = { listMinDepthMeters: 0, listMinAreaSquareMeters: 0 };
        const a = plotAnswers(plotOf('p', [ringIn(ground, outline)]), ground, settings);
        const b = plotAnswers(plotOf('p', [ringIn(turned, turnedOutline)]), turned, settings);
        const [one, two] = [a.ground!.value.terrain!, b.ground!.value.terrain!];
        fc.pre(one.planeSlope > 0.005);
        // Corners stored to 0.1 mm, and a plane's direction over the 11 m of the plot.
        const back = two.fallsTowardDegrees! - 90;
        expect(bearingApart(back, one.fallsTowardDegrees!)).toBeLessThan(0.05);
        expect(two.planeSlope).toBeCloseTo(one.planeSlope, 5);
        expect(two.lowestMeters).toBe(one.lowestMeters);
        expect(two.highestMeters).toBe(one.highestMeters);
        expect(Math.abs(insideArea(a) - insideArea(b))).toBeLessThan(0.01);
      }),
      runs(8),
    );
  });
});

const onGround = neededFor('standGround');

test('stands: the height between the four cells round them, or none off the ground', () => {
  let off = 0;
  fc.assert(
    fc.property(anywhere, anywhere, fc.nat(20), (column, row, seed) => {
      const ground = groundAt(seed);
      const at = place(ground, [column, row]);
      const { value, findings } = answersOf([standOf('s', at)], ground, {}, onGround).features['s']!
        .standGround!;
      const inside = column > 0 && column < SIDE && row > 0 && row < SIDE;
      if (!inside) {
        off++;
        expect(value.elevationMeters).toBeNull();
        expect(findings.map((f) => [f.code, f.about])).toEqual([['off-ground', ['s']]]);
        return;
      }
      const near = [0, 1, 2, 3].map((k) => {
        const c = Math.min(SIDE - 1, Math.max(0, Math.floor(column - 0.5) + (k % 2)));
        const r = Math.min(SIDE - 1, Math.max(0, Math.floor(row - 0.5) + (k >> 1)));
        return ground.grid.data[r * SIDE + c]!;
      });
      // 0.1 mm of rounded degrees on a step of a cell may reach past the four.
      expect(value.elevationMeters!).toBeGreaterThan(Math.min(...near) - 1e-3);
      expect(value.elevationMeters!).toBeLessThan(Math.max(...near) + 1e-3);
      expect(findings).toEqual([]);
    }),
    runs(9, 150),
  );
  expect(off).toBeGreaterThan(20);
});

test('berms: of no length, off the ground, partly off it', () => {
  fc.assert(
    fc.property(anywhere, anywhere, anywhere, anywhere, (c0, r0, c1, r1) => {
      const ground = groundAt(11);
      const from = place(ground, [c0, r0]);
      const to = place(ground, [c1, r1]);
      const point = answersOf([bermOf('b', [from, from])], ground).features['b']!.bermLine!;
      const stand = answersOf([standOf('s', from)], ground, {}, onGround).features['s']!
        .standGround!;
      expect(point.value.lengthMeters).toBe(0);
      expect(point.value.lowestMeters).toBe(stand.value.elevationMeters);
      expect(point.value.highestMeters).toBe(stand.value.elevationMeters);
      const { value, findings } = answersOf([bermOf('b', [from, to])], ground).features['b']!
        .bermLine!;
      // The slow way: 2,000 heights along the line, read one by one.
      const heights: number[] = [];
      for (let i = 0; i <= 2000; i++) {
        const t = i / 2000;
        const c = Math.floor(c0 + t * (c1 - c0));
        const r = Math.floor(r0 + t * (r1 - r0));
        if (c >= 0 && r >= 0 && c < SIDE && r < SIDE) heights.push(ground.grid.data[r * SIDE + c]!);
      }
      const codes = findings.map((f) => f.code);
      if (heights.length === 0) expect(codes).toEqual(['off-ground']);
      else if (heights.length === 2001) expect(codes).toEqual([]);
      // Shorter than a step, the touch of a corner may be missed.
      else if (heights.length > 50) {
        expect(codes).toEqual(['partly-off-ground']);
        const share = findings[0]!.values['coveredShare'] as number;
        const steps = value.lengthMeters;
        expect(Math.abs(share - heights.length / 2001)).toBeLessThan(2 / steps + 1e-3);
        // Between cells a height lies among its neighbours', which stay within 2 m here.
        expect(value.lowestMeters!).toBeGreaterThan(Math.min(...heights) - 2);
        expect(value.lowestMeters!).toBeLessThan(Math.min(...heights) + 2);
        expect(value.highestMeters!).toBeGreaterThan(Math.max(...heights) - 2);
        expect(value.highestMeters!).toBeLessThan(Math.max(...heights) + 2);
      }
    }),
    runs(10, 150),
  );
});

test('without ground: acres, perimeter and length, and a word on what is missing', () => {
  const ground = groundAt(1);
  const outline = ringIn(ground, rectangle(10, 10, 40, 40));
  const answers = answersOf(
    [plotOf('p', [outline]), standOf('s', outline[0]!), bermOf('b', outline)],
    null,
  );
  expect(answers.features['p']!.plotGround!.value.areaSquareMeters).toBeGreaterThan(899);
  expect(answers.features['p']!.plotGround!.value.terrain).toBeNull();
  expect(answers.features['p']!.plotGround!.findings.map((f) => f.code)).toEqual(['no-ground']);
  expect(answers.features['p']!.plotLowSpots).toBeNull();
  expect(answers.features['b']!.bermLine!.value.lengthMeters).toBeGreaterThan(89);
  expect(answers.features['s']!.standGround!.value.elevationMeters).toBeNull();
  expect(answers.site.ground).toBeNull();
  expect(answers.site.lowSpots).toBeNull();
});

test('the same numbers laid elsewhere are another ground: nothing is taken from the first', () => {
  const here = groundAt(4);
  const { grid, frame } = here;
  // 200 km off the meridian the same cells are 0.1 % smaller on the ground.
  const far = groundOf(makeGrid({ ...grid, west: grid.west + 200_000 }, grid.data, frame), frame);
  const graph = new AnswerGraph(definitions);
  const areaOf = (ground: Ground) => {
    let area = NaN;
    const settle = ({ name, value }: Settled) => {
      if (name !== 'lowSpots') return;
      area = (value as Answer<SiteLowSpots>).value.totalAreaSquareMeters;
    };
    graph.setRasters({ ground });
    for (let job = graph.next(settle); job; job = graph.next(settle)) {
      graph.done(job, finish(job.begin()), settle);
    }
    return area;
  };
  expect(here.record.id).toBe(far.record.id);
  const scale = far.grid.cellGroundAreaSquareMeters / grid.cellGroundAreaSquareMeters;
  expect(scale).toBeLessThan(0.9991);
  expect(areaOf(here) * scale).toBeCloseTo(areaOf(far), 9);
});

function insideArea({ lowSpots }: { lowSpots: Answer<PlotLowSpots> | null }): number {
  return sum(lowSpots!.value.lowSpots.map((spot) => spot.insideAreaSquareMeters));
}

function bearingApart(a: number, b: number): number {
  const turned = Math.abs(a - b) % 360;
  return Math.min(turned, 360 - turned);
}
