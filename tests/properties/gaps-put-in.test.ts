import { expect, test } from 'vitest';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { answersOf, bermOf, groundOf, neededFor } from '../answers-rig.ts';
import { seeded } from '../seeded.ts';
import { gridOf } from '../terrain-grids.ts';

/** Gaps that are offered are all that is asked for: put in, none is, and what was said to be left is. */

const SIDE = 90;
const CELL = 1.5;

/** A slope with draws and hummocks of several sizes, from a seed. */
function roughSlope(random: () => number) {
  const waves = Array.from({ length: 12 }, () => {
    const long = 12 + 60 * random();
    const turn = 2 * Math.PI * random();
    return [Math.cos(turn) / long, Math.sin(turn) / long, 2 * Math.PI * random(), long * 0.006] as const; // prettier-ignore
  });
  const plain = gridOf({ width: SIDE, height: SIDE, cellWidth: CELL, cellHeight: CELL }, (x, y) =>
    waves.reduce((z, [kx, ky, at, high]) => z + high * Math.sin(2 * Math.PI * (kx * x + ky * y) + at), 250 - 0.02 * x - 0.01 * y)); // prettier-ignore
  const frame = openFrame(plain.frame);
  return groundOf(makeGrid(plain, plain.data, frame), frame, { verticalErrorMeters: 0.05 });
}

const wanted = neededFor('damming', 'lettingGaps');

test('on 24 seeded grounds', () => {
  const random = seeded(11);
  let offered = 0;
  let left = 0;
  for (let run = 0; run < 24; run++) {
    const ground = roughSlope(random);
    const { grid, frame } = ground;
    const corner = (x: number) => frame.toLngLat(grid.west + x * SIDE * CELL, grid.north - (0.2 + 0.6 * random()) * SIDE * CELL); // prettier-ignore
    const berm = bermOf('berm', [corner(0.15), corner(0.5), corner(0.85)]) as PlanFeature<'berm'>;
    const of = (gaps: PlanFeature<'berm'>['properties']['gaps']) =>
      answersOf([{ ...berm, properties: { ...berm.properties, gaps } }], ground, {}, wanted)
        .features['berm']!;
    const { gaps, ...said } = of([]).lettingGaps!.value;
    offered += gaps.length;
    left += said.leftAreaSquareMeters > 0 ? 1 : 0;
    const put = gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters }));
    const after = of(put);
    const again = after.lettingGaps!.value;
    expect([run, again.gaps]).toEqual([run, []]);
    expect(again).toEqual({ ...said, gaps: [] });
    const dams = after.damming!.value;
    expect(dams.areaSquareMeters).toBeCloseTo(said.leftAreaSquareMeters, 6);
    expect(dams.maxDepthMeters).toBeCloseTo(said.leftMaxDepthMeters, 6);
    const whole = of([]).damming!.value.volumeCubicMeters;
    expect(said.isThrough).toBe(dams.volumeCubicMeters <= 0.1 * whole);
  }
  // It was not for nothing.
  expect(offered).toBeGreaterThan(24);
  expect(left).toBeGreaterThan(2);
}, 60_000);
