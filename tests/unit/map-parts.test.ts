import { describe, expect, test } from 'vitest';
import { Geodesic } from 'geographiclib-geodesic';
import { slopeClassLimits } from '../../geo/answers/answers.ts';
import type { PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { baseOpacities, imageryShare } from '../../layers/base-view.ts';
import { ImageryLayers, type ImageryMap } from '../../layers/imagery/imagery-layers.ts';
import { nationalImagery } from '../../geo/formats/imagery/national-imagery.ts';
import { wholeOrder, type ImageryLayer } from '../../geo/plan/imagery.ts';
import { feetScale, meterScale } from '../../layers/controls/scale-lengths.ts';
import {
  carried,
  corners,
  drawnShape,
  roundGeometry,
  withoutCorner,
} from '../../layers/drawing/edit-geometry.ts';
import { FrameQueue } from '../../layers/frame-queue.ts';
import { chooseHit, type HitCandidate } from '../../layers/hit-test.ts';
import { slopeLegend } from '../../layers/legends.ts';
import { LayerStack, type StackMap } from '../../layers/layer-stack.ts';
import { elevationRamp, rgb, waterRamp } from '../../layers/palette.ts';
import { RasterLayers, type RasterMap } from '../../layers/raster-layers.ts';
import { contourInterval } from '../../geo/raster/contour-interval.ts';

describe('ramps', () => {
  // CIE 1976 lightness of the sRGB colours (IEC 61966-2-1), computed here from its definition.
  const lightness = (hex: string): number => {
    const [r, g, b] = rgb(hex).map((v) => {
      const s = v / 255;
      return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
    });
    return 116 * Math.cbrt(0.2126 * r + 0.7152 * g + 0.0722 * b) - 16;
  };
  test.each([
    ['elevation', elevationRamp],
    ['water', waterRamp],
  ])('%s climbs or falls in even steps of lightness', (_name, ramp) => {
    const steps = ramp.slice(1).map((c, i) => lightness(c) - lightness(ramp[i]));
    const mean = steps.reduce((a, b) => a + b, 0) / steps.length;
    expect(Math.abs(mean)).toBeGreaterThan(5);
    for (const step of steps) expect(Math.abs(step - mean)).toBeLessThan(0.6);
  });
});

test('the slope legend names every class once', () => {
  expect(slopeLegend.map((l) => l.words)).toEqual([
    'under 2 %',
    '2 to 5 %',
    '5 to 10 %',
    '10 to 15 %',
    '15 to 20 %',
    'over 20 %',
  ]);
  expect(slopeLegend).toHaveLength(slopeClassLimits.length + 1);
});

describe('scale bar', () => {
  test('is the longest round length that fits, in feet and miles', () => {
    expect(feetScale(0.3048, 150)).toMatchObject({ count: 100, unit: 'ft', pixels: 100 });
    expect(feetScale(1, 150)).toMatchObject({ count: 200, unit: 'ft' });
    // A statute mile is 1609.344 m.
    expect(feetScale(16.09344, 150)).toMatchObject({ count: 1, unit: 'mi', pixels: 100 });
  });
  test('and in metres and kilometres', () => {
    expect(meterScale(1, 150)).toMatchObject({ count: 100, unit: 'm', pixels: 100 });
    expect(meterScale(20, 150)).toMatchObject({ count: 2, unit: 'km', pixels: 100 });
    for (const perPixel of [0.013, 0.2, 0.77, 3, 12, 55]) {
      for (const { pixels } of [feetScale(perPixel, 150), meterScale(perPixel, 150)]) {
        expect(pixels).toBeLessThanOrEqual(150);
        expect(pixels).toBeGreaterThan(150 / 2.6);
      }
    }
  });
});

test('contour steps: 5 ft at 1 m pixels, never under a foot, round metres in metric', () => {
  expect(contourInterval(1, 'us') / 0.3048).toBeCloseTo(5, 9);
  expect(contourInterval(0.01, 'us') / 0.3048).toBeCloseTo(1, 9);
  expect(contourInterval(1, 'metric')).toBe(2);
});

describe('what lies under the linework', () => {
  const both = { ground: true, photo: true };
  test('plan view lets the photo down with paper and keeps relief faint', () => {
    const { photo, relief } = baseOpacities({ base: 'plan', photoShare: 0.67 }, both);
    expect(photo).toBeCloseTo(0.67, 9);
    expect(relief).toBeGreaterThan(0.3);
    expect(relief).toBeLessThan(0.7);
  });
  test('without a photo the relief carries the plan; without ground there is none', () => {
    expect(
      baseOpacities({ base: 'plan', photoShare: 0.67 }, { ...both, photo: false }).relief,
    ).toBe(1);
    const bare = baseOpacities(
      { base: 'elevation', photoShare: 1 },
      { ground: false, photo: false },
    );
    expect(Object.values(bare)).toEqual([0, 0, 0, 0, 0]);
  });
  test('online imagery is let through as the photo is, and lets the relief down with it', () => {
    const view = { base: 'plan', photoShare: 0.6 } as const;
    const none = { ground: true, photo: false };
    expect(imageryShare(view)).toBe(0.6);
    expect(imageryShare({ ...view, base: 'slope' })).toBe(0);
    expect(baseOpacities(view, { ...none, imagery: true })).toMatchObject({
      photo: 0,
      relief: baseOpacities(view, { ...none, photo: true }).relief,
    });
  });
});

describe('rasters on the map', () => {
  const calls: string[] = [];
  const map = {
    addSource: (id: string) => calls.push(`source ${id}`),
    removeSource: (id: string) => calls.push(`-source ${id}`),
    getSource: (id: string) => ({
      setTiles: ([url]: string[]) => calls.push(`tiles ${id} ${url}`),
    }),
    addLayer: ({ id }: { id: string }, above: string) => calls.push(`layer ${id} under ${above}`),
    removeLayer: (id: string) => calls.push(`-layer ${id}`),
    moveLayer: (id: string, above: string) => calls.push(`move ${id} under ${above}`),
    setPaintProperty: (id: string, _name: string, value: number) =>
      id.startsWith('imagery') && calls.push(`${id} ${value}`),
    setLayoutProperty: (id: string, _name: string, value: string) => calls.push(`${id} ${value}`),
  } as unknown as RasterMap & StackMap & ImageryMap;
  const stack = new LayerStack(map);
  const rasters = new RasterLayers(map, stack);
  const bounds = [0, 0, 1, 1] as const;
  test('photo goes under relief whichever comes first, and a new version keeps the source', () => {
    rasters.setVersion('relief', 'a', bounds);
    rasters.setVersion('photo', 'p', bounds);
    expect(calls).toContain('layer relief under plan-fill');
    expect(calls).toContain('layer photo under relief');
    calls.length = 0;
    rasters.setVersion('relief', 'a', bounds);
    expect(calls).toEqual([]);
    rasters.setVersion('relief', 'b/2', bounds);
    expect(calls).toEqual(['tiles relief assart-tile://relief/b%2F2/{z}/{x}/{y}']);
    calls.length = 0;
    rasters.setVersion('relief', 'b/2', [0, 0, 2, 2]);
    expect(calls.slice(0, 3)).toEqual(['-layer relief', '-source relief', 'source relief']);
    rasters.setVersion('relief', null, null);
    expect(rasters.has('relief')).toBe(false);
  });
  test('unseen rasters are switched off', () => {
    calls.length = 0;
    rasters.setOpacities({ photo: 0, relief: 1, slope: 0, elevation: 0, contours: 0 });
    expect(calls).toEqual(['photo none']);
  });
  test('online imagery lies where the order says, and is asked for only while it is seen', () => {
    const imagery = new ImageryLayers(map, stack);
    const layer: ImageryLayer = { ...nationalImagery, id: 'n', opacity: 0.5, shown: true };
    stack.setOrder(wholeOrder([], [layer]));
    calls.length = 0;
    imagery.setLayers([layer], {});
    expect(calls).toEqual([]);
    imagery.setShare(0.5);
    expect(calls).toEqual(['source imagery-n', 'layer imagery-n under photo', 'imagery-n 0.25']);
    calls.length = 0;
    stack.setOrder(wholeOrder(['photo', 'relief', 'n'], [layer]));
    expect(calls).toEqual(['move imagery-n under plan-fill', 'move photo under imagery-n']);
    calls.length = 0;
    imagery.setLayers([{ ...layer, opacity: 1 }], {});
    expect(calls).toEqual(['imagery-n 0.5']);
    calls.length = 0;
    imagery.setLayers([layer], { n: 1 });
    expect(calls.slice(0, 3)).toEqual([
      '-layer imagery-n',
      '-source imagery-n',
      'source imagery-n',
    ]);
    imagery.setLayers([{ ...layer, shown: false }], { n: 1 });
    expect(calls.slice(-2)).toEqual(['-layer imagery-n', '-source imagery-n']);
  });
});

describe('what a tap means', () => {
  const project = (p: readonly [number, number]) => p;
  const square = (size: number): HitCandidate['geometry'] => ({
    type: 'Polygon',
    coordinates: [[[-size, -size], [size, -size], [size, size], [-size, size], [-size, -size]]], // prettier-ignore
  });
  const point = (x: number): HitCandidate['geometry'] => ({ type: 'Point', coordinates: [x, 0] });
  const of = (featureId: string, mark: string, geometry: HitCandidate['geometry'], order = 1) => ({
    featureId,
    mark,
    order,
    geometry,
  });
  test('a symbol within reach wins over the ground it stands on; the nearer symbol wins', () => {
    const ground = of('plot', 'fill', square(500));
    const all = [ground, of('a', 'symbol', point(20)), of('b', 'symbol', point(-9))];
    expect(chooseHit(all, [0, 0], project)).toBe('b');
    expect(chooseHit([ground, of('a', 'symbol', point(30))], [0, 0], project)).toBe('plot');
  });
  test('topmost ground, then the smaller one; nothing outside', () => {
    const all = [of('big', 'fill', square(500), 5), of('small', 'pattern', square(50), 5)];
    expect(chooseHit(all, [0, 0], project)).toBe('small');
    expect(chooseHit([...all, of('top', 'fill', square(900), 9)], [0, 0], project)).toBe('top');
    expect(chooseHit(all, [700, 0], project)).toBeNull();
  });
  test('an outline is touched within a finger of it, from either side', () => {
    const outline = of('line', 'stroke', square(100));
    expect(chooseHit([outline], [85, 0], project)).toBe('line');
    expect(chooseHit([outline], [120, 0], project)).toBe('line');
    expect(chooseHit([outline], [0, 0], project)).toBeNull();
  });
});

describe('editing', () => {
  const polygon: PlanGeometry = {
    type: 'Polygon',
    coordinates: [[[0, 0], [0.001, 0], [0.001, 0.001], [0, 0.001], [0, 0]]], // prettier-ignore
  };
  test('taking out any corner of a ring keeps it closed, the first one too', () => {
    for (let index = 0; index < 4; index++) {
      const left = withoutCorner(polygon, index)!;
      expect(corners(left)).toHaveLength(3);
      expect(corners(left)).not.toContainEqual(corners(polygon)[index]);
      if (left.type !== 'Polygon') throw new Error(left.type);
      expect(left.coordinates[0].at(-1)).toEqual(left.coordinates[0][0]);
    }
    expect(withoutCorner(withoutCorner(polygon, 0)!, 0)).toBeNull();
    expect(() => withoutCorner(polygon, 4)).toThrow(RangeError);
  });
  test('carrying a shape 1 km north keeps its sides to a millimetre', () => {
    // Truth: geodesic lengths by GeographicLib before and after.
    const base: Position = [-75, 36.14];
    const shape: PlanGeometry = {
      type: 'LineString',
      coordinates: [base, [base[0] + 0.002, base[1]], [base[0] + 0.002, base[1] + 0.001]],
    };
    const moved = carried(shape, base, [-75.003, 36.149]);
    const sides = (g: PlanGeometry) => {
      const c = corners(g);
      return c.slice(1).map((p, i) => Geodesic.WGS84.Inverse(c[i][1], c[i][0], p[1], p[0]).s12!);
    };
    const [before, after] = [sides(shape), sides(moved)];
    // The ellipsoid's own change of radius over 1 km is 5 parts in a million: 1 mm in 180 m.
    before.forEach((side, i) => expect(Math.abs(after[i] - side)).toBeLessThan(0.002));
  });
  test('coordinates come out with at most nine decimals', () => {
    const rounded = roundGeometry({ type: 'Point', coordinates: [-75.12345678949, 1 / 3] });
    expect(rounded).toEqual({ type: 'Point', coordinates: [-75.123456789, 0.333333333] });
  });
  test('a shape appears when there are enough different points', () => {
    const [a, b, c]: Position[] = [[0, 0], [1, 0], [1, 1]]; // prettier-ignore
    expect(drawnShape('Polygon', [a, b, b, a])).toBeNull();
    expect(drawnShape('Polygon', [a, b, c])).toEqual({
      type: 'Polygon',
      coordinates: [[a, b, c, a]],
    });
    expect(drawnShape('Polygon', [a, b, c, a])).toEqual({
      type: 'Polygon',
      coordinates: [[a, b, c, a]],
    });
    expect(drawnShape('LineString', [a, a])).toBeNull();
    expect(drawnShape('LineString', [a, b, b])).toEqual({
      type: 'LineString',
      coordinates: [a, b],
    });
    expect(drawnShape('Point', [])).toBeNull();
  });
});

test('the newest task of a name runs once a frame', () => {
  const waiting: (() => void)[] = [];
  const queue = new FrameQueue(
    (run) => waiting.push(run),
    () => waiting.splice(0),
  );
  const ran: string[] = [];
  queue.add('plan', () => ran.push('old'));
  queue.add('plan', () => ran.push('new'));
  queue.add('scale', () => ran.push('scale'));
  expect(waiting).toHaveLength(1);
  waiting.pop()!();
  expect(ran).toEqual(['new', 'scale']);
  queue.add('plan', () => ran.push('again'));
  expect(waiting).toHaveLength(1);
});
