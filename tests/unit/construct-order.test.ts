import geodesy from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { construct, duplicate } from '../../app/workers/construct.ts';
import { zoneFrame } from '../../geo/frame/zone-frame.ts';
import { parseFeature, type PlanGeometry, type Position } from '../../geo/plan/feature.ts';
import type { Result } from '../../geo/result.ts';

/** Constructions as the page asks for them: which frame they are made in, and their sizes. */

const wgs84 = geodesy.Geodesic.WGS84;

/** A square with sides along meridians and parallels, about 100 m. */
const square: PlanGeometry = {
  type: 'Polygon',
  coordinates: [
    [
      [-75, 36],
      [-74.999, 36],
      [-74.999, 36.001],
      [-75, 36.001],
      [-75, 36],
    ],
  ],
};

function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}

/** GeographicLib itself, not our wrapper of it. */
function areaOf(ring: readonly Position[]): number {
  const walk = wgs84.Polygon(false);
  for (const [lng, lat] of ring.slice(0, -1)) walk.AddPoint(lat, lng);
  return Math.abs(walk.Compute(false, true).area!);
}

describe('a construction', () => {
  it('splits: the parts have the whole’s area by GeographicLib, and say their own', () => {
    const line = {
      type: 'LineString',
      coordinates: [
        [-74.9996, 35.999],
        [-74.9996, 36.002],
      ] as Position[],
    } as const;
    const parts = valueOf(construct({ make: 'split', line }, [square], null));
    expect(parts.map((part) => part.corners)).toEqual([4, 4]);
    const areas = parts.map(({ geometry }) => areaOf(geometry.coordinates[0] as Position[]));
    parts.forEach((part, i) => expect(part.areaSquareMeters! / areas[i]! - 1).toBeCloseTo(0, 9));
    const whole = areaOf(square.coordinates[0] as Position[]);
    // Corners are rounded to 1e-9 degree, 0.1 mm: over 400 m of edge, 0.04 m² at the very most.
    expect(Math.abs(areas[0]! + areas[1]! - whole)).toBeLessThan(0.04);
    expect(areas[0]! / areas[1]!).toBeCloseTo(6 / 4, 4);
  });
  it('moves along the geodesic: distance and bearing by GeographicLib', () => {
    const point: PlanGeometry = { type: 'Point', coordinates: [-75, 36] };
    const order = { make: 'move', distanceMeters: 150, bearingDegrees: 37 } as const;
    const [made] = valueOf(construct(order, [point], null));
    const [lng, lat] = made!.geometry.coordinates as Position;
    const { s12, azi1 } = wgs84.Inverse(36, -75, lat, lng);
    expect(s12).toBeCloseTo(150, 3);
    expect(azi1).toBeCloseTo(37, 3);
  });
  it('takes no frame that is not true at its place', () => {
    const order = { make: 'buffer', distanceMeters: 10 } as const;
    const here = valueOf(construct(order, [square], null));
    // The zone of 117° W, half a continent away, and a place that it does not reach at all.
    const elsewhere = zoneFrame(-117, 36);
    expect(valueOf(construct(order, [square], elsewhere))).toEqual(here);
    const own = valueOf(construct(order, [square], zoneFrame(-75, 36)));
    expect(own).toEqual(here);
    // A + P r + π r²: 10 m round a shape of 90.16 m by 110.97 m, less the chords of its corners.
    const perimeter = wgs84.Polygon(false);
    for (const [lng, lat] of (square.coordinates[0] as Position[]).slice(0, -1)) {
      perimeter.AddPoint(lat, lng);
    }
    const { perimeter: p, area } = perimeter.Compute(false, true);
    const grown = Math.abs(area!) + p * 10 + Math.PI * 100;
    expect(grown - here[0]!.areaSquareMeters!).toBeGreaterThan(0);
    expect(grown - here[0]!.areaSquareMeters!).toBeLessThan(0.7);
  });
  it('hands a problem on, and throws for a shape that it does not fit', () => {
    const away = {
      type: 'LineString',
      coordinates: [
        [-75.1, 36],
        [-75.1, 36.1],
      ] as Position[],
    } as const;
    const made = construct({ make: 'split', line: away }, [square], null);
    expect(made.ok ? '' : made.problem.code).toBe('split-misses');
    expect(() => construct({ make: 'split', line: away }, [away], null)).toThrow(RangeError);
    const offset = { make: 'offset', distanceMeters: 5, side: 'left' } as const;
    expect(() => construct(offset, [square], null)).toThrow(RangeError);
  });
});

it('duplicates under the next free name, moved south-east', () => {
  const feature = valueOf(
    parseFeature({ id: 'a', kind: 'plot', name: 'Bench', geometry: square, locked: true }),
  );
  const order = { feature, id: 'b', names: ['Bench', 'Bench 2'], stepMeters: 10 };
  const twin = duplicate(order, null);
  expect(twin).toMatchObject({ id: 'b', name: 'Bench 3', locked: false, kind: 'plot' });
  const [lng, lat] = (twin.geometry.coordinates as Position[][])[0]![0]!;
  const { s12, azi1 } = wgs84.Inverse(36, -75, lat, lng);
  // The middle moves exactly that far, corners alike in the frame.
  expect(s12).toBeCloseTo(Math.hypot(10, 10), 2);
  expect(azi1).toBeCloseTo(135, 1);
});
