import { describe, expect, test } from 'vitest';
import { bestSites, siteBand, type SitingJob } from '../../geo/approach/siting.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { shotRing, type ShotQuestion } from '../../geo/sight/shot-ring.ts';
import { shotStretches, type ShotStretch } from '../../geo/sight/shot-stretches.ts';
import { airPools } from '../../geo/wind/air-pools.ts';
import { usualDriftRule as rule } from '../../geo/wind/drift-rule.ts';
import {
  poolCells,
  pooledScent,
  pooledVerdict,
  type PooledScent,
} from '../../geo/wind/pooled-scent.ts';
import { scentDrift } from '../../geo/wind/scent-drift.ts';
import { seatReach, type ProtectedGround } from '../../geo/wind/seat-reach.ts';
import { windVerdict } from '../../geo/wind/wind-verdict.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

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
    };
    const band = finish(siteBand(job));
    const choice = {
      apartMeters: 30,
      count: 3,
      standing: [],
      isClear: () => true,
      isOther: ([ax, ay]: XY, [bx, by]: XY) => Math.hypot(ax - bx, ay - by) >= 30,
    };
    return { ...band, best: bestSites(band, choice) };
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

describe('where evening air stands, and whose scent with it', () => {
  test('20 slopes with four berms, three quarters each: pools, ways into them, verdicts; more ground never better', () => {
    const rank = { works: 2, marginal: 1, 'does-not': 0 };
    let [reached, protectedToo, asked, ties] = [0, 0, 0, 0];
    for (let seed = 1; seed <= 20; seed++) {
      const random = seeded(100 + seed);
      // A slope of 5 % that waves do not turn back: only the berms hold air, and no flat leaves a choice.
      const [toward, phase] = [2 * Math.PI * random(), 7 * random()];
      const berms = Array.from({ length: 4 }, () => [30 + 180 * random(), 30 + 180 * random(), 15 + 20 * random()]); // prettier-ignore
      const heightAt = (x: number, y: number) => {
        const down = x * Math.sin(toward) + y * Math.cos(toward);
        const slope = -0.05 * down + 0.6 * Math.sin(x / 40 + phase) + 0.5 * Math.cos(y / 35);
        const isBerm = berms.some(([bx, by, r]) => {
          const below = (x - bx!) * Math.sin(toward) + (y - by!) * Math.cos(toward);
          return Math.abs(Math.hypot(x - bx!, y - by!) - r!) < 3 && below > -r! / 3;
        });
        return slope + (isBerm ? 3 : 0);
      };
      let grid = gridOf({ width: SIDE, height: SIDE, west: 0, north: SIDE }, heightAt);
      let seats = Array.from({ length: 6 }, (): XY => [SIDE * random(), SIDE * random()]);
      let grounds = Array.from({ length: 4 }, (_, k): ProtectedGround => {
        const [x, y, r] = [SIDE * random(), SIDE * random(), 10 + 25 * random()];
        const path = Array.from({ length: 5 }, (_u, i): XY => [x + r * Math.sin(i * 1.25), y + r * Math.cos(i * 1.25)]); // prettier-ignore
        return { id: `g${k}`, shape: { kind: k === 3 ? 'line' : 'area', paths: [path] } };
      });
      const heldOf = () => {
        const of = finish(airPools(grid));
        const cells = poolCells(of, grounds);
        return seats.map((seat) => pooledScent(of, cells, seat, 150));
      };
      const first = heldOf();
      for (let quarters = 1; quarters <= 3; quarters++) {
        grid = turnGrid(grid);
        seats = seats.map(turn);
        grounds = grounds.map(({ id, shape }) => ({ id, shape: { ...shape, paths: turnAll(shape.paths) } })); // prettier-ignore
        heldOf().forEach((pools, i) => {
          const was = first[i]!;
          asked++;
          const key = ({ share, grounds: held }: PooledScent) =>
            [Math.round(9 * share), ...held.map((one) => `${one.id} ${one.meters.toFixed(4)} ${one.share.toFixed(6)}`)].join(' '); // prettier-ignore
          // Equal neighbours: the lowest index, which does not turn. In a puddle that air passes over a
          // way may take the other shore, and now and then end elsewhere.
          if (pools.map(key).sort().join() !== was.map(key).sort().join()) return void ties++;
          expect(pooledVerdict(pools)).toBe(pooledVerdict(was));
          pools.forEach(({ meters }, k) => expect(Math.abs(meters - was[k]!.meters)).toBeLessThan(3)); // prettier-ignore
        });
      }
      const of = finish(airPools(grid));
      for (const seat of seats) {
        let before = 3;
        for (let k = 0; k <= grounds.length; k++) {
          const pools = pooledScent(of, poolCells(of, grounds.slice(0, k)), seat, 150);
          const now = rank[pooledVerdict(pools)];
          expect(now).toBeLessThanOrEqual(before);
          before = now;
        }
        if (before < 2) protectedToo++;
      }
      reached += first.filter((pools) => pools.length > 0).length;
    }
    // 16 of 360, and one or two ways of nine in each.
    expect(ties / asked).toBeLessThan(0.05);
    expect(reached).toBeGreaterThan(30);
    expect(protectedToo).toBeGreaterThan(8);
  });
});
