import { describe, expect, it } from 'vitest';
import { debrisCells } from '../../geo/debris/debris-cells.ts';
import { heapPile, outlineHeapVolume } from '../../geo/debris/heap-solid.ts';
import { nearestFirst } from '../../geo/debris/nearest-first.ts';
import { pileVolume } from '../../geo/debris/pile-shapes.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { seeded } from '../seeded.ts';

describe('nearestFirst', () => {
  it('places and leaves over exactly what there was, never more than there is room for', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const random = seeded(seed);
      const place = () => ({ x: random() * 100, y: random() * 100 });
      const sources = Array.from({ length: 20 }, () => ({ ...place(), cubicMeters: random() * 9 }));
      const sinks = Array.from({ length: 4 }, () => {
        const at = place();
        return {
          cubicMeters: random() < 0.2 ? Infinity : random() * 30,
          distanceTo: (x: number, y: number) => Math.hypot(x - at.x, y - at.y),
        };
      });
      const { placed, left } = nearestFirst(sources, sinks, 20 + random() * 100);
      const sum = (of: Iterable<number>) => [...of].reduce((all, one) => all + one, 0);
      const there = sum(sources.map(({ cubicMeters }) => cubicMeters));
      expect(Math.abs(sum(placed) + sum(left) - there), `seed ${seed}`).toBeLessThan(1e-9 * there);
      sinks.forEach(({ cubicMeters }, i) => expect(placed[i]!).toBeLessThanOrEqual(cubicMeters + 1e-9)); // prettier-ignore
    }
  });
  it('takes the shorter push first and leaves what is out of reach', () => {
    // By hand: the near source fills the sink, the far one keeps what is over, the third is too far.
    const at = (x: number) => ({ x, y: 0, cubicMeters: 10 });
    const sink = { cubicMeters: 15, distanceTo: (x: number) => Math.abs(x) };
    const { placed, left } = nearestFirst([at(40), at(5), at(90)], [sink], 50);
    expect([...placed]).toEqual([15]);
    expect([...left]).toEqual([5, 0, 10]);
  });
});

it('cells share a block’s debris evenly and lie inside it', () => {
  const ring: XY[] = [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
    [0, 0],
  ];
  const cells = debrisCells([ring], 500, 10_000, 25);
  expect(cells).toHaveLength(25);
  expect(cells.reduce((sum, { cubicMeters }) => sum + cubicMeters, 0)).toBeCloseTo(500, 9);
  expect(cells[1]!.x - cells[0]!.x).toBeCloseTo(20, 9);
  const sliver: XY[] = [
    [0, 0],
    [100, 0.001],
    [50, 0],
    [0, 0],
  ];
  expect(
    debrisCells([sliver], 5, 0.02, 25).reduce((sum, one) => sum + one.cubicMeters, 0),
  ).toBeCloseTo(5, 12);
});

describe('a heap', () => {
  const numbers = { lengthMeters: 12, widthMeters: 6, heightMeters: 3, farWidthMeters: null, farHeightMeters: null, taped: false, toBurn: false }; // prettier-ignore
  it('makes each published shape of its numbers (PNW-GTR-364 forms, handbook §2, by hand)', () => {
    const volume = (shape: Parameters<typeof heapPile>[0]['shape']) =>
      pileVolume(heapPile({ ...numbers, shape })!);
    expect(volume('paraboloid')).toBeCloseTo((Math.PI * 3 * 12 * 6) / 8, 9);
    expect(volume('half-sphere')).toBeCloseTo((2 / 3) * Math.PI * 27, 9);
    expect(volume('half-cylinder')).toBeCloseTo((Math.PI * 6 * 12 * 3) / 4, 9);
    expect(volume('half-ellipsoid')).toBeCloseTo((Math.PI * 6 * 12 * 3) / 6, 9);
    expect(volume('irregular')).toBeCloseTo(12 * 6 * 3, 9);
    expect(heapPile({ ...numbers, shape: 'paraboloid', heightMeters: null })).toBeNull();
  });
  it('known by outline and height alone is a hip roof 1 to 1 cut off at its height', () => {
    const square: XY[] = [
      [0, 0],
      [20, 0],
      [20, 20],
      [0, 20],
      [0, 0],
    ];
    // Frustum of a pyramid by hand: 3/3 × (400 + 196 + √(400 × 196)) = 876 m³.
    expect(outlineHeapVolume([square], 3) / 876).toBeCloseTo(1, 2);
    expect(outlineHeapVolume([square], 0)).toBe(0);
  });
});
