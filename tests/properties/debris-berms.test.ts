import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bendLoss } from '../../geo/debris/berm-bends.ts';
import { solidParts } from '../../geo/debris/berm-parts.ts';
import { bermHeightAt, bermSolids } from '../../geo/debris/berm-solid.ts';
import { lengthForVolume, sectionForVolume, type BermLimits } from '../../geo/debris/berm-solve.ts';
import { bermPieces, bermVolume, partLength, partVolume } from '../../geo/debris/berm-volume.ts';
import { debrisMass, usualChoices } from '../../geo/debris/debris-mass.ts';
import { debrisVolume, usualPiling } from '../../geo/debris/debris-volume.ts';
import { checkTally, rowFromBasalArea, rowsFromStrip } from '../../geo/debris/tally-rows.ts';
import type { TallyRow } from '../../geo/debris/timber-mass.ts';
import { raiseRidge } from '../../geo/ground/earthworks.ts';
import { bandAround, lineLength } from '../../geo/plan/line-geometry.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { frame } from '../construct-rig.ts';
import { sideRun } from '../../geo/debris/windrow-sections.ts';
import { problemOf, valueOf } from '../result-value.ts';

const runs = { seed: 20_261_201, numRuns: 300 };
const shape = fc.constantFrom('triangle', 'parabola', 'half-ellipse', 'trapezoid');
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const limits = fc.record<BermLimits>({
  sideRun: number(0.3, 4),
  maxHeightMeters: number(0.5, 5),
  maxWidthMeters: fc.option(number(1, 30)),
});

describe('a berm solved for', () => {
  test('volume is what is placed and what is left over, to 1e-6', () => {
    fc.assert(
      fc.property(
        shape,
        fc.array(number(0, 200), { minLength: 1, maxLength: 12 }),
        number(0, 8000),
        limits,
        (form, parts, volume, within) => {
          const fit = sectionForVolume(form, parts, volume, within);
          if (!fit.ok) {
            expect(['berm-all-gaps', 'berm-shorter-than-ends']).toContain(problemOf(fit));
            return;
          }
          const { section, placedCubicMeters, leftOverCubicMeters, cure } = fit.value;
          expect(Math.abs(placedCubicMeters + leftOverCubicMeters - volume)).toBeLessThan(1e-6);
          expect(Math.abs(bermVolume(section, parts) - placedCubicMeters)).toBeLessThan(1e-6);
          expect(section.heightMeters).toBeLessThanOrEqual(within.maxHeightMeters);
          expect(section.baseWidthMeters).toBeLessThanOrEqual(
            (within.maxWidthMeters ?? 1e9) + 1e-9,
          );
          if (section.heightMeters > 0) expect(sideRun(section)).toBeCloseTo(within.sideRun, 9);
          expect(cure !== null).toBe(leftOverCubicMeters > 0);
          if (!cure) return;
          const longest = Math.max(...parts);
          const longer = parts.map((part) => part);
          longer[parts.indexOf(longest)] = longest + cure.longerMeters;
          expect(Math.abs(bermVolume(section, longer) - volume)).toBeLessThan(1e-6);
          if (!cure.widerSection) return;
          expect(bermVolume(cure.widerSection, parts) - volume).toBeGreaterThan(-1e-6);
          expect(cure.widerSection.baseWidthMeters).toBeGreaterThan(section.baseWidthMeters);
        },
      ),
      runs,
    );
  });

  test('more gaps never less height', () => {
    const gap = fc.record({ stationMeters: number(0, 200), widthMeters: number(1, 12) });
    fc.assert(
      fc.property(
        shape,
        fc.array(gap, { maxLength: 5 }),
        gap,
        number(1, 3000),
        (form, gaps, more, volume) => {
          const of = (all: typeof gaps) => {
            const parts = solidParts(200, all).map(([from, to]) => to - from);
            const within = { sideRun: 1.33, maxHeightMeters: 30, maxWidthMeters: null };
            return sectionForVolume(form, parts, volume, within);
          };
          const [before, after] = [of(gaps), of([...gaps, more])];
          if (!before.ok || !after.ok) return;
          expect(after.value.section.heightMeters).toBeGreaterThanOrEqual(
            before.value.section.heightMeters - 1e-9,
          );
        },
      ),
      runs,
    );
  });

  test('length and volume undo each other; pieces hold the whole', () => {
    fc.assert(
      fc.property(shape, number(2, 15), number(0.5, 4), number(0.1, 400), (form, w, h, length) => {
        const section = { shape: form, baseWidthMeters: w, heightMeters: h };
        const volume = partVolume(section, length);
        expect(partLength(section, volume)).toBeCloseTo(length, 6);
        const solved = lengthForVolume(section, volume);
        if (length > w) expect(valueOf(solved)).toBeCloseTo(length, 6);
        else if (length < w - 1e-9) expect(problemOf(solved)).toBe('berm-shorter-than-ends');
        const pieces = bermPieces(section, [[5, 5 + length]], 10);
        const sum = pieces.reduce((all, { cubicMeters }) => all + cubicMeters, 0);
        expect(sum).toBeCloseTo(volume, 6);
        expect(pieces.at(-1)!.toMeters).toBeCloseTo(5 + length, 9);
      }),
      runs,
    );
  });

  test('what cannot be is refused in plain words', () => {
    const within = { sideRun: 1.5, maxHeightMeters: 3, maxWidthMeters: null };
    const of = (parts: number[], volume: number, more: Partial<BermLimits> = {}) =>
      problemOf(sectionForVolume('triangle', parts, volume, { ...within, ...more }));
    expect(of([], 100)).toBe('berm-all-gaps');
    expect(of([0, 0], 100)).toBe('berm-all-gaps');
    expect(of([3], 100)).toBe('berm-shorter-than-ends');
    expect(of([30], -1)).toBe('number-out-of-range');
    expect(of([30], NaN)).toBe('number-out-of-range');
    expect(of([NaN], 10)).toBe('number-out-of-range');
    expect(of([30], 10, { sideRun: 0 })).toBe('number-out-of-range');
    expect(of([30], 10, { maxHeightMeters: NaN })).toBe('number-out-of-range');
    expect(of([30], 10, { maxWidthMeters: -2 })).toBe('number-out-of-range');
  });
});

describe('a berm as a solid', () => {
  type XY = readonly [number, number];
  /** What lies on level ground, summed over cells, m³, and how much ground it lies on, m². */
  function onGrid(solids: ReturnType<typeof bermSolids>, line: readonly XY[], berm: number) {
    // Fifty cells across it, on no line of theirs.
    const [cell, margin] = [berm / 50, berm / 2 + 0.1234];
    const [xs, ys] = [line.map((p) => p[0]), line.map((p) => p[1])];
    const [west, north] = [Math.min(...xs) - margin, Math.max(...ys) + margin];
    const width = Math.ceil((Math.max(...xs) + margin - west) / cell);
    const height = Math.ceil((north - Math.min(...ys) + margin) / cell);
    const place = { west, north, width, height, cellWidth: cell, cellHeight: cell };
    const grid = makeGrid(place, new Float32Array(width * height), frame);
    const out = grid.data.slice();
    for (const solid of solids) raiseRidge(grid, out, solid);
    const [x, y] = [line[0]![0] + 0.37, line[0]![1] + 0.41];
    const at = Math.floor((north - y) / cell) * width + Math.floor((x - west) / cell);
    const centre = (index: number, side: number) => (index + 0.5) * cell * side;
    const [cx, cy] = [west + centre(at % width, 1), north + centre(Math.floor(at / width), -1)];
    expect(bermHeightAt(solids, cx, cy)).toBeCloseTo(out[at]!, 5);
    let [volume, area] = [0, 0];
    for (const z of out) {
      volume += z * cell * cell;
      if (z > 0) area += cell * cell;
    }
    return { volume, area };
  }

  /** A walk of pieces, each turned off the last. */
  function walk(start: number, pieces: readonly (readonly [length: number, turn: number])[]): XY[] {
    let [x, y, heading] = [0, 0, start];
    const line: XY[] = [[0, 0]];
    for (const [length, turn] of pieces) {
      heading += turn;
      line.push([(x += length * Math.cos(heading)), (y += length * Math.sin(heading))]);
    }
    return line;
  }

  const gaps = fc.array(
    fc.record({ stationMeters: number(0, 60), widthMeters: number(2, 9) }),
    { maxLength: 5 }, // prettier-ignore
  );

  test('straight, with any gaps: on a grid it holds what berm-volume says, within 1 %', () => {
    fc.assert(
      fc.property(
        shape,
        number(3, 9),
        number(0.5, 4),
        number(0, 6),
        gaps,
        (form, w, h, at, open) => {
          const line = walk(at, [[60, 0]]);
          const berm = { section: form, baseWidthMeters: w, heightMeters: h, gaps: open } as const;
          const parts = solidParts(60, open).map(([from, to]) => to - from);
          // A part of a few cells is not to be had to 1 %.
          fc.pre(parts.every((part) => part > 3) && parts.length > 0);
          const solids = bermSolids(line, berm);
          const { volume, area } = onGrid(solids, line, w);
          const said = bermVolume({ shape: form, baseWidthMeters: w, heightMeters: h }, parts);
          expect(Math.abs(volume / said - 1)).toBeLessThan(0.01);
          const ground = parts.reduce((sum, length) => {
            const across = Math.min(length, w);
            return sum + (length - across) * across + (Math.PI / 4) * across * across;
          }, 0);
          expect(Math.abs(area / ground - 1)).toBeLessThan(0.01);
          const drawn = solids.map((solid) => bandAround(solid.line, 2 * solid.halfWidth, 'round'));
          const sheet = drawn.reduce((sum, ring) => sum + Math.abs(shoelace(ring)), 0);
          expect(Math.abs(sheet / ground - 1)).toBeLessThan(0.01);
        },
      ),
      { ...runs, numRuns: 60 },
    );
  });

  test('bent: what berm-volume says, less what its bends take, within 1 %', () => {
    const pieces = fc.array(fc.tuple(number(20, 35), number(-1.6, 1.6)), { minLength: 2, maxLength: 3 }); // prettier-ignore
    fc.assert(
      fc.property(
        shape,
        number(3, 9),
        number(0.5, 4),
        number(0, 6),
        pieces,
        (form, w, h, at, all) => {
          const line = walk(at, all);
          const section = { shape: form, baseWidthMeters: w, heightMeters: h };
          const loss = bendLoss(line, section);
          // Pieces that come near each other again share their ground.
          fc.pre(loss.ok && !loss.value.isBound);
          fc.pre(all.length === 2 || Math.hypot(line[3]![0], line[3]![1]) > 3 * w);
          const berm = { section: form, baseWidthMeters: w, heightMeters: h, gaps: [] };
          const { volume } = onGrid(bermSolids(line, berm), line, w);
          const said = bermVolume(section, [lineLength(line)]) - loss.value.lossCubicMeters;
          expect(Math.abs(volume / said - 1)).toBeLessThan(0.01);
        },
      ),
      { ...runs, numRuns: 40 },
    );
  });

  test('nothing of a line without length, a berm without width, or one all gaps', () => {
    const berm = { section: 'parabola' as const, baseWidthMeters: 7, heightMeters: 2, gaps: [] };
    expect(bermSolids([[1, 1], [1, 1]], berm)).toEqual([]); // prettier-ignore
    expect(bermSolids([], berm)).toEqual([]);
    expect(bermSolids([[0, 0], [50, 0]], { ...berm, baseWidthMeters: 0 })).toEqual([]); // prettier-ignore
    const open = [{ stationMeters: 25, widthMeters: 60 }];
    expect(bermSolids([[0, 0], [50, 0]], { ...berm, gaps: open })).toEqual([]); // prettier-ignore
  });

  function shoelace(ring: readonly XY[]): number {
    return ring.reduce((sum, [x, y], i) => {
      const [nx, ny] = ring[(i + 1) % ring.length]!;
      return sum + (x * ny - nx * y) / 2;
    }, 0);
  }
});

describe('a tally', () => {
  const row: TallyRow = { speciesGroup: 'pine', diameterMeters: 0.2, stemsPerHectare: 300, soldShare: 0 }; // prettier-ignore
  const of = (change: Partial<TallyRow>) => problemOf(checkTally([{ ...row, ...change }]));

  test('of nothing, of too much, or in another unit is refused', () => {
    expect(problemOf(checkTally([]))).toBe('tally-empty');
    expect(of({ stemsPerHectare: 0 })).toBe('tally-empty');
    expect(of({ stemsPerHectare: 247_105, diameterMeters: 0.05 })).toBe('tally-too-dense');
    // 20 and 30 cm typed where inches are asked.
    expect(of({ stemsPerHectare: 600, diameterMeters: 20 * 0.0254 })).toBe('tally-diameter-unit');
    expect(of({ stemsPerHectare: 12_000, diameterMeters: 0.4 })).toBe('tally-too-dense');
    for (const value of [NaN, -1, Infinity]) {
      expect(of({ stemsPerHectare: value })).toBe('number-out-of-range');
      expect(of({ diameterMeters: value })).toBe('number-out-of-range');
      expect(of({ soldShare: value })).toBe('number-out-of-range');
      expect(problemOf(rowFromBasalArea('pine', value, 0.2))).toBe('number-out-of-range');
      const counts = [{ speciesGroup: 'pine', diameterMeters: 0.2, count: 5 }] as const;
      expect(problemOf(rowsFromStrip(counts, value, 10))).toBe('number-out-of-range');
    }
    expect(problemOf(rowsFromStrip([], 100, 10))).toBe('tally-empty');
  });

  test('leaves no more than stood, roots apart; every choice moves it its own way', () => {
    const group = fc.constantFrom('pine', 'hard-maple-oak-hickory-beech', 'cedar-larch');
    const rows = fc.array(
      fc.record({
        speciesGroup: group,
        diameterMeters: number(0.03, 0.6),
        stemsPerHectare: number(1, 40),
        soldShare: number(0, 1),
      }),
      { minLength: 1, maxLength: 6 },
    ) as fc.Arbitrary<TallyRow[]>;
    fc.assert(
      fc.property(rows, (tally) => {
        const mass = (change: Partial<typeof usualChoices>) =>
          valueOf(debrisMass(tally, 10_000, { ...usualChoices, ...change }));
        const known = { stumps: 'pulled', tops: 'kept' } as const;
        const { kilograms, steps, byGroup } = mass(known);
        expect(steps.sold + steps.broken).toBeLessThanOrEqual(steps.standing * (1 + 1e-12));
        expect(kilograms.low).toBeLessThanOrEqual(kilograms.likely);
        expect(kilograms.likely).toBeLessThanOrEqual(kilograms.high);
        const groups = [...byGroup.values()].reduce((sum, part) => sum + part, 0);
        expect(groups / kilograms.likely).toBeCloseTo(1, 9);
        const lower = [mass({ ...known, stumps: 'left' }), mass({ ...known, tops: 'hauled' })];
        for (const one of lower) {
          expect(one.kilograms.likely).toBeLessThanOrEqual(kilograms.likely * (1 + 1e-12));
          expect(one.kilograms.likely).toBeGreaterThanOrEqual(0);
        }
        const unknown = mass({});
        expect(unknown.kilograms.likely).toBeCloseTo(kilograms.likely, 6);
        expect(unknown.kilograms.low).toBeLessThanOrEqual(kilograms.low + 1e-6);
        const brittle = mass({ ...known, brittleTops: { low: 1.2, likely: 1.5, high: 2 } });
        expect(brittle.kilograms.likely).toBeGreaterThanOrEqual(kilograms.likely - 1e-6);
        const counted = mass({ ...known, countErrorShare: 0.2 });
        expect(counted.kilograms.low).toBeLessThan(kilograms.low);
        const volume = valueOf(debrisVolume(kilograms, byGroup, usualPiling, 10_000));
        const { low, likely, high } = volume.looseCubicMeters;
        expect(low).toBeLessThan(likely);
        expect(likely).toBeLessThan(high);
        expect(volume.soilLostMeters!.likely).toBeCloseTo((0.1 * likely) / 1.25 / 10_000, 12);
        expect(volume.truckLoads.likely).toBeCloseTo(likely / 9.174658, 9);
      }),
      { ...runs, numRuns: 100 },
    );
  });

  test('choices and piling out of bounds are refused', () => {
    const mass = (change: object, area = 1000) =>
      problemOf(debrisMass([row], area, { ...usualChoices, ...change }));
    expect(mass({}, 0)).toBe('number-out-of-range');
    expect(mass({ rootShare: { low: 0.5, likely: 0.7, high: 1.2 } })).toBe('number-out-of-range');
    expect(mass({ rootShare: { low: 0.8, likely: 0.7, high: 0.9 } })).toBe('low-above-high');
    expect(mass({ countErrorShare: NaN })).toBe('number-out-of-range');
    const one = { low: 1, likely: 1, high: 1 };
    const volume = (change: object, cleared: number | null = null) =>
      problemOf(debrisVolume(one, new Map([['pine', 1]]), { ...usualPiling, ...change }, cleared));
    expect(volume({ packing: { low: 0, likely: 0.1, high: 0.2 } })).toBe('number-out-of-range');
    expect(volume({ soilShare: { low: 0, likely: 0.1, high: 1 } })).toBe('number-out-of-range');
    expect(volume({ truckLoadCubicMeters: 0 })).toBe('number-out-of-range');
    expect(volume({}, 0)).toBe('number-out-of-range');
  });
});
