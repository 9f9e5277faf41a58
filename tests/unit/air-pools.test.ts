import { describe, expect, test } from 'vitest';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { cellAt } from '../../geo/raster/sample.ts';
import { airPools, airWay, usualAirPools, type AirPools } from '../../geo/wind/air-pools.ts';
import { poolCells, pooledScent, pooledVerdict } from '../../geo/wind/pooled-scent.ts';
import { usualDriftRule as rule } from '../../geo/wind/drift-rule.ts';
import type { SeasonHours } from '../../geo/wind/season-hours.ts';
import { seatReach, type ProtectedGround } from '../../geo/wind/seat-reach.ts';
import { judgeSeason } from '../../geo/wind/stand-season.ts';
import { EVENING } from '../../geo/wind/sun-parts.ts';
import { finish } from '../../geo/work.ts';
import { priorityFlood } from '../priority-flood.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const box = (id: string, west: number, south: number, east: number, north: number) =>
  ({
    id,
    shape: { kind: 'area', paths: [[[west, south], [east, south], [east, north], [west, north]]] }, // prettier-ignore
  }) as const satisfies ProtectedGround;
const place = { west: 0, north: 200 };

/** Falls 4 % to the south between steep sides at x 70 and 130; a wall 2 m high at y 40 to 44. */
const trough = (gap: readonly [number, number] | null, wall = 2) =>
  gridOf({ width: 200, height: 200, ...place }, (x, y) => {
    const sides = Math.max(0, Math.abs(x - 100) - 30) * 0.5;
    const isWall = y > 40 && y < 44 && !(gap && x > gap[0] && x < gap[1]);
    return 100 + 0.04 * y + sides + (isWall ? wall : 0);
  });
const poolsOn = (grid: Grid) => finish(airPools(grid));

describe('where evening air stands', () => {
  test('behind a wall across a trough: as far up as the wall is high over 4 %', () => {
    const { pools, filled, labels } = poolsOn(trough(null));
    expect(pools).toHaveLength(1);
    // Air must get over the wall's highest row, at y 43.5: 103.74; the foot is at y 44.5, 101.78.
    expect(pools[0]!.spillElevationMeters).toBeCloseTo(103.74, 4);
    expect(pools[0]!.maxDepthMeters).toBeCloseTo(103.74 - 101.78, 4);
    // Up the trough to where 100 + 0.04 y is as high: y 93.5.
    const inPool = (y: number) => labels[cellAt(filled, 100.5, y)] !== 0;
    expect([44.5, 60.5, 92.5, 94.5, 42.5].map(inPool)).toEqual([true, true, true, false, false]);
  });

  test('a gap lets it out; a low wall and a small bowl hold none', () => {
    expect(poolsOn(trough([98, 102])).pools).toEqual([]);
    // A wall holds its own height less a row's fall: 0.30 and 0.31 m, about a foot (0.3048).
    expect(poolsOn(trough(null, 0.34)).pools).toEqual([]);
    expect(poolsOn(trough(null, 0.35)).pools).toHaveLength(1);
    const bowl = (reach: number) =>
      poolsOn(
        gridOf({ width: 60, height: 60, west: 0, north: 60 }, (x, y) =>
          Math.hypot(x - 30, y - 30) < reach ? 9 : 10,
        ),
      ).pools;
    // π 5² is 79 m², π 6² is 113 m²: between them lies the least area.
    expect(bowl(5).length).toBe(0);
    expect(bowl(6.5)).toHaveLength(1);
  });

  test('20 rough grounds: depths are those of a priority flood wherever it counts', () => {
    let cells = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const grid = roughGrid({ width: 120, height: 120, west: 0, north: 120 }, seed);
      const { filled, labels, pools } = poolsOn(grid);
      const reference = priorityFlood(grid.data, 120, 120).filled;
      expect(filled.data).toEqual(reference);
      for (let i = 0; i < labels.length; i++) {
        if (labels[i] === 0) continue;
        cells++;
        expect(reference[i]!).toBeGreaterThan(grid.data[i]!);
        expect(reference[i]!).toBe(pools[labels[i]! - 1]!.spillElevationMeters);
      }
      for (const pool of pools) {
        expect(pool.maxDepthMeters).toBeGreaterThanOrEqual(usualAirPools.leastDepthMeters);
        expect(pool.areaSquareMeters).toBeGreaterThanOrEqual(usualAirPools.leastAreaSquareMeters);
      }
    }
    expect(cells).toBeGreaterThan(1000);
  });
});

describe('the way that air takes', () => {
  test('straight down a plane, whichever way it falls', () => {
    for (let toward = 0; toward < 360; toward += 7) {
      const turn = (toward * Math.PI) / 180;
      const plane = gridOf({ width: 200, height: 200, ...place }, (x, y) => {
        return 100 - 0.05 * (x * Math.sin(turn) + y * Math.cos(turn));
      });
      const { pool, line } = airWay(poolsOn(plane), [100.2, 99.7], 80);
      expect(pool).toBeNull();
      const [x, y] = line.at(-1)!;
      const [east, north] = [x - 100.2, y - 99.7];
      expect(Math.hypot(east, north)).toBeGreaterThan(80);
      // Off the fall line by no more than a cell.
      expect(Math.abs(east * Math.cos(turn) - north * Math.sin(turn))).toBeLessThan(1);
    }
  });

  test('down the trough into the pool, out through a gap, and over what is too shallow', () => {
    const from: XY = [80, 150];
    const held = airWay(poolsOn(trough(null)), from, 274);
    expect(held.pool).toBe(0);
    expect(held.line.at(-1)![1]).toBeLessThan(94.5);
    expect(held.line.at(-1)![1]).toBeGreaterThan(91);
    for (const open of [trough([98, 102]), trough(null, 0.34)]) {
      const way = airWay(poolsOn(open), from, 274);
      expect(way.pool).toBeNull();
      expect(way.line.at(-1)![1]).toBeLessThan(3);
    }
    // Out of range before it comes there.
    expect(airWay(poolsOn(trough(null)), from, 40).pool).toBeNull();
    // In it from the start; off the ground nothing.
    expect(airWay(poolsOn(trough(null)), [100, 60], 274)).toEqual({ pool: 0, line: [[100, 60]] });
    expect(airWay(poolsOn(trough(null)), [-5, 60], 274)).toEqual({ pool: null, line: [[-5, 60]] });
  });

  test('on 20 rough grounds it ends, and the filled ground never rises along it', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const random = seeded(seed);
      const of = poolsOn(roughGrid({ width: 120, height: 120, west: 0, north: 120 }, seed, { holes: seed % 2 === 0 })); // prettier-ignore
      for (let k = 0; k < 30; k++) {
        const { pool, line } = airWay(of, [120 * random(), 120 * random()], 274);
        const heights = line.map(([x, y]) => of.filled.data[cellAt(of.filled, x, y)]!);
        const known = heights.filter((z) => !Number.isNaN(z));
        known.forEach((z, i) => i > 0 && expect(z).toBeLessThanOrEqual(known[i - 1]!));
        const last = cellAt(of.filled, ...line.at(-1)!);
        if (pool !== null) expect(of.labels[last]).toBe(pool + 1);
      }
    }
  });
});

describe('scent that stands in a pool', () => {
  const scentFrom = (of: AirPools, grounds: readonly ProtectedGround[], seat: XY, range = 274) =>
    pooledScent(of, poolCells(of, grounds), seat, range);

  test('from a seat up the trough: all ways lead there, the plot in it by its share and distance', () => {
    const of = poolsOn(trough(null));
    const grounds = [box('plot', 90, 60, 110, 70), box('above', 90, 100, 110, 120)];
    const [pool, ...more] = scentFrom(of, grounds, [100, 150]);
    expect(more).toEqual([]);
    expect(pool!.share).toBe(1);
    expect(pool!.meters).toBeGreaterThan(55.5);
    expect(pool!.meters).toBeLessThan(59);
    expect(pool!.grounds.map(({ id }) => id)).toEqual(['plot']);
    expect(pool!.grounds[0]!.share).toBeCloseTo(200 / of.pools[0]!.cells, 9);
    // From y 150 down to the middle of the plot's topmost cells, half a cell aside.
    expect(pool!.grounds[0]!.meters).toBeCloseTo(Math.hypot(80.5, 0.5), 6);
    expect(pooledVerdict([pool!])).toBe('does-not');
    // A corridor is a line: it is reached, and has no share of the pool.
    const corridor: ProtectedGround = { id: 'corridor', shape: { kind: 'line', paths: [[[0, 60.5], [200, 60.5]]] } }; // prettier-ignore
    expect(scentFrom(of, [corridor], [100, 150])[0]!.grounds[0]).toMatchObject({ id: 'corridor', share: 0 }); // prettier-ignore
  });

  test('nothing protected in it, out of range, let out by a gap, in the pool itself', () => {
    const of = poolsOn(trough(null));
    const [bare] = scentFrom(of, [], [100, 150]);
    expect(bare!.grounds).toEqual([]);
    expect(pooledVerdict([bare!])).toBe('works');
    expect(scentFrom(of, [], [100, 150], 30)).toEqual([]);
    expect(scentFrom(poolsOn(trough([98, 102])), [box('plot', 90, 60, 110, 70)], [100, 150])).toEqual([]); // prettier-ignore
    const [inside] = scentFrom(of, [box('plot', 90, 60, 110, 70)], [100, 65]);
    expect(inside).toMatchObject({ meters: 0, share: 1, way: [[100, 65]] });
    expect(() => scentFrom(of, [], [100, 65], 0)).toThrow(RangeError);
  });

  test('fewer than half of the ways: marginal', () => {
    // Seat on the trough's side, over its edge some ways leave the other way.
    const ridge = gridOf({ width: 200, height: 200, ...place }, (x, y) => {
      const far = Math.abs(x - 100);
      return 100 + 0.02 * y + (far < 30 ? 0 : far < 60 ? (far - 30) * 0.3 : 9 - (far - 60) * 0.3) + (y > 40 && y < 44 ? 3 : 0); // prettier-ignore
    });
    const of = poolsOn(ridge);
    const plot = [box('plot', 90, 50, 110, 60)];
    const [low] = scentFrom(of, plot, [157, 120]);
    expect(low!.share).toBeGreaterThan(0.5);
    const [high] = scentFrom(of, plot, [166, 120]);
    expect(high!.share).toBeLessThan(0.5);
    expect(high!.share).toBeGreaterThan(0);
    expect([pooledVerdict([low!]), pooledVerdict([high!])]).toEqual(['does-not', 'marginal']);
  });
});

test('over a season: the hours in which air drains are judged with the pool, all others as before', () => {
  const count = 240;
  const random = seeded(3);
  const hours: SeasonHours = {
    count,
    timeSeconds: Float64Array.from({ length: count }, (_, i) => 3600 * i),
    part: new Uint8Array(count).fill(EVENING),
    week: new Uint8Array(count),
    day: new Uint16Array(count),
    fromDegrees: Float32Array.from({ length: count }, () => 360 * random()),
    speedMetersPerSecond: Float32Array.from({ length: count }, () => 4 * random()),
    cloudShare: new Float32Array(count),
    stability: Array.from({ length: count }, () => 'D' as const),
    seasons: [2024],
    stepDegrees: 10,
  };
  const kinds = ['down', 'up', null] as const;
  const slopeAir = (hour: number) => {
    const kind = kinds[hour % 3]!;
    return kind && { kind, towardDegrees: kind === 'down' ? 180 : 0, speedMetersPerSecond: 0.9 };
  };
  const reach = seatReach([0, 0], [box('east', 50, -20, 90, 20)], rule.rangeMeters);
  const seat = { reach, windShare: 0.8, isSheltered: false, slopeAir };
  const before = judgeSeason(hours, seat, rule).verdict;
  for (const [pooled, least] of [
    ['works', 0],
    ['marginal', 1],
    ['does-not', 2],
  ] as const) {
    const after = judgeSeason(hours, { ...seat, pooled }, rule).verdict;
    for (let i = 0; i < count; i++) {
      expect(after[i]).toBe(i % 3 === 0 ? Math.max(before[i]!, least) : before[i]);
    }
  }
  expect(new Set(before).size).toBe(3);
});
