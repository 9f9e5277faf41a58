import fc from 'fast-check';
import { expect, test } from 'vitest';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openCrs, openFrame } from '../../geo/frame/open-frame.ts';
import * as units from '../../geo/frame/units.ts';
import { distanceAndBearing, measureRing, pointAtBearing } from '../../geo/frame/geodesic.ts';
import { CRS_ROWS } from '../../geo/frame/table/crs-rows.ts';
import type { HorizontalCrs, LinearUnit } from '../../geo/frame/crs-types.ts';
import type { LngLat } from '../../geo/frame/geodesic.ts';

const SEEDED = { seed: 20_260_102, numRuns: 300 };

function system(code: number): HorizontalCrs {
  const crs = crsFromEpsg(code);
  if (!crs.ok) throw new Error(crs.problem.what);
  return crs.value;
}

const codes = [...CRS_ROWS.matchAll(/[:,](\d+)/g)].map((match) => Number(match[1]));
const centralMeridian = (proj: string) => Number(/\+lonc?(?:_0)?=(-?[\d.]+)/.exec(proj)![1]);

test('degrees to coordinates and back is the identity to 1e-9 degree, in every system', () => {
  const place = fc.record({
    code: fc.constantFrom(...codes, 32_601, 32_610, 32_660, 3857),
    east: fc.double({ min: -3, max: 3, noNaN: true }),
    lat: fc.double({ min: 18, max: 72, noNaN: true }),
  });
  fc.assert(
    fc.property(place, ({ code, east, lat }) => {
      const crs = system(code);
      const lng = centralMeridian(crs.proj) + east;
      const open = openCrs(crs);
      const [lngBack, latBack] = open.toLngLat(...open.fromLngLat(lng, lat));
      const turn = ((lngBack - lng + 540) % 360) - 180;
      expect(Math.abs(turn)).toBeLessThan(1e-9);
      expect(Math.abs(latBack - lat)).toBeLessThan(1e-9);
    }),
    { ...SEEDED, numRuns: 2000 },
  );
});

test('a frame for feet is the same ground: frame metres are file feet times the foot', () => {
  const feet = codes.filter((code) => system(code).unit !== 'metre');
  const place = fc.record({
    code: fc.constantFrom(...feet),
    east: fc.double({ min: -1, max: 1, noNaN: true }),
    lat: fc.double({ min: 25, max: 49, noNaN: true }),
  });
  fc.assert(
    fc.property(place, ({ code, east, lat }) => {
      const crs = system(code);
      const lng = centralMeridian(crs.proj) + east;
      const inFile = openCrs(crs).fromLngLat(lng, lat);
      const inFrame = openFrame(frameFor(crs, lng, lat)).fromLngLat(lng, lat);
      const unit = crs.unit as LinearUnit;
      expect(inFrame[0]).toBeCloseTo(units.metersFrom(inFile[0], unit), 6);
      expect(inFrame[1]).toBeCloseTo(units.metersFrom(inFile[1], unit), 6);
    }),
    SEEDED,
  );
});

test('a UTM frame puts its place within half a zone of the middle, scale within 0.1 %', () => {
  const place = fc.record({
    code: fc.constantFrom(4269, 6318, 4326, 3857),
    lng: fc.double({ min: -180, max: 180, noNaN: true }),
    lat: fc.double({ min: -79, max: 83, noNaN: true }),
  });
  fc.assert(
    fc.property(place, ({ code, lng, lat }) => {
      const frame = openFrame(frameFor(system(code), lng, lat));
      const [x, y] = frame.fromLngLat(lng, lat);
      expect(Math.abs(x - 500_000)).toBeLessThanOrEqual(334_000);
      expect(y).toBeGreaterThanOrEqual(0);
      const { groundAreaPerFrameArea } = frame.distortionAt(x, y);
      expect(Math.abs(groundAreaPerFrameArea - 1)).toBeLessThan(2.1e-3);
    }),
    SEEDED,
  );
});

test('ground area per frame area and convergence agree with geodesic area and bearing', () => {
  const place = fc.record({
    code: fc.constantFrom(26_916, 26_945, 26_931, 5070, 6497, 32_632),
    east: fc.double({ min: -2.5, max: 2.5, noNaN: true }),
    lat: fc.double({ min: 30, max: 60, noNaN: true }),
  });
  fc.assert(
    fc.property(place, ({ code, east, lat }) => {
      const crs = system(code);
      const lng = centralMeridian(crs.proj) + east;
      const frame = openFrame(frameFor({ ...crs, unit: 'metre' }, lng, lat));
      const [x, y] = frame.fromLngLat(lng, lat);
      const corner = (dx: number, dy: number) => frame.toLngLat(x + dx, y + dy);
      const square = [corner(-50, -50), corner(50, -50), corner(50, 50), corner(-50, 50)];
      const { groundAreaPerFrameArea, convergenceDegrees } = frame.distortionAt(x, y);
      // 100 m squares: proj4's way back is good to 2e-6 m, so 1e-7 of the area.
      const ground = measureRing(square).signedAreaSquareMeters / 10_000;
      expect(Math.abs(ground - groundAreaPerFrameArea)).toBeLessThan(2e-7);
      const gridNorth = distanceAndBearing(corner(0, -500), corner(0, 500));
      // Albers turns bearings unequally: convergence is the meridian's turn there.
      if (code === 5070) return;
      const mean = (gridNorth.departureDegrees + gridNorth.arrivalDegrees) / 2;
      const bearing =
        Math.abs(gridNorth.departureDegrees - gridNorth.arrivalDegrees) > 180 ? mean - 180 : mean;
      const apart = ((bearing - convergenceDegrees + 540) % 360) - 180;
      expect(Math.abs(apart)).toBeLessThan(2e-4);
    }),
    SEEDED,
  );
});

test('unit conversions invert', () => {
  const pairs: [(value: number) => number, (value: number) => number][] = [
    [units.metersFromFeet, units.feetFromMeters],
    [units.metersFromInches, units.inchesFromMeters],
    [units.metersFromYards, units.yardsFromMeters],
    [units.metersFromMiles, units.milesFromMeters],
    [units.squareMetersFromAcres, units.acresFromSquareMeters],
    [units.squareMetersFromSquareFeet, units.squareFeetFromSquareMeters],
    [units.cubicMetersFromCubicFeet, units.cubicFeetFromCubicMeters],
    [units.cubicMetersFromCubicYards, units.cubicYardsFromCubicMeters],
    [units.cubicMetersFromGallons, units.gallonsFromCubicMeters],
    [units.metersPerSecondFromMilesPerHour, units.milesPerHourFromMetersPerSecond],
    [units.kilogramsFromPounds, units.poundsFromKilograms],
    [units.kilogramsFromTons, units.tonsFromKilograms],
    ...(['metre', 'us-survey-foot', 'international-foot'] as const).map(
      (unit): [(value: number) => number, (value: number) => number] => [
        (value) => units.metersFrom(value, unit),
        (value) => units.metersTo(value, unit),
      ],
    ),
  ];
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), (value) => {
      for (const [there, back] of pairs) {
        expect(Math.abs(back(there(value)) - value)).toBeLessThanOrEqual(value * 1e-15);
      }
    }),
    SEEDED,
  );
});

test('a ring turned round changes the sign of its area only; the direct problem undoes the inverse', () => {
  const point = fc.tuple(
    fc.double({ min: -86, max: -84, noNaN: true }),
    fc.double({ min: 43, max: 45, noNaN: true }),
  );
  fc.assert(
    fc.property(fc.array(point, { minLength: 3, maxLength: 30 }), (ring) => {
      const one = measureRing(ring as LngLat[]);
      const other = measureRing(ring.toReversed() as LngLat[]);
      expect(Math.abs(one.signedAreaSquareMeters + other.signedAreaSquareMeters)).toBeLessThan(
        0.01,
      );
      expect(Math.abs(one.perimeterMeters - other.perimeterMeters)).toBeLessThan(1e-6);
      const line = distanceAndBearing(ring[0]!, ring[1]!);
      const end = pointAtBearing(ring[0]!, line.departureDegrees, line.distanceMeters);
      expect(Math.abs(end[0] - ring[1]![0])).toBeLessThan(1e-11);
      expect(Math.abs(end[1] - ring[1]![1])).toBeLessThan(1e-11);
    }),
    SEEDED,
  );
});
