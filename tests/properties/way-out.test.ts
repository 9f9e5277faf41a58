import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { drainPath, pathLine, type DrainPathOptions } from '../../geo/water/drain-path.ts';
import { fairNotch } from '../../geo/water/fair-notch.ts';
import { fillDepressions } from '../../geo/water/fill-depressions.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { cutNotch, designNotch, type NotchDesign } from '../../geo/water/notch.ts';
import { finish } from '../../geo/work.ts';
import { neighbours } from '../priority-flood.ts';
import { seeded } from '../seeded.ts';
import { gridOf } from '../terrain-grids.ts';

// Invariants of the way out on seeded rough grounds, and the least cost against a slow search.

const runs = { seed: 20160830, numRuns: 150 };
const seeds = fc.integer({ min: 1, max: 1e9 });
const section = { bottomWidthMeters: 2, sideRun: 3, gradeRatio: 0.005 };

interface Site {
  readonly ground: Grid;
  readonly filled: Float32Array;
  readonly labels: Int32Array;
  readonly start: number;
}

/** Rough ground with cells of 0.5 to 4 m, holes without data, and its largest spot; null for none. */
function site(seed: number): Site | null {
  const next = seeded(seed);
  const cell = 0.5 * 2 ** Math.floor(4 * next());
  const shape = { width: 8 + Math.floor(next() * 16), height: 8 + Math.floor(next() * 16) };
  const phase = next() * 6;
  const ground = gridOf({ ...shape, cellWidth: cell, cellHeight: cell }, (x, y) => {
    const [u, v] = [x / cell, y / cell];
    return 100 + 0.4 * Math.sin(u / 2.1 + phase) + 0.4 * Math.cos(v / 1.9) + 0.15 * next();
  });
  for (let i = 0; i < ground.data.length; i++) if (next() < 0.01) ground.data[i] = NaN;
  const filled = finish(fillDepressions(ground));
  const { spots, labels } = finish(findLowSpots(ground, filled));
  return spots.length === 0 ? null : { ground, filled, labels, start: spots[0]!.deepestCell };
}

function search({ ground, filled, start }: Site, options: Partial<DrainPathOptions> = {}) {
  return finish(drainPath(ground, filled, { start, section, ...options }));
}

function randomMask(length: number, seed: number): Uint8Array {
  const next = seeded(seed + 1);
  return Uint8Array.from({ length }, () => (next() < 0.08 ? 1 + Math.floor(next() * 4) : 0));
}

const onSites = (check: (at: Site, seed: number) => void) =>
  fc.assert(
    fc.property(seeds, (seed) => {
      const at = site(seed);
      if (at) check(at, seed);
    }),
    runs,
  );

/** Fill depth left anywhere, against the same ground with a drain in the spot's deepest cell. */
function expectDry({ ground, labels, start }: Site, design: NotchDesign): void {
  const out = ground.data.slice();
  cutNotch(ground, design, out);
  const after = finish(fillDepressions({ ...ground, data: out }));
  expect(after[start]).toBe(out[start]);
  const drained = ground.data.slice();
  drained[start] = NaN;
  const least = finish(fillDepressions({ ...ground, data: drained }));
  for (let i = 0; i < out.length; i++) {
    if (i === start || labels[i] !== labels[start]) continue;
    expect(after[i]!).toBeLessThanOrEqual(least[i]!);
    expect(out[i]!).toBeLessThanOrEqual(ground.data[i]!);
  }
}

describe('ways out of low spots on seeded grounds', () => {
  test('each cell beside the last, none barred, none deeper or longer than allowed', () => {
    let ways = 0;
    let refused = 0;
    onSites((at, seed) => {
      const blocked = randomMask(at.ground.data.length, seed);
      const found = search(at, { blocked, maxCutMeters: 1.2, maxLengthMeters: 60 });
      if (!found.ok) {
        refused++;
        expect(found.blockedBy.length > 0).toBe(found.problem.code === 'way-out-blocked');
        return;
      }
      ways++;
      const { cells, lengthMeters } = found.value;
      const { width, height, data } = at.ground;
      expect(cells[0]).toBe(at.start);
      expect(lengthMeters).toBeLessThanOrEqual(60);
      for (let i = 0; i < cells.length; i++) {
        expect(blocked[cells[i]!]).toBe(0);
        if (i > 0) expect(neighbours(cells[i - 1]!, width, height)).toContain(cells[i]!);
        expect(data[cells[i]!]! - data[at.start]!).toBeLessThanOrEqual(1.2);
      }
    });
    expect(ways).toBeGreaterThan(30);
    expect(refused).toBeGreaterThan(10);
  });

  test('a spot shut in is blocked by what shuts it in', () => {
    onSites((at) => {
      const blocked = new Uint8Array(at.ground.data.length).fill(3);
      blocked[at.start] = 0;
      const found = search(at, { blocked });
      if (!search(at).ok) return;
      expect(found.ok ? null : [found.problem.code, found.blockedBy]).toEqual([
        'way-out-blocked',
        [3],
      ]);
    });
  });

  test('the bottom falls all along, volumes are in order, and the spot is dry', () => {
    let notches = 0;
    onSites((at) => {
      const found = search(at);
      if (!found.ok) return;
      notches++;
      const way = pathLine(at.ground, found.value.cells);
      const options = { section, startBottomMeters: at.ground.data[at.start]! };
      for (const notch of [
        designNotch(at.ground, way, options),
        fairNotch(at.ground, way, options),
      ]) {
        const design = finish(notch);
        const { stations, bankCubicMeters: bank, looseCubicMeters: loose } = design;
        for (let i = 1; i < stations.length; i++) {
          const fall = stations[i - 1]!.bottomMeters - stations[i]!.bottomMeters;
          const run = stations[i]!.stationMeters - stations[i - 1]!.stationMeters;
          expect(fall).toBeGreaterThan(0);
          expect(Math.abs(fall - 0.005 * run)).toBeLessThan(1e-9);
        }
        expect(bank.low).toBeGreaterThanOrEqual(0);
        expect(bank.likely).toBeGreaterThanOrEqual(bank.low);
        expect(bank.high).toBeGreaterThanOrEqual(bank.likely);
        expect(loose.likely).toBeCloseTo(1.25 * bank.likely, 9);
        if (found.value.endsAt === 'lower-ground') expectDry(at, design);
      }
    });
    expect(notches).toBeGreaterThan(60);
  });

  test('seen in a mirror, the way costs and the notch takes the same', () => {
    onSites((at) => {
      const found = search(at);
      const turned = mirror(at);
      const other = search(turned);
      expect(other.ok).toBe(found.ok);
      if (!found.ok || !other.ok) return;
      expect(other.value.cutCubicMeters).toBeCloseTo(found.value.cutCubicMeters, 4);
      const way = pathLine(at.ground, found.value.cells);
      const width = at.ground.width * at.ground.cellWidth;
      const back = way.map(([x, y]): [number, number] => [2 * at.ground.west + width - x, y]);
      const a = finish(designNotch(at.ground, way, { section }));
      const b = finish(designNotch(turned.ground, back, { section }));
      expect(b.bankCubicMeters.likely).toBeCloseTo(a.bankCubicMeters.likely, 4);
      expect(b.maxCutMeters).toBeCloseTo(a.maxCutMeters, 6);
    });
  });

  test('without a grade the cost is the least there is (slow search over all ways)', () => {
    const level = { ...section, gradeRatio: 0 };
    onSites((at) => {
      const found = search(at, { section: level, maxCutMeters: 50, maxLengthMeters: 1e3 });
      expect(found.ok).toBe(true);
      if (!found.ok) return;
      const least = slowLeastCost(at, level);
      expect(Math.abs(found.value.cutCubicMeters / least - 1)).toBeLessThan(1e-5);
    });
  });
});

function mirror({ ground, filled, labels, start }: Site): Site {
  const { width } = ground;
  const there = (i: number) => i - (i % width) + width - 1 - (i % width);
  const data = ground.data.map((_, i) => ground.data[there(i)]!);
  return {
    ground: { ...ground, data },
    filled: filled.map((_, i) => filled[there(i)]!),
    labels: labels.map((_, i) => labels[there(i)]!),
    start: there(start),
  };
}

/** Bellman–Ford: every edge again and again until nothing gets cheaper. */
function slowLeastCost(
  { ground, filled, start }: Site,
  { bottomWidthMeters: b, sideRun: s }: typeof section,
) {
  const { width, height, data, cellWidth } = ground;
  const bottom = data[start]!;
  const area = (i: number) => {
    const cut = Math.max(0.01, data[i]! - bottom);
    return b * cut + s * cut * cut;
  };
  const cost = new Float64Array(data.length).fill(Infinity);
  cost[start] = 0;
  const out = (i: number) => {
    const near = neighbours(i, width, height);
    return filled[i]! <= bottom || near.length < 8 || near.some((j) => Number.isNaN(data[j]!));
  };
  for (let changed = true; changed;) {
    changed = false;
    for (let i = 0; i < data.length; i++) {
      if (cost[i] === Infinity) continue;
      for (const j of neighbours(i, width, height)) {
        if (Number.isNaN(data[j]!)) continue;
        const straight = Math.abs(i - j) === 1 || Math.abs(i - j) === width;
        const step = (cellWidth * (straight ? 1 : Math.SQRT2) * (area(i) + area(j))) / 2;
        if (cost[i]! + step < cost[j]! - 1e-12) {
          cost[j] = cost[i]! + step;
          changed = true;
        }
      }
    }
  }
  let least = Infinity;
  for (let i = 0; i < data.length; i++)
    if (data[i] === data[i] && out(i)) least = Math.min(least, cost[i]!);
  return least;
}
