import { expect, test } from 'vitest';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { parseFeature, type PlanFeature, type Position } from '../../geo/plan/feature.ts';
import { lineLength, placeAt } from '../../geo/plan/line-geometry.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { answersOf, groundOf, neededFor, plotOf, standOf } from '../answers-rig.ts';
import { gridOf } from '../terrain-grids.ts';

// Level ground: a dwelling drawn as a point on the straight way from the truck to the stand.
const plain = gridOf({ width: 240, height: 240 }, () => 60);
const frame = openFrame(plain.frame);
const ground = groundOf(makeGrid(plain, plain.data, frame), frame);
const at = (x: number, y: number): Position => frame.toLngLat(plain.west + x, plain.north - 240 + y) as Position; // prettier-ignore

function point(id: string, kind: PlanFeature['kind'], x: number, y: number, properties: object) {
  const shell = { type: 'Feature', id, kind, name: id, locked: false, hidden: false };
  const made = parseFeature({ ...shell, geometry: { type: 'Point', coordinates: at(x, y) }, properties }); // prettier-ignore
  if (!made.ok) throw new Error(made.problem.what);
  return made.value;
}

const house = (x: number, y: number, use: string) => point('house', 'structure', x, y, { use });
const stand = standOf('S', at(200, 120));
const plot = plotOf('field', [[at(205, 20), at(230, 20), at(230, 60), at(205, 60)]]);

/** The nearest that any way in or out comes to a place, metres. */
function nearest(access: XY, house: PlanFeature, [x, y]: XY): number {
  const truck = point('truck', 'access-point', ...access, { use: 'truck' });
  const { winds, out } = answersOf([stand, plot, house, truck], ground, { lanesFor: 'S' }, neededFor('standLanes')).site.standLanes!.value; // prettier-ignore
  const lanes = [...winds.flatMap(({ best, second }) => [best, second]), out].flatMap((lane) => lane ?? []); // prettier-ignore
  expect(lanes.length).toBeGreaterThan(4);
  let least = Infinity;
  for (const { line } of lanes) {
    const flat = line.map(([lng, lat]): XY => frame.fromLngLat(lng, lat));
    for (let station = 0; station < lineLength(flat); station += 0.5) {
      const [px, py] = placeAt(flat, station).at;
      least = Math.min(least, Math.hypot(px - plain.west - x, py - (plain.north - 240 + y)));
    }
  }
  return least;
}

test('no way in comes within 50 ft of a house drawn as a point; a well may be walked past', () => {
  expect(nearest([40, 120], house(120, 120, 'dwelling'), [120, 120])).toBeGreaterThan(15.24 * 0.99);
  expect(nearest([40, 120], house(120, 120, 'well'), [120, 120])).toBeLessThan(5);
});

test('a truck parked 30 ft from the house is not shut in by it', () => {
  const near = nearest([49, 120], house(40, 120, 'cabin'), [40, 120]);
  expect(near).toBeGreaterThan(4 * 0.99);
  expect(near).toBeLessThan(9.1);
});
