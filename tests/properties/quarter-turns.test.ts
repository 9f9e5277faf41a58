import { describe, expect, test } from 'vitest';
import { siteStands, type SitingJob } from '../../geo/approach/siting.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { shotRing, type ShotQuestion } from '../../geo/sight/shot-ring.ts';
import { shotStretches, type ShotStretch } from '../../geo/sight/shot-stretches.ts';
import { usualDriftRule as rule } from '../../geo/wind/drift-rule.ts';
import { scentDrift } from '../../geo/wind/scent-drift.ts';
import { seatReach, type ProtectedGround } from '../../geo/wind/seat-reach.ts';
import { windVerdict } from '../../geo/wind/wind-verdict.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { roughGrid } from '../terrain-grids.ts';

// Turning the whole world, the sun and the wind with it, by quarters turns every answer and changes
// none. Verdicts: wind-verdict.test.ts; slope air: scent-drift.test.ts; lanes: best-lanes.test.ts.

const SIDE = 240;
/** A quarter anticlockwise about the middle of the square: bearings lose 90 degrees. */
const turn = ([x, y]: XY): XY => [SIDE - y, x];
const turnAll = (rings: readonly (readonly XY[])[]) => rings.map((ring) => ring.map(turn));
function turnGrid(grid: Grid): Grid {
  const data = new Float32Array(grid.data.length);
  for (let row = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++) {
      data[(SIDE - 1 - column) * SIDE + row] = grid.data[row * SIDE + column]!;
    }
  }
  return { ...grid, data };
}
const ground = (seed: number) =>
  roughGrid({ width: SIDE, height: SIDE, west: 0, north: SIDE }, seed, { noise: 0.1 });

describe('which way one may shoot', () => {
  const questionOf = (random: () => number): ShotQuestion => {
    const place = (): XY => [SIDE * (0.2 + 0.6 * random()), SIDE * (0.2 + 0.6 * random())];
    const ringAbout = ([x, y]: XY, reach: number): XY[] =>
      Array.from({ length: 7 }, (_, i) => {
        const r = reach * (0.5 + 0.5 * random());
        return [x + r * Math.sin(i * 0.9), y + r * Math.cos(i * 0.9)];
      });
    return {
      stand: place(),
      muzzleMeters: 3 + 3 * random(),
      targetMeters: 0.9,
      rangeMeters: 60 + 60 * random(),
      backstopMeters: 100 + 100 * random(),
      tract: [ringAbout([SIDE / 2, SIDE / 2], 0.7 * SIDE)],
      targets: random() < 0.5 ? null : [ringAbout(place(), 70), ringAbout(place(), 70)],
      keepClear: [
        { id: 'road', points: [place(), place()], marginDegrees: 7, withinMeters: 120 },
        { id: 'stand', points: [place()], marginDegrees: 5, withinMeters: 150 },
      ],
      directions: 72,
    };
  };
  const turned = (question: ShotQuestion): ShotQuestion => ({
    ...question,
    stand: turn(question.stand),
    tract: turnAll(question.tract),
    targets: question.targets && turnAll(question.targets),
    keepClear: question.keepClear.map((one) => ({ ...one, points: one.points.map(turn) })),
  });

  test('40 rough grounds, three quarters each: direction by direction, stretch by stretch', () => {
    const states = { allowed: 0, blocked: 0, 'no-target': 0 };
    for (let seed = 1; seed <= 40; seed++) {
      const random = seeded(seed);
      let [grid, question] = [ground(seed), questionOf(random)];
      const first = finish(shotRing(grid, question))!;
      const stretches = shotStretches(first);
      for (const way of first) states[way.state]++;
      for (let quarters = 1; quarters <= 3; quarters++) {
        [grid, question] = [turnGrid(grid), turned(question)];
        const ring = finish(shotRing(grid, question))!;
        first.forEach((way, i) => {
          const there = ring[(i + 72 - 18 * quarters) % 72]!;
          const { state, reason, about, blockedFromMeters } = way;
          expect(there, `seed ${seed}, ${way.bearingDegrees}`).toMatchObject({ state, reason, about, blockedFromMeters }); // prettier-ignore
          if (way.backstopMeters === null) expect(there.backstopMeters).toBeNull();
          else expect(there.backstopMeters).toBeCloseTo(way.backstopMeters, 4);
        });
        expect(named(shotStretches(ring), -90 * quarters)).toEqual(named(stretches, 0));
      }
    }
    expect(Math.min(...Object.values(states))).toBeGreaterThan(200);
  });

  /** As text, by where they begin before `turn` was made. */
  function named(stretches: readonly ShotStretch[], degrees: number): string[] {
    return stretches
      .map(({ fromDegrees, toDegrees, state, reason, about }) => {
        const isWhole = toDegrees - fromDegrees === 360;
        const from = isWhole ? 0 : (fromDegrees - degrees + 360) % 360;
        return `${from}+${toDegrees - fromDegrees} ${state} ${reason} ${about}`;
      })
      .sort();
  }
});

describe('where a stand could go', () => {
  /** Its box and the places in and round it fall on the middles of cells, whichever way it is turned. */
  const plot: XY[] = [
    [100.5, 107.3],
    [131.2, 96.5],
    [140.5, 122.9],
    [112.7, 144.5],
  ];
  interface World {
    readonly grid: Grid;
    readonly plot: readonly XY[];
    readonly grounds: readonly ProtectedGround[];
    readonly winds: readonly { readonly fromDegrees: number; readonly weight: number }[];
    /** Walks are worse this way. */
    readonly access: XY;
  }
  const turned = (world: World): World => ({
    grid: turnGrid(world.grid),
    plot: world.plot.map(turn),
    grounds: world.grounds.map(({ id, shape }) => {
      return { id, shape: { ...shape, paths: turnAll(shape.paths) } };
    }),
    winds: world.winds.map((one) => ({ ...one, fromDegrees: (one.fromDegrees + 270) % 360 })),
    access: turn(world.access),
  });
  const site = ({ grid, plot: ring, grounds, winds, access }: World) => {
    const all = winds.reduce((sum, { weight }) => sum + weight, 0);
    const job: SitingJob = {
      ground: grid,
      plot: [ring],
      nearMeters: 2,
      farMeters: 26,
      stepMeters: 4,
      eyeMeters: 4,
      targetMeters: 0.9,
      rangeMeters: 90,
      isAllowed: () => true,
      hoursShareAt: (x, y) => {
        const reach = seatReach([x, y], grounds, rule.rangeMeters);
        const works = winds.filter(({ fromDegrees }) => {
          const air = { fromDegrees, speedMetersPerSecond: 4, stability: 'D', slopeFlow: null, isSheltered: false } as const; // prettier-ignore
          return windVerdict(reach, scentDrift(air, rule), rule).verdict === 'works';
        });
        return works.reduce((sum, { weight }) => sum + weight, 0) / all;
      },
      laneQualityAt: (x, y) => 1 - Math.hypot(x - access[0], y - access[1]) / (3 * SIDE),
      apartMeters: 30,
      count: 3,
    };
    return finish(siteStands(job));
  };

  test('10 rough grounds, three quarters each: every part of every place, and the places chosen', () => {
    let places = 0;
    for (let seed = 1; seed <= 10; seed++) {
      const random = seeded(seed);
      const about = (x: number, y: number): XY[] =>
        Array.from({ length: 5 }, (_, i) => {
          const r = 15 + 25 * random();
          return [x + r * Math.sin(i * 1.25), y + r * Math.cos(i * 1.25)];
        });
      let world: World = {
        grid: ground(seed),
        plot,
        grounds: [
          { id: 'plot', shape: { kind: 'area', paths: [plot] } },
          { id: 'bedding', shape: { kind: 'area', paths: [about(SIDE * random(), SIDE * random())] } }, // prettier-ignore
        ],
        // No two places are likely to tie, and no wind lies on an edge.
        winds: Array.from({ length: 16 }, (_, i) => ({ fromDegrees: 22.5 * i + 3 * random(), weight: random() })), // prettier-ignore
        access: [SIDE * random(), SIDE * random()],
      };
      const first = site(world);
      for (let quarters = 1; quarters <= 3; quarters++) {
        world = turned(world);
        const there = site(world);
        const back = (at: XY) => Array.from({ length: 4 - quarters }).reduce<XY>(turn, at);
        expect(there.score.length).toBe(first.score.length);
        for (let i = 0; i < there.score.length; i++) {
          const column = i % there.width;
          const row = Math.floor(i / there.width);
          const [x, y] = back([there.west + (column + 0.5) * 4, there.north - (row + 0.5) * 4]);
          const here = Math.floor((first.north - y) / 4) * first.width + Math.floor((x - first.west) / 4); // prettier-ignore
          for (const part of ['hours', 'seen', 'lane'] as const) {
            const [was, is] = [first.parts[part][here]!, there.parts[part][i]!];
            if (Number.isNaN(was)) expect(is).toBeNaN();
            else expect(is, `seed ${seed} ${part}`).toBeCloseTo(was, 5);
          }
          if (first.score[here]! > 0) places++;
        }
        expect(there.best.map(({ at }) => back(at).map(Math.round))).toEqual(first.best.map(({ at }) => at.map(Math.round))); // prettier-ignore
        there.best.forEach(({ score, weakest, betterThan }, k) => {
          expect(score).toBeCloseTo(first.best[k]!.score, 5);
          expect(weakest).toBe(first.best[k]!.weakest);
          for (const part of ['hours', 'seen', 'lane'] as const) {
            expect(betterThan[part]).toBeCloseTo(first.best[k]!.betterThan[part], 5);
          }
        });
      }
    }
    expect(places).toBeGreaterThan(2000);
  });
});
