import { describe, expect, test } from 'vitest';
import type { Plantable } from '../../geo/answers/answers.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { bermFootprint, heapFootprint } from '../../geo/debris/footprint.ts';
import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import { blankProperties, type Kind } from '../../geo/plan/kinds.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { overlay } from '../../geo/plan/overlay/overlay.ts';
import { planeArea } from '../../geo/plan/construct/plan-plane.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { answersOf, groundOf } from '../answers-rig.ts';
import { at, frame, line, polygon, rectangle, scale } from '../construct-rig.ts';

/** Takings worked by hand; coordinates are frame metres, so ground metres are × 1/0.9996. */

function drawn(
  id: string,
  kind: Kind,
  geometry: PlanGeometry,
  properties: object = {},
): PlanFeature {
  const shell = { id, kind, name: id, geometry, locked: false, hidden: false };
  return { ...shell, properties: properties as PlanFeature['properties'] };
}
const point = (x: number, y: number): PlanGeometry => ({ type: 'Point', coordinates: at(x, y) });
const berm = (id: string, geometry: PlanGeometry, width: number, gaps: object[] = []) =>
  drawn(id, 'berm', geometry, {
    section: 'parabola',
    baseWidthMeters: width,
    heightMeters: 2.7,
    gaps,
    toBurn: false,
  });
const heap = (id: string, geometry: PlanGeometry, length: number | null, width: number | null) =>
  drawn(id, 'heap', geometry, {
    ...blankProperties('heap'),
    lengthMeters: length,
    widthMeters: width,
    heightMeters: null,
    toBurn: false,
  });
const noGo = (id: string, geometry: PlanGeometry) =>
  drawn(id, 'no-go', geometry, { reason: 'wetland', detail: '' });
const structure = (id: string, geometry: PlanGeometry) =>
  drawn(id, 'structure', geometry, { use: 'barn', ownedBy: 'owner' });
const plot = drawn('plot', 'plot', polygon(rectangle(0, 0, 100, 60)), { weapon: null });

/** 1 m cells round the plot: level, but for a bank of 30 % over x 80 to 100. */
function bankedGround(): GroundInUse {
  const [width, height, west, south] = [200, 160, 499_950, 3_999_950];
  const data = Float32Array.from({ length: width * height }, (_, i) => {
    const x = west + (i % width) + 0.5 - 500_000;
    return x < 80 ? 200 : x > 100 ? 206 : 200 + 0.3 * (x - 80);
  });
  const place = { width, height, west, north: south + height, cellWidth: 1, cellHeight: 1 };
  return groundOf(makeGrid(place, data, frame), frame);
}

function plantableOf(
  features: readonly PlanFeature[],
  ground: GroundInUse | null = null,
  settings: Parameters<typeof answersOf>[2] = {},
): Plantable {
  const bare = { workingStripMeters: 0, ...settings };
  return answersOf([plot, ...features], ground, bare).features['plot'].plantable!.value;
}

const taken = (value: Plantable) => value.taken.map((t) => [t.reason, t.featureId]);
/** Square metres of the frame. */
const inFrame = (ground: number) => ground * scale * scale;

/** Half discs of a part's two ends; chords lie up to 1 cm inside, so that 0.01 πw m² may be missing. */
const disc = (width: number) => (Math.PI / 4) * width * width;

function expectSum(value: Plantable): void {
  const off = value.taken.reduce((sum, t) => sum + t.areaSquareMeters, 0);
  expect(Math.abs(value.plantableSquareMeters + off - value.areaSquareMeters)).toBeLessThan(1e-9);
}

describe('footprints', () => {
  const areaOf = (layer: ReturnType<typeof heapFootprint>) =>
    overlay([layer!], ([inside]) => inside).reduce((sum, part) => sum + planeArea(part), 0);

  test('a straight berm of 100 m, 7 m wide, with one gap of 4 m: 2 × (41 × 7 + π × 3.5²) m²', () => {
    const straight = berm('b', line([0, 0], [100 * scale, 0]), 7, [
      { stationMeters: 50, widthMeters: 4 },
    ]);
    const area = areaOf(bermFootprint(straight as PlanFeature<'berm'>, frame));
    expect(Math.abs(area / inFrame(1) - 2 * (41 * 7 + disc(7)))).toBeLessThan(0.3);
  });

  test('gaps over each other, past the end and all over', () => {
    const of = (gaps: object[]) =>
      areaOf(
        bermFootprint(
          berm('b', line([0, 0], [100 * scale, 0]), 10, gaps) as PlanFeature<'berm'>,
          frame,
        ),
      ) / inFrame(1);
    const gap = (stationMeters: number, widthMeters: number) => ({ stationMeters, widthMeters });
    const parts = (square: number, count: number) => square + count * (disc(10) - 100);
    expect(Math.abs(of([gap(30, 10), gap(36, 10)]) - parts(840, 2))).toBeLessThan(0.6);
    expect(Math.abs(of([gap(0, 10), gap(100, 10)]) - parts(900, 1))).toBeLessThan(0.3);
    // Parts of 4 m are round heaps as wide as they are long.
    expect(Math.abs(of([gap(50, 92)]) - 2 * disc(4))).toBeLessThan(0.2);
    expect(of([gap(50, 200)])).toBe(0);
  });

  test('a bend is round outside and the inside of it counts once', () => {
    const bend = berm('b', line([0, 0], [50, 0], [50, 50]), 10 / scale);
    // Two bands of 45 × 10 share a corner of 5 × 5 inside and gain a quarter disc outside.
    const expected = 2 * 450 - 25 + (5 / 4) * disc(10);
    expect(
      Math.abs(areaOf(bermFootprint(bend as PlanFeature<'berm'>, frame)) - expected),
    ).toBeLessThan(0.3);
    // There and back again along itself.
    const fold = berm('b', line([0, 0], [50, 0], [0, 0.0001]), 10 / scale);
    const folded = areaOf(bermFootprint(fold as PlanFeature<'berm'>, frame));
    // From 5 m to the fold at 50 m and round both: nothing counts twice.
    expect(Math.abs(folded - (450 + disc(10)))).toBeLessThan(0.3);
  });

  test('a heap: π/4 × length × width, long to the east; its outline; nothing without a size', () => {
    const oval = heapFootprint(heap('h', point(0, 0), 20, 8) as PlanFeature<'heap'>, frame)!;
    expect(Math.abs(areaOf(oval) / inFrame(1) - (Math.PI / 4) * 160)).toBeLessThan(1e-4);
    const xs = oval.rings[0].map((p) => p[0] - 500_000);
    expect(Math.max(...xs)).toBeCloseTo(10, 1);
    const outline = heap('h', polygon(rectangle(0, 0, 10, 6)), null, null);
    expect(areaOf(heapFootprint(outline as PlanFeature<'heap'>, frame))).toBeCloseTo(60, 1);
    expect(
      heapFootprint(heap('h', point(0, 0), 20, null) as PlanFeature<'heap'>, frame),
    ).toBeNull();
  });
});

describe('what is taken off', () => {
  test('nothing: the plot’s own area', () => {
    const value = plantableOf([]);
    expect(value.taken).toEqual([]);
    expect(value.plantableSquareMeters).toBe(value.areaSquareMeters);
    expect(Math.abs(inFrame(value.areaSquareMeters) - 6000)).toBeLessThan(0.05);
  });

  test('each of its kind, in order, ground under two of them once', () => {
    const value = plantableOf([
      heap('heap', polygon(rectangle(30, 0, 20, 10)), null, null),
      berm('berm', line([0, 30], [100, 30]), 10 / scale),
      structure('barn', polygon(rectangle(0, 20, 10, 20))),
      noGo('wet', polygon(rectangle(-20, 20, 40, 20))),
    ]);
    expect(taken(value)).toEqual([
      ['no-go', 'wet'],
      ['berm', 'berm'],
      ['heap', 'heap'],
    ]);
    // Wet: 20 × 20; the barn stands in it; the berm 80 × 10 outside it, one end round; the heap 20 × 10.
    const areas = value.taken.map((t) => inFrame(t.areaSquareMeters));
    const end = (disc(10) - 100) / 2;
    expect(Math.abs(areas[0] - 400)).toBeLessThan(0.02);
    expect(Math.abs(areas[1] - (800 + end))).toBeLessThan(0.16);
    expect(Math.abs(areas[2] - 200)).toBeLessThan(0.02);
    expect(Math.abs(inFrame(value.plantableSquareMeters) - (4600 - end))).toBeLessThan(0.2);
    expectSum(value);
  });

  test('a berm half outside takes only its inner half, and its gap stays open', () => {
    const value = plantableOf([
      berm('edge', line([0, 0], [100, 0]), 8 / scale, [
        { stationMeters: 50 / scale, widthMeters: 10 / scale },
      ]),
    ]);
    const expected = (2 * (37 * 8 + disc(8))) / 2;
    expect(Math.abs(inFrame(value.taken[0].areaSquareMeters) - expected)).toBeLessThan(0.3);
  });

  test('things beside the plot take nothing; everything over it leaves nothing', () => {
    const beside = plantableOf([
      noGo('far', polygon(rectangle(200, 0, 50, 50))),
      noGo('touching', polygon(rectangle(100, 0, 50, 60))),
    ]);
    expect(beside.taken).toEqual([]);
    const all = answersOf([plot, noGo('all', polygon(rectangle(-5, -5, 200, 200)))], null);
    const { value, findings } = all.features['plot'].plantable!;
    expect(value.plantableSquareMeters).toBe(0);
    expect(findings.map((f) => f.code)).toEqual(['nothing-plantable']);
  });

  test('a track without a width is said, not guessed', () => {
    const features = [
      structure('track', line([-10, 30], [110, 30])),
      structure('well', point(50, 50)),
      structure('beside', line([-10, 70], [110, 70])),
      heap('heap', point(20, 20), null, null),
    ];
    const { value, findings } = answersOf([plot, ...features], null).features['plot'].plantable!;
    expect(value.taken).toEqual([]);
    expect(value.unknownSizeIds).toEqual(['track', 'well', 'heap']);
    expect(findings).toEqual([
      {
        level: 'note',
        code: 'taking-without-size',
        about: ['plot', 'track', 'well', 'heap'],
        values: { count: 3 },
      },
    ]);
  });

  test('an outline that crosses itself has no answer', () => {
    const bowTie = drawn('plot', 'plot', line([0, 0]), {});
    const crossed: XY[] = [
      [0, 0],
      [40, 40],
      [40, 0],
      [0, 40],
    ];
    const faulty = { ...bowTie, geometry: polygon(crossed) };
    expect(answersOf([faulty], null).features['plot'].plantable).toBeNull();
  });
});

describe('too steep', () => {
  const ground = bankedGround();

  test('a bank of 30 % goes, but for the width of the slope window', () => {
    const value = plantableOf([], ground);
    expect(taken(value)).toEqual([['too-steep', null]]);
    const steep = inFrame(value.taken[0].areaSquareMeters);
    // Planes through 5 cells: at x 79.5 (0 0 0 0.15 0.45) it rises 1.05 / 10 a metre, at 78.5 only
    // 0.3 / 10. So 21 m of bank by 60 m.
    expect(Math.abs(steep - 21 * 60)).toBeLessThan(0.05);
    expect(value.steepJudgedShare).toBeCloseTo(1, 9);
    expectSum(value);
  });

  test('never what something else has taken already', () => {
    const value = plantableOf([noGo('wet', polygon(rectangle(70, 0, 40, 30)))], ground);
    expect(taken(value)).toEqual([
      ['no-go', 'wet'],
      ['too-steep', null],
    ]);
    const whole = plantableOf([], ground).taken[0].areaSquareMeters;
    expect(Math.abs(value.taken[1].areaSquareMeters / whole - 0.5)).toBeLessThan(1e-4);
    expectSum(value);
  });

  test('the setting moves the limit and switches it off', () => {
    expect(plantableOf([], ground, { tooSteepSlope: 0.31 }).taken).toEqual([]);
    const off = plantableOf([], ground, { takeOffTooSteep: false });
    expect(off.taken).toEqual([]);
    expect(off.steepJudgedShare).toBeNull();
    expect(plantableOf([], null).steepJudgedShare).toBe(0);
  });

  test('ground without heights is not called steep, and is said to be unjudged', () => {
    const half = bankedGround();
    const { grid } = half;
    // No heights north of y 30: rows above 160 - 80.
    grid.data.fill(NaN, 0, 80 * grid.width);
    const value = plantableOf([], half);
    expect(value.steepJudgedShare).toBeCloseTo(0.5, 6);
    expect(inFrame(value.taken[0].areaSquareMeters)).toBeLessThan(22 * 30);
  });
});

describe('the strip to work in, and next fall', () => {
  const settings = { workingStripMeters: 2, burnConsumedShare: 0.9, bermMaxHeightMeters: 3.6576 };
  test('a berm takes its width and a strip all round', () => {
    const across = berm('b', line([30, 30], [70, 30]), 6);
    const value = plantableOf([across], null, settings);
    // Toe to toe 40 m: a band of 34 m × 10 m and two half discs 10 m across, by hand.
    const [one] = value.taken;
    expect(Math.abs(one!.areaSquareMeters - (34 * 10 + disc(10)))).toBeLessThan(0.6);
    expect(value.nextFallSquareMeters).toBe(value.plantableSquareMeters);
  });
  test('a windrow that burns leaves a round heap of a tenth in its middle', () => {
    const windrow = berm('b', line([30, 30], [70, 30]), 6);
    const burnt = { ...windrow, properties: { ...windrow.properties, toBurn: true } } as PlanFeature; // prettier-ignore
    const value = plantableOf([burnt], null, settings);
    // Parabola 6 × 2.7 m: 10.8 m² × 34 m + π × 2.7 × 36 / 8 = 405.4 m³; a tenth as πhw²/8 with
    // w = 3.5 h is 7.12 m wide; with the strip 11.12 m.
    const width = Math.cbrt((8 * 3.5 * (10.8 * 34 + (Math.PI * 2.7 * 36) / 8) * 0.1) / Math.PI);
    expect(Math.abs(value.nextFallTaken[0]!.areaSquareMeters - disc(width + 4))).toBeLessThan(0.05);
    expect(value.nextFallSquareMeters).toBeGreaterThan(value.plantableSquareMeters);
  });
  test('half a ball is as wide as it is high, twice', () => {
    const ball = heap('h', point(50, 30), null, null);
    const properties = { ...ball.properties, shape: 'half-sphere', heightMeters: 3 };
    const value = plantableOf([{ ...ball, properties } as PlanFeature], null, settings);
    expect(Math.abs(value.taken[0]!.areaSquareMeters - disc(10))).toBeLessThan(0.1);
  });
});
