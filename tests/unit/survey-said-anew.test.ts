import { describe, expect, test } from 'vitest';
import type { SiteLowSpots, SiteStorm } from '../../geo/answers/answers.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import type { Answer } from '../../geo/answers/answers.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { AnswerGraph } from '../../geo/answers/graph.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { defaultConditions } from '../../geo/plan/conditions.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { bermOf, groundOf, plotOf, standOf } from '../answers-rig.ts';
import { gridOf } from '../terrain-grids.ts';

/** What is said of a survey after it was opened: every answer is as if it had been said at once. */

// A slope of 2 % with two bowls: 0.3 m deep under the slope's own line, and 0.9 m.
const bowl = (dx: number, dy: number, deep: number, radius: number) =>
  Math.min(0, deep * (Math.hypot(dx, dy) / radius - 1));
const plain = gridOf({ width: 80, height: 60 }, (x, y) =>
  240 - 0.02 * x + bowl(x - 20, y - 30, 0.4, 8) + bowl(x - 55, y - 30, 1.2, 10)); // prettier-ignore
const frame = openFrame(plain.frame);
const grid = makeGrid(plain, plain.data, frame);
const withError = (verticalErrorMeters: number | null): GroundInUse =>
  groundOf(grid, frame, { verticalErrorMeters, sourceCellMeters: 1.6 });
const place = (x: number, y: number) => frame.toLngLat(plain.west + x, plain.north - 60 + y);
const features = [
  bermOf('berm', [place(62, 10), place(62, 50)]),
  standOf('stand', place(40, 20)),
  plotOf('plot', [[place(8, 12), place(70, 12), place(70, 48), place(8, 48)]]),
];
// Doubt takes long and is asked for by its own tests; so is the wind.
const asked = definitions.filter(({ name }) => name !== 'spotsSure');

function opened() {
  const graph = new AnswerGraph(asked);
  graph.setSettings(defaultSettings);
  graph.setConditions(defaultConditions);
  graph.setFeatures(features);
  const values = new Map<string, unknown>();
  const settle = (one: { name: string; featureId: string | null; shown: boolean; value: unknown }) => {
    if (one.shown) values.set(`${one.name} ${one.featureId ?? ''}`, one.value);
  }; // prettier-ignore
  return (ground: GroundInUse) => {
    graph.setRasters({ ground });
    for (let job = graph.next(settle); job; job = graph.next(settle)) {
      const work = job.begin();
      let step = work.next();
      while (!step.done) step = work.next();
      graph.done(job, step.value, settle);
    }
    return new Map(values);
  };
}

describe('the vertical error of a survey that is open', () => {
  const [assumed, fine] = [opened()(withError(null)), opened()(withError(0.05))];
  const listed = (of: ReadonlyMap<string, unknown>) => {
    const spots = (of.get('lowSpots ') as Answer<SiteLowSpots>).value.lowSpots.map(({ id }) => id);
    const pools = (of.get('storm ') as Answer<SiteStorm>).value.pools.map(({ id }) => id);
    expect(pools).toEqual(spots);
    return spots;
  };

  test('the bowls are such that it matters: one is shallower than the 0.5 m assumed for cells of 1.6 m', () => {
    expect(listed(assumed)).toEqual(['P1']);
    expect(listed(fine)).toEqual(['P1', 'P2']);
  });

  test.each([
    ['stated', [null, 0.05]],
    ['taken back', [0.05, null]],
    ['stated, taken back and stated', [null, 0.05, null, 0.05]],
  ] as const)('%s: every answer is as if it had been so at once', (_, errors) => {
    const open = opened();
    let now = new Map<string, unknown>();
    for (const error of errors) now = open(withError(error));
    const anew = errors.at(-1) === null ? assumed : fine;
    expect([...now.keys()].sort()).toEqual([...anew.keys()].sort());
    for (const [key, value] of anew) expect([key, now.get(key)]).toEqual([key, value]);
  });
});
