import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, test } from 'vitest';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openFrame } from '../../geo/frame/open-frame.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import type { Work } from '../../geo/work.ts';
import { contourLabels, type ContourLabel } from '../../layers/contours/contour-labels.ts';
import { LabelKeeper, type RequestLabels } from '../../layers/contours/label-keeper.ts';
import { groundTiles } from '../../layers/tiles/prepare-source.ts';

function done<T>(work: Work<T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

/** UTM 15N, 1.9° west of its meridian at 42° N: the grid is turned by more than a degree. */
const crs = crsFromEpsg(26915);
if (!crs.ok) throw new Error(crs.problem.what);
const west = 342_000;
const north = 4_651_000;
const side = 800;
const frame = openFrame(frameFor(crs.value, -94.9, 42));
const heightAt = (x: number, y: number) => 300 + 0.05 * (y - north) + 0.02 * (x - west);
const grid = makeGrid(
  { width: side, height: side, west, north, cellWidth: 1, cellHeight: 1 },
  Float32Array.from({ length: side * side }, (_, i) =>
    heightAt(west + (i % side) + 0.5, north - Math.floor(i / side) - 0.5),
  ),
  frame,
);
const middle = frame.toLngLat(west + side / 2, north - side / 2);
const chunkAt = (z: number) => ({
  z,
  x: Math.floor(((middle[0] + 180) / 360) * 2 ** z),
  y: Math.floor(((1 - Math.asinh(Math.tan((middle[1] * Math.PI) / 180)) / Math.PI) / 2) * 2 ** z),
});

describe('labels of a plane', () => {
  test.each([
    ['us', 0.3048],
    ['metric', 1],
  ] as const)('%s: each stands on ground of its own height, along the strike', (units, unit) => {
    const ground = done(groundTiles(grid, frame, units));
    const labels = done(contourLabels(ground, chunkAt(16)));
    expect(labels.length).toBeGreaterThan(2);
    // The strike of the plane, as a true bearing by GeographicLib: along it the height is constant.
    const [x, y] = [west + 300, north - 400];
    const from = frame.toLngLat(x, y);
    const to = frame.toLngLat(x + 100, y - 40);
    const strike = Geodesic.WGS84.Inverse(from[1], from[0], to[1], to[0]).azi1!;
    for (const { lng, lat, text, turnDegrees } of labels) {
      const height = heightAt(...(frame.fromLngLat(lng, lat) as [number, number]));
      expect(Math.abs(height - Number(text) * unit)).toBeLessThan(0.01);
      expect(Math.abs(turnDegrees - (strike - 90))).toBeLessThan(0.1);
      expect(Math.abs(turnDegrees)).toBeLessThanOrEqual(90);
    }
  });

  test('only every fifth line, and the plain ones where the ground is too flat for that', () => {
    const ground = done(groundTiles(grid, frame, 'us'));
    const texts = (z: number) =>
      done(contourLabels(ground, chunkAt(z))).map((label) => Number(label.text));
    // Zoom 16 at 42° N is 0.89 m a pixel of 512: 5 ft apart, so labels every 25 ft.
    expect(texts(16).every((feet) => feet % 25 === 0)).toBe(true);
    // Zoom 20: 1 ft apart; the chunk is 28 m and the plane rises 4.9 ft over it.
    const near = texts(20);
    expect(near.length).toBeGreaterThan(0);
    expect(near.every((feet) => Number.isInteger(feet))).toBe(true);
  });

  test('beside the ground there are none, and no data is no line', () => {
    const ground = done(groundTiles(grid, frame, 'us'));
    const { z, x, y } = chunkAt(16);
    expect(done(contourLabels(ground, { z, x: x + 40, y }))).toEqual([]);
    const empty = { ...grid, data: new Float32Array(side * side).fill(NaN) };
    expect(done(contourLabels(done(groundTiles(empty, frame, 'us')), { z, x, y }))).toEqual([]);
  });
});

describe('which chunks are asked for', () => {
  const bounds = [-95, 41.9, -94.8, 42.1] as const;
  const label = (text: string): ContourLabel => ({ lng: 0, lat: 0, text, turnDegrees: 0 });
  function rig() {
    const asked: { key: string; signal: AbortSignal; answer: (labels: ContourLabel[]) => void }[] =
      [];
    const request: RequestLabels = ({ z, x, y }, signal) =>
      new Promise((answer) => asked.push({ key: `${z}/${x}/${y}`, signal, answer }));
    const shown: (readonly ContourLabel[])[] = [];
    const keeper = new LabelKeeper(request, (labels) => shown.push(labels));
    const settle = () => new Promise((next) => setTimeout(next));
    return { asked, shown, keeper, settle };
  }

  test('those in sight of the ground, once; old ones stay until all new ones are there', async () => {
    const { asked, shown, keeper, settle } = rig();
    keeper.setView({ zoom: 10.2, bounds: [-96, 41, -94, 43] });
    keeper.setOn(true);
    expect(asked).toEqual([]);
    keeper.setGround({ version: '1', bounds });
    // Longitude 0.2° at zoom 10 (0.35° a chunk) and its latitude: one chunk or two each way.
    expect(asked.length).toBeGreaterThan(0);
    expect(asked.length).toBeLessThanOrEqual(4);
    const first = asked.length;
    for (const { answer } of asked) answer([label('900')]);
    await settle();
    expect(shown.at(-1)).toHaveLength(first);
    keeper.setView({ zoom: 11, bounds: [-96, 41, -94, 43] });
    expect(asked.length).toBeGreaterThan(first);
    expect(shown.at(-1)).toHaveLength(first);
    keeper.setView({ zoom: 10, bounds: [-96, 41, -94, 43] });
    // Found again, and what was out of sight was given up.
    expect(asked.slice(first).every(({ signal }) => signal.aborted)).toBe(true);
    expect(shown.at(-1)).toHaveLength(first);
  });

  test('another ground forgets; off asks for nothing', async () => {
    const { asked, shown, keeper, settle } = rig();
    keeper.setView({ zoom: 10, bounds: [-96, 41, -94, 43] });
    keeper.setOn(true);
    keeper.setGround({ version: '1', bounds });
    const first = asked.length;
    for (const { answer } of asked) answer([label('900')]);
    await settle();
    keeper.setGround({ version: '2', bounds });
    expect(shown.at(-1)).toEqual([]);
    expect(asked.length).toBe(2 * first);
    keeper.setOn(false);
    expect(asked.slice(first).every(({ signal }) => signal.aborted)).toBe(true);
    keeper.setView({ zoom: 12, bounds: [-96, 41, -94, 43] });
    expect(asked.length).toBe(2 * first);
  });
});
