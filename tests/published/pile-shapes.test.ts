import { describe, expect, test } from 'vitest';
import { bendLoss } from '../../geo/debris/berm-bends.ts';
import { bermVolume, partVolume } from '../../geo/debris/berm-volume.ts';
import { sectionHeight } from '../../geo/debris/section-height.ts';
import { heightShareAfter } from '../../geo/debris/settlement.ts';
import {
  checkPile,
  pileHeight,
  pileHeightAt,
  pileOutline,
  pileVolume,
  type PileShape,
} from '../../geo/debris/pile-shapes.ts';
import {
  roundEndsVolume,
  sectionArea,
  sectionOfHeight,
  sideRun,
  toeSlope,
} from '../../geo/debris/windrow-sections.ts';
import { problemOf, valueOf } from '../result-value.ts';

/**
 * Handbook §2: the shapes of PNW-GTR-364 figure 1, with the handbook's own inputs, feet. A half
 * frustum 40 long, 16 and 12 wide, is 8 and 6 high.
 */
const frustum = { length: 40, width: 16, height: 8, width2: 12, height2: 6 };
const published: readonly [PileShape, number][] = [
  [{ kind: 'half-sphere', height: 6 }, 452.39],
  [{ kind: 'paraboloid', width: 20, height: 8 }, 1256.64],
  [{ kind: 'half-cylinder', width: 20, length: 40, height: 8 }, 5026.55],
  [{ kind: 'half-frustum', ...frustum }, 3099.7],
  [{ kind: 'half-frustum-rounded', ...frustum }, 3862.06],
  [{ kind: 'half-ellipsoid', width: 20, length: 30, height: 10 }, 3141.59],
  [{ kind: 'irregular', length: 30, length2: 26, width: 20, width2: 18, height: 8, height2: 6 }, 3724], // prettier-ignore
];

/** Of a pile on cells so long, summed with heights at their middles. */
function rasterised(heightAt: (x: number, y: number) => number, reach: number, cell: number) {
  let sum = 0;
  for (let x = -reach + cell / 2; x < reach; x += cell) {
    for (let y = -reach + cell / 2; y < reach; y += cell) sum += heightAt(x, y) * cell * cell;
  }
  return sum;
}

describe('the seven pile shapes', () => {
  test.each(published)('$kind: volume, solid on a grid, outline', (shape, volume) => {
    expect(pileVolume(shape)).toBeCloseTo(volume, 1);
    const onGrid = rasterised((x, y) => pileHeightAt(shape, x, y), 32, 0.25);
    expect(Math.abs(onGrid / volume - 1)).toBeLessThan(0.01);
    expect(valueOf(checkPile(shape))).toBe(shape);
    // The outline is where the height ends.
    const outline = pileOutline(shape);
    for (const [x, y] of outline) {
      expect(pileHeightAt(shape, 0.97 * x, 0.97 * y)).toBeGreaterThan(0);
      expect(pileHeightAt(shape, 1.01 * x, 1.01 * y)).toBe(0);
    }
    const area = rasterised((x, y) => Number(pileHeightAt(shape, x, y) > 0), 32, 0.25);
    expect(Math.abs(shoelace(outline) / area - 1)).toBeLessThan(0.01);
    expect(shoelace(outline)).toBeGreaterThan(0);
    expect(pileHeight(shape)).toBe(shape.height);
  });

  test('a measure that is none is refused', () => {
    for (const height of [0, -1, NaN, Infinity]) {
      expect(problemOf(checkPile({ kind: 'half-sphere', height }))).toBe('number-out-of-range');
    }
  });
});

describe('windrow sections', () => {
  const shapes = ['triangle', 'parabola', 'half-ellipse', 'trapezoid'] as const;

  test('20 wide and 6 high: 60, 80, 94.25 (handbook §2); a trapezoid with half a top 90', () => {
    const areas = [60, 80, 94.25, 90];
    shapes.forEach((shape, i) => {
      const section = { shape, baseWidthMeters: 20, heightMeters: 6 };
      expect(sectionArea(section)).toBeCloseTo(areas[i]!, 2);
    });
  });

  test.each(shapes)('%s: area, round ends and sides are those of its drawn profile', (shape) => {
    const section = { shape, baseWidthMeters: 7, heightMeters: 2.5 };
    const at = (d: number) => sectionHeight(shape, 7, 2.5, d);
    let [area, turned] = [0, 0];
    const step = 1e-4;
    for (let d = step / 2; d < 3.5; d += step) {
      area += 2 * at(d) * step;
      turned += 2 * Math.PI * d * at(d) * step;
    }
    expect(sectionArea(section)).toBeCloseTo(area, 4);
    expect(roundEndsVolume(section)).toBeCloseTo(turned, 4);
    const again = sectionOfHeight(shape, 2.5, sideRun(section));
    expect(again.baseWidthMeters).toBeCloseTo(7, 12);
    const toe = at(3.5 - 1e-6) / 1e-6;
    if (shape === 'half-ellipse') expect(toeSlope(section)).toBe(Infinity);
    else expect(toeSlope(section)).toBeCloseTo(toe, 3);
  });
});

describe('a berm', () => {
  const section = { shape: 'parabola', baseWidthMeters: 24, heightMeters: 9 } as const;

  test('of 100 ft: 144 ft² on 76 ft and a paraboloid of 2,035.75 ft³ (handbook §2)', () => {
    expect(partVolume(section, 100)).toBeCloseTo(144 * 76 + 2035.75, 1);
    const heap = pileVolume({ kind: 'paraboloid', width: 24, height: 9 });
    expect(partVolume(section, 24)).toBeCloseTo(heap, 9);
    expect(partVolume(section, 12)).toBeCloseTo(heap / 8, 9);
  });

  test.each([30, 90, 120])(
    'bent by %d°: its union on a grid is what the bend leaves',
    (degrees) => {
      const angle = (degrees * Math.PI) / 180;
      const line = [
        [-60, 0],
        [0, 0],
        [60 * Math.cos(angle), 60 * Math.sin(angle)],
      ] as const;
      const height = (x: number, y: number) => {
        const d = Math.min(distance(line[0], line[1], x, y), distance(line[1], line[2], x, y));
        return sectionHeight('parabola', 24, 9, d);
      };
      const loss = valueOf(bendLoss(line, section));
      // Its ends lie half a width beyond the line here.
      const expected = bermVolume(section, [120 + 24]) - loss.lossCubicMeters;
      expect(Math.abs(rasterised(height, 75, 0.5) / expected - 1)).toBeLessThan(1e-3);
      expect(loss.sharpestDegrees).toBeCloseTo(degrees, 9);
      expect(loss).toMatchObject({ bends: 1, isBound: false });
    },
  );

  test('a right angle takes 139 ft³; a zigzag of short pieces at most their halves', () => {
    const corner = valueOf(bendLoss([[0, 0], [50, 0], [50, 50]], section)); // prettier-ignore
    // (2 tan 45° − π/2) × 2,035.75 / 2π
    expect(corner.lossCubicMeters).toBeCloseTo(139.06, 1);
    const zigzag = [0, 1, 2, 3, 4, 5].map((i) => [5 * i, i % 2 ? 3 : 0] as const);
    const loss = valueOf(bendLoss(zigzag, section));
    expect(loss.isBound).toBe(true);
    expect(loss.lossCubicMeters).toBeLessThanOrEqual(144 * 5 * Math.hypot(5, 3));
  });

  test('a line that crosses itself or has no length is refused', () => {
    const bow = [[0, 0], [10, 10], [10, 0], [0, 10]] as const; // prettier-ignore
    expect(problemOf(bendLoss(bow, section))).toBe('line-crosses-itself');
    const touching = [[0, 0], [10, 0], [10, 10], [5, 0]] as const; // prettier-ignore
    expect(problemOf(bendLoss(touching, section))).toBe('line-crosses-itself');
    for (const line of [
      [],
      [[1, 1]],
      [
        [1, 1],
        [1, 1],
      ],
      [
        [0, 0],
        [NaN, 1],
      ],
    ]) {
      // prettier-ignore
      expect(problemOf(bendLoss(line as [number, number][], section))).toBe('line-too-short');
    }
  });
});

test('settlement: nothing at once, 20 to 40 % in two to three years (trade notes Q39)', () => {
  expect(valueOf(heightShareAfter(0))).toEqual({ low: 1, likely: 1, high: 1 });
  const third = valueOf(heightShareAfter(3));
  expect(third.low).toBeCloseTo(0.6, 12);
  expect(third.high).toBeCloseTo(0.8, 12);
  const second = valueOf(heightShareAfter(2));
  expect(second.low).toBeLessThan(0.66);
  expect(second.high).toBeLessThan(0.83);
  expect(heightShareAfter(9)).toEqual(heightShareAfter(3));
  for (const years of [-1, NaN, Infinity]) {
    expect(problemOf(heightShareAfter(years))).toBe('number-out-of-range');
  }
});

function shoelace(ring: readonly (readonly [number, number])[]): number {
  return ring.reduce((sum, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    return sum + (x * ny - nx * y) / 2;
  }, 0);
}

type XY = readonly [number, number];

function distance(a: XY, b: XY, x: number, y: number): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy);
  const on = Math.min(1, Math.max(0, t));
  return Math.hypot(x - a[0] - on * dx, y - a[1] - on * dy);
}
