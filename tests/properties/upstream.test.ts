import { describe, expect, test } from 'vitest';
import { fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { endsAt, FlowBuffers, flowCatchments } from '../../geo/water/flow-lines.ts';
import { NO_DATA } from '../../geo/water/pointer-codes.ts';
import { FlowSplit } from '../../geo/water/flow-split.ts';
import { Upstream } from '../../geo/water/upstream.ts';
import { finish } from '../../geo/work.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

/** What drains to a place, walked up, against what flow that is passed down brings there. */

function flowOf(ground: Grid) {
  const filled = finish(fillBasins(ground, finish(findBasins(ground))));
  const buffers = new FlowBuffers();
  const flow = finish(flowCatchments(ground, filled, { buffers }));
  return { filled, flow, split: new FlowSplit(ground, filled, buffers.ways, buffers.shares) };
}

/** Of the water of each cell, how much comes to the targets: followed down from each by itself. */
function sharesDown({ data }: Grid, split: FlowSplit, targets: ReadonlySet<number>): Float64Array {
  const known = new Float64Array(data.length).fill(NaN);
  const shareOf = (cell: number): number => {
    if (targets.has(cell)) return 1;
    if (!Number.isNaN(known[cell]!)) return known[cell]!;
    const streams = split.from(cell);
    const to = [...split.to.slice(0, streams)];
    const parts = [...split.share.slice(0, streams)];
    return (known[cell] = to.reduce((sum, next, k) => sum + parts[k]! * shareOf(next), 0));
  };
  return Float64Array.from(data, (z, cell) => (Number.isNaN(z) ? 0 : shareOf(cell)));
}

describe('what drains to a place', () => {
  test('is as much as flow brings there, on 60 seeded grounds, level ground and holes among them', () => {
    let walked = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const next = seeded(seed);
      const shape = { width: 24, height: 21, cellWidth: 1 + (seed % 2), cellHeight: 1 };
      const ground = roughGrid(shape, seed, {
        noise: 2,
        holes: seed % 4 === 0,
        ...(seed % 3 === 0 ? { stepsPerMeter: 1 } : {}),
      });
      const { filled, flow, split } = flowOf(ground);
      const upstream = new Upstream(ground, filled, flow.pointers);
      for (let i = 0; i < 4; i++) {
        const cell = Math.floor(next() * ground.data.length);
        if (flow.pointers[cell] === NO_DATA) continue;
        const { areaSquareMeters, cells } = finish(upstream.into([cell]));
        expect(Math.abs(areaSquareMeters / flow.areaSquareMeters[cell]! - 1)).toBeLessThan(1e-9);
        // No cell that is left out sends more of its water there than one that is taken.
        const shares = sharesDown(ground, split, new Set([cell]));
        const taken = new Set(cells);
        const least = Math.min(...[...taken].map((one) => shares[one]!));
        const most = Math.max(0, ...shares.filter((_, one) => !taken.has(one)));
        expect(most - least).toBeLessThan(1 / 4096);
        walked++;
      }
      // Two places together, one below the other or not: none counts twice.
      const pair = [Math.floor(next() * 200), 210 + Math.floor(next() * 200)];
      if (pair.some((cell) => flow.pointers[cell] === NO_DATA)) continue;
      const both = finish(upstream.into(pair)).areaSquareMeters;
      const down = sharesDown(ground, split, new Set(pair)).reduce((sum, share) => sum + share, 0);
      expect(both / ground.cellGroundAreaSquareMeters).toBeCloseTo(down, 6);
    }
    expect(walked).toBeGreaterThan(150);
  });

  test('of all places where water leaves is all ground there is', () => {
    const ground = roughGrid({ width: 40, height: 33 }, 7, { noise: 1, holes: true });
    const { filled, flow } = flowOf(ground);
    const ends = [...flow.pointers.keys()].filter((cell) => endsAt(flow.pointers[cell]!));
    const { areaSquareMeters, cells } = finish(new Upstream(ground, filled, flow.pointers).into(ends)); // prettier-ignore
    const all = ground.data.filter((z) => !Number.isNaN(z)).length;
    expect(areaSquareMeters).toBeCloseTo(all, 6);
    expect(cells.length).toBe(all);
  });

  test('on a plane is the strip above it; in a V-shaped draw the two sides (geometry)', () => {
    const plane = gridOf({ width: 31, height: 40 }, (_, y) => 0.1 * y);
    const { filled, flow } = flowOf(plane);
    const strip = finish(new Upstream(plane, filled, flow.pointers).into([30 * 31 + 15]));
    expect([...strip.cells].every((cell) => cell % 31 === 15)).toBe(true);
    // The row on the rim drains off.
    expect(strip.cells.length).toBe(30);
    // Sides fall 0.1 across, the draw 0.05 along: what lies up to 2 m over for each metre up comes.
    const draw = gridOf({ width: 61, height: 60 }, (x, y) => 0.05 * y + 0.1 * Math.abs(x - 30.5));
    const of = flowOf(draw);
    const row = 40;
    const { cells } = finish(new Upstream(draw, of.filled, of.flow.pointers).into([row * 61 + 30]));
    for (const cell of cells) {
      const [across, up] = [Math.abs((cell % 61) - 30), row - Math.floor(cell / 61)];
      expect(across).toBeLessThanOrEqual(2 * up + 3);
    }
    const inside = (2 * 30 * 30) / 2 / 2 + (40 - 15) * 60;
    expect(Math.abs(cells.length / inside - 1)).toBeLessThan(0.1);
  });
});
