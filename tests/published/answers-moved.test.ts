import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import type { PlanAnswers } from '../../geo/answers/answer-plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { answersOf, groundOf, offsetFrom, placeFrom } from '../answers-rig.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { moveSite, shapeOf, type GroundShape, type Move } from '../moved-site.ts';

/**
 * The demo's ground laid at 45° N in three other systems, as GDAL writes and places them. The demo
 * stands on its zone's middle line, where grid north is true north: a frame left out of account
 * would not show there. Here it would, and every check that could pass without the frame says by
 * how much the answer without it is out.
 *
 * What differs honestly is where the cells fall. The demo's small relief (3.5 cm deviation, smoothed
 * over 2 m, trade notes §6.7) has a curvature of about √3 · 0.035 / (2√2)² = 0.0076 per metre, so a
 * crest or pit whose cell centre is half a diagonal (0.71 m) off is 1.9 mm out: twice that is let
 * pass. Areas of cells are out by the cells that their edge cuts: four deviations of a sum of that
 * many equal chances are 1.2 √n cells.
 */
const RELIEF_METERS = 0.004;

const moves: readonly (Move & { readonly name: string; readonly slopeShare: number })[] = [
  {
    name: 'UTM, 2.6° off its meridian',
    system: 'EPSG:26916+5703',
    epsg: 26916,
    centre: [-89.6, 45],
    cell: 1,
    columns: 900,
    rows: 720,
    unitsPerMeter: 1,
    slopeShare: 0.01,
  },
  {
    name: 'state plane, Lambert, US survey feet, heights too',
    system: 'EPSG:2288+6360',
    epsg: 2288,
    centre: [-87.4, 45],
    // 3 ft cells: the slope window is 5 of them, 4.6 m and not 5, so slopes come out a little rougher.
    cell: 3,
    columns: 980,
    rows: 780,
    unitsPerMeter: 3937 / 1200,
    slopeShare: 0.03,
  },
  {
    name: 'state plane, transverse Mercator, metres',
    system: 'EPSG:26970+5703',
    epsg: 26970,
    centre: [-114.35, 45],
    cell: 1,
    columns: 900,
    rows: 720,
    unitsPerMeter: 1,
    slopeShare: 0.01,
  },
];

interface Site {
  readonly centre: Position;
  readonly ground: GroundInUse;
  readonly answers: PlanAnswers;
}

let gdal: Gdal;
let demo: Site;
let shape: GroundShape;
const features = (
  JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as { features: PlanFeature[] }
).features.filter(({ kind }) => kind === 'plot' || kind === 'stand' || kind === 'berm');

beforeAll(async () => {
  gdal = await openGdal();
  const file = new Uint8Array(readFileSync('fixtures/demo/ground.tif'));
  const opening = await openGround([memorySource('ground.tif', file)]);
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  const { grid } = opening;
  const frame = openFrame(grid.frame);
  const ground = groundOf(grid, frame);
  const centre = frame.toLngLat(grid.west + 450, grid.north - 360);
  demo = { centre, ground, answers: answersOf(features, ground) };
  // UTM's scale on its meridian, by definition.
  shape = shapeOf(grid, 0.9996);
});

describe.each(moves)('$name', (move) => {
  let site: Site;
  /** Degrees clockwise from true north to grid north, by GDAL. */
  let convergence: number;
  let toPlane: (points: readonly Position[]) => Promise<[number, number][]>;
  beforeAll(async () => {
    const ground = await moveSite(gdal, shape, move);
    const moved = features.map((feature) => moveFeature(feature, move.centre));
    site = { centre: move.centre, ground, answers: answersOf(moved, ground) };
    toPlane = (points) => gdal.transform(points, '+proj=longlat +datum=NAD83', `EPSG:${move.epsg}`);
    const north = placeFrom(move.centre, 0, 200);
    const [a, b] = (await toPlane([move.centre, north])) as [[number, number], [number, number]];
    convergence = (-Math.atan2(b[0] - a[0], b[1] - a[1]) * 180) / Math.PI;
  });

  test('acres, perimeters and lengths are those of the ground', async () => {
    for (const id of ['A', 'B', 'C']) {
      const here = site.answers.features[id]!.plotGround!.value;
      const there = demo.answers.features[id]!.plotGround!.value;
      expect(apart(here.areaSquareMeters, there.areaSquareMeters)).toBeLessThan(1e-6);
      expect(apart(here.perimeterMeters, there.perimeterMeters)).toBeLessThan(1e-6);
      const feature = moveFeature(
        features.find((f) => f.id === id)!,
        move.centre,
      );
      const [ring] = feature.geometry.coordinates as Position[][];
      const flat = shoelace(await toPlane(ring!)) / move.unitsPerMeter ** 2;
      expect(apart(flat, there.areaSquareMeters)).toBeGreaterThan(1e-4);
    }
    const here = site.answers.features['berm-A']!.bermLine!.value;
    const there = demo.answers.features['berm-A']!.bermLine!.value;
    expect(apart(here.lengthMeters, there.lengthMeters)).toBeLessThan(1e-6);
    expect(Math.abs(here.lowestMeters! - there.lowestMeters!)).toBeLessThan(RELIEF_METERS);
    expect(Math.abs(here.highestMeters! - there.highestMeters!)).toBeLessThan(RELIEF_METERS);
  });

  test('plots fall toward the same true bearing', () => {
    expect(Math.abs(convergence)).toBeGreaterThan(0.9);
    for (const id of ['A', 'B', 'C']) {
      const here = terrainOf(site, id).fallsTowardDegrees!;
      const there = terrainOf(demo, id).fallsTowardDegrees!;
      expect(Math.abs(here - there)).toBeLessThan(0.02);
      // The bearing on the grid would be out by the convergence.
      expect(Math.abs(here - convergence - there)).toBeGreaterThan(0.9);
    }
  });

  test('slopes, heights and fall are the same but for where the cells fall', () => {
    for (const id of ['A', 'B', 'C']) {
      const here = terrainOf(site, id);
      const there = terrainOf(demo, id);
      expect(apart(here.planeSlope, there.planeSlope)).toBeLessThan(1e-3);
      expect(apart(here.medianSlope, there.medianSlope)).toBeLessThan(move.slopeShare);
      expect(apart(here.percentile90Slope, there.percentile90Slope)).toBeLessThan(move.slopeShare);
      expect(apart(here.greatestSlope, there.greatestSlope)).toBeLessThan(move.slopeShare);
      const { areaSquareMeters } = demo.answers.features[id]!.plotGround!.value;
      here.slopeClassAreasSquareMeters.forEach((area, k) => {
        const change = Math.abs(area - there.slopeClassAreasSquareMeters[k]!) / areaSquareMeters;
        expect(change).toBeLessThan(move.slopeShare);
      });
      expect(here.coveredShare).toBeCloseTo(1, 12);
      // The outermost cell may end half a diagonal farther up or down the slope.
      const edge = 0.71 * there.percentile90Slope + RELIEF_METERS;
      expect(Math.abs(here.lowestMeters - there.lowestMeters)).toBeLessThan(edge);
      expect(Math.abs(here.highestMeters - there.highestMeters)).toBeLessThan(edge);
    }
  });

  test('low spots: same order, depth, spill, area, volume and part inside the plot', () => {
    const here = site.answers.site.lowSpots!.value;
    const there = demo.answers.site.lowSpots!.value;
    expect(here.lowSpots.map((s) => s.id)).toEqual(['P1', 'P2', 'P3']);
    for (const [i, spot] of here.lowSpots.entries()) {
      const twin = there.lowSpots[i]!;
      const change = Math.abs(spot.spillElevationMeters - twin.spillElevationMeters);
      expect(change).toBeLessThan(RELIEF_METERS);
      expect(Math.abs(spot.maxDepthMeters - twin.maxDepthMeters)).toBeLessThan(RELIEF_METERS);
      const edge = perimeterOf(demo, twin.id);
      expect(Math.abs(spot.areaSquareMeters - twin.areaSquareMeters)).toBeLessThan(
        1.2 * Math.sqrt(edge),
      );
      const film = RELIEF_METERS * twin.areaSquareMeters;
      expect(Math.abs(spot.volumeCubicMeters - twin.volumeCubicMeters)).toBeLessThan(film);
    }
    for (const id of ['A', 'B', 'C']) {
      const inside = site.answers.features[id]!.plotLowSpots!.value.lowSpots;
      const twins = demo.answers.features[id]!.plotLowSpots!.value.lowSpots;
      expect(inside.map((s) => s.id)).toEqual(twins.map((s) => s.id));
      for (const [i, spot] of inside.entries()) {
        const twin = twins[i]!;
        const change = Math.abs(spot.insideAreaSquareMeters - twin.insideAreaSquareMeters);
        expect(change).toBeLessThan(1.2 * Math.sqrt(perimeterOf(demo, twin.id)));
      }
    }
  });

  test('a cell’s ground area, by which ponds are counted, is that of GDAL’s equal-area plane', async () => {
    const { grid } = site.ground;
    const [at] = site.answers.site.lowSpots!.value.lowSpots;
    const [[x, y]] = (await toPlane([[...at!.deepestAt]])) as [[number, number]];
    // 100 × 100 cells round P1, corners on the grid.
    const half = 50 * move.cell;
    const corners = [
      [x - half, y - half],
      [x + half, y - half],
      [x + half, y + half],
      [x - half, y + half],
    ] as const;
    const degrees = await gdal.transform(
      corners,
      `EPSG:${move.epsg}`,
      '+proj=longlat +datum=NAD83',
    );
    const [lng, lat] = move.centre;
    const equalArea = `+proj=laea +lat_0=${lat} +lon_0=${lng} +datum=WGS84 +units=m`;
    const cellArea = shoelace(await gdal.transform(degrees, 'OGC:CRS84', equalArea)) / 1e4;
    // The scale drifts by up to 5e-9 a metre; the grid takes it at its middle, 200 m from P1.
    expect(apart(grid.cellGroundAreaSquareMeters, cellArea)).toBeLessThan(3e-6);
    expect(apart(grid.cellWidth * grid.cellHeight, cellArea)).toBeGreaterThan(9e-5);
    for (const spot of site.answers.site.lowSpots!.value.lowSpots) {
      const cells = spot.areaSquareMeters / grid.cellGroundAreaSquareMeters;
      expect(Math.abs(cells - Math.round(cells))).toBeLessThan(1e-6);
      expect(Math.abs(spot.areaSquareMeters / (Math.round(cells) * cellArea) - 1)).toBeLessThan(
        3e-6,
      );
    }
    const { areaSquareMeters, cellsWithData } = site.answers.site.ground!.value;
    expect(apart(areaSquareMeters, cellsWithData * cellArea)).toBeLessThan(3e-6);
  });

  test('deepest points and shorelines lie within a cell of the demo’s', () => {
    const turn = (convergence * Math.PI) / 180;
    const onGrid = ([e, n]: Point): Point => [
      e * Math.cos(turn) - n * Math.sin(turn),
      e * Math.sin(turn) + n * Math.cos(turn),
    ];
    for (const [i, spot] of site.answers.site.lowSpots!.value.lowSpots.entries()) {
      const twin = demo.answers.site.lowSpots!.value.lowSpots[i]!;
      const deepest = offsetFrom(site.centre, spot.deepestAt);
      const other = offsetFrom(demo.centre, twin.deepestAt);
      expect(Math.hypot(deepest[0] - other[0], deepest[1] - other[1])).toBeLessThan(1);
      const shore = shoreOf(site, spot.id);
      const twinShore = shoreOf(demo, twin.id);
      expect(farthest(shore, twinShore)).toBeLessThan(1);
      expect(farthest(twinShore, shore)).toBeLessThan(1);
      // P1 and P2 lie 200 m from the middle: grid bearings would put them metres off.
      if (spot.id === 'P3') continue;
      const [east, north] = onGrid(deepest);
      expect(Math.hypot(east - other[0], north - other[1])).toBeGreaterThan(2);
      const turned = shore.map((ring) => ring.map(onGrid));
      expect(farthest(turned, twinShore)).toBeGreaterThan(2);
    }
  });

  test('ground under the stands, to 3 mm', () => {
    for (const id of ['A1', 'A2', 'B1']) {
      const here = site.answers.features[id]!.standGround!.value.elevationMeters!;
      const there = demo.answers.features[id]!.standGround!.value.elevationMeters!;
      expect(Math.abs(here - there)).toBeLessThan(0.003);
    }
  });
});

type Point = readonly [number, number];

function moveFeature(feature: PlanFeature, centre: Position): PlanFeature {
  const move = (at: unknown): unknown => {
    const list = at as unknown[];
    return typeof list[0] === 'number'
      ? placeFrom(centre, ...offsetFrom(demo.centre, list as Position))
      : list.map(move);
  };
  const coordinates = move(feature.geometry.coordinates);
  const geometry = { ...feature.geometry, coordinates } as PlanFeature['geometry'];
  return { ...feature, geometry };
}

const terrainOf = (site: Site, id: string) => site.answers.features[id]!.plotGround!.value.terrain!;

/** Shoreline rings of a low spot as metres east and north of the site's middle. */
function shoreOf(site: Site, id: string): Point[][] {
  const polygons = site.answers.site.lowSpots!.value.outlines[id]!;
  return polygons.flatMap((rings) =>
    rings.map((ring) => ring.map((p) => offsetFrom(site.centre, p))),
  );
}

function perimeterOf(site: Site, id: string): number {
  let sum = 0;
  for (const ring of shoreOf(site, id)) {
    for (let i = 1; i < ring.length; i++) {
      sum += Math.hypot(ring[i]![0] - ring[i - 1]![0], ring[i]![1] - ring[i - 1]![1]);
    }
  }
  return sum;
}

/** How far the farthest corner of some rings lies from the nearest edge of others. */
function farthest(from: readonly (readonly Point[])[], to: readonly (readonly Point[])[]): number {
  let most = 0;
  for (const point of from.flat()) {
    let least = Infinity;
    for (const ring of to) {
      for (let i = 1; i < ring.length; i++) {
        least = Math.min(least, toSegment(point, ring[i - 1]!, ring[i]!));
      }
    }
    most = Math.max(most, least);
  }
  return most;
}

function toSegment([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const long = (bx - ax) ** 2 + (by - ay) ** 2;
  const t = long === 0 ? 0 : ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long;
  const s = Math.min(1, Math.max(0, t));
  return Math.hypot(x - ax - s * (bx - ax), y - ay - s * (by - ay));
}

function shoelace(points: readonly Point[]): number {
  const [ox, oy] = points[0]!;
  let twice = 0;
  points.forEach(([x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length]!;
    twice += (x - ox) * (nextY - oy) - (nextX - ox) * (y - oy);
  });
  return Math.abs(twice / 2);
}

/** Relative difference. */
function apart(a: number, b: number): number {
  return Math.abs(a / b - 1);
}
