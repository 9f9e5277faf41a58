import { expect, test } from 'vitest';
import { fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { fillDepressions } from '../../geo/water/fill-depressions.ts';
import { endsAt, FlowBuffers, flowCatchments } from '../../geo/water/flow-lines.ts';

import { pointerSteps } from '../../geo/water/pointer-codes.ts';
import { FlowSplit } from '../../geo/water/flow-split.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { spotOutlet } from '../../geo/water/spot-outlet.ts';
import { finish } from '../../geo/work.ts';
import { gridOfRows, roughGrid } from '../terrain-grids.ts';
import type { Grid } from '../../geo/raster/grid.ts';

/** Where a full low spot runs over, against the definition of a spill and the slow fill. */

function spotsOf(ground: Grid) {
  const filled = finish(fillBasins(ground, finish(findBasins(ground))));
  const { labels, spots } = finish(findLowSpots(ground, filled));
  const buffers = new FlowBuffers();
  const flow = finish(flowCatchments(ground, filled, { buffers }));
  const split = new FlowSplit(ground, filled, buffers.ways, buffers.shares);
  const outlets = spots.map((_, i) => {
    const cells = [...labels.keys()].filter((cell) => labels[cell] === i + 1);
    return { label: i + 1, cells, outlet: spotOutlet(ground.width, flow, labels, cells) };
  });
  return { filled, labels, spots, flow, split, outlets };
}

test('the one gap in a ring, not the dead end of the same height beside it', () => {
  const ground = gridOfRows([
    [9, 9, 9, 9, 9, 9, 9],
    [9, 9, 6, 9, 9, 9, 9],
    [9, 9, 5, 5, 4, 9, 9],
    [9, 9, 5, 5, 5, 6, 2],
    [9, 9, 9, 9, 9, 9, 9],
  ]);
  const { outlets } = spotsOf(ground);
  expect(outlets.map(({ outlet }) => outlet)).toEqual([3 * 7 + 5]);
});

test('on 120 seeded grounds: as high as the fill, and from it water leads away without a climb', () => {
  let looked = 0;
  for (let seed = 1; seed <= 120; seed++) {
    const shape = { width: 20, height: 17, cellWidth: 1 + (seed % 2), cellHeight: 1 };
    // Coarse steps make level rims, dead ends and equal sills; without them no two cells are equal.
    const stepsPerMeter = seed % 3 === 0 ? undefined : seed % 3;
    const ground = roughGrid(shape, seed, {
      noise: 1.5,
      holes: seed % 4 === 0,
      ...(stepsPerMeter ? { stepsPerMeter } : {}),
    });
    const { filled, labels, spots, flow, split, outlets } = spotsOf(ground);
    const steps = pointerSteps(20);
    for (const { label, cells, outlet } of outlets) {
      const { spillElevationMeters: level, deepestCell } = spots[label - 1]!;
      expect(ground.data[outlet]).toBe(Math.fround(level));
      expect(filled[outlet]).toBe(Math.fround(level));
      expect(cells.some((cell) => steps.includes(outlet - cell))).toBe(true);
      for (let cell = outlet; !endsAt(flow.pointers[cell]!);) {
        const next = cell + steps[flow.pointers[cell]!]!;
        expect(filled[next]!).toBeLessThanOrEqual(filled[cell]!);
        expect(labels[next]).not.toBe(label);
        cell = next;
      }
      // Every stream of D-infinity, to wherever it spreads.
      const reached = new Set([outlet]);
      for (const cell of reached) {
        const streams = split.from(cell);
        for (const next of split.to.slice(0, streams)) {
          expect(filled[next]!).toBeLessThanOrEqual(filled[cell]!);
          expect(labels[next]).not.toBe(label);
          reached.add(next);
        }
      }
      looked++;
      if (stepsPerMeter) continue;
      // No two sills are equal: with this one walled up the spot fills higher.
      const walled = { ...ground, data: ground.data.slice() };
      walled.data[outlet] = 1e4;
      const higher = finish(fillDepressions(walled));
      expect(higher[deepestCell]!).toBeGreaterThan(level);
    }
  }
  expect(looked).toBeGreaterThan(500);
});
