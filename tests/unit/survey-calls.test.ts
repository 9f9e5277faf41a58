import { describe, expect, test } from 'vitest';
import { readSurveyCalls } from '../../geo/plan/construct/survey-calls.ts';

/** Directions and lengths worked by hand from what the words say. */

const foot = 0.3048;

function one(text: string): { bearing: number; meters: number } {
  const read = readSurveyCalls(text);
  if (!read.ok) throw new Error(read.problem.what);
  expect(read.value.calls.length).toBe(1);
  const [call] = read.value.calls;
  return { bearing: call.bearingDegrees, meters: call.distanceMeters };
}

const dms = (d: number, m = 0, s = 0) => d + m / 60 + s / 3600;

test.each([
  ['N 45°30\'15" E 200.5 ft', dms(45, 30, 15), 200.5 * foot],
  ['N45°30’15”E, 200.5 feet', dms(45, 30, 15), 200.5 * foot],
  ["S 45-30 W 1,320'", 180 + dms(45, 30), 1320 * foot],
  ['N 45-30-15 W a distance of 60.96 m', 360 - dms(45, 30, 15), 60.96],
  ['South 12 degrees 5 minutes 30 seconds East 100 feet', 180 - dms(12, 5, 30), 100 * foot],
  ['n 3.5 e 10 chains', 3.5, 660 * foot],
  ["S45d12'W 40 poles", 180 + dms(45, 12), 660 * foot],
  ['S 0° E 4 rods', 180, 66 * foot],
  ['N 90 E 12 chains 40 links', 90, 12.4 * 66 * foot],
  ['N 90° W 3 perches', 270, 49.5 * foot],
  ['due West 200 ft 6 in', 270, 200.5 * foot],
  ['North 20 yards', 0, 60 * foot],
  ['E 0.25 mi', 90, 1320 * foot],
  ['134°30\'15" 75 ft', dms(134, 30, 15), 75 * foot],
  ['az 134.5 75 ft', 134.5, 75 * foot],
  ['azimuth: 359-59-60 1 m', NaN, NaN],
  ['Az. 0-30-00, 10.5 metres', 0.5, 10.5],
  ["225.25° 200'", 225.25, 200 * foot],
  ['along the fence N 10° E 33 ft to an iron pin', 10, 33 * foot],
])('%s', (text, bearing, meters) => {
  if (Number.isNaN(bearing)) {
    const read = readSurveyCalls(text);
    expect(read.ok).toBe(false);
    return;
  }
  const read = one(text);
  expect(read.bearing).toBeCloseTo(bearing, 10);
  expect(read.meters).toBeCloseTo(meters, 9);
});

describe('a whole description', () => {
  const deed = `Beginning at a stone by the gate;
    thence North 10 degrees East 20 poles to a white oak; thence S 80° E, 330 ft;
    thence with the branch S 10-00-00 W 20 rods
    N 80° W 5 chains to the beginning.`;

  test('falls into courses; words without any are set aside', () => {
    const read = readSurveyCalls(deed);
    if (!read.ok) throw new Error(read.problem.what);
    expect(read.value.calls.map((c) => Math.round(c.bearingDegrees))).toEqual([10, 100, 190, 280]);
    for (const call of read.value.calls) expect(call.distanceMeters).toBeCloseTo(330 * foot, 9);
    expect(read.value.leftOut).toEqual(['Beginning at a stone by the gate']);
  });
});

describe('curves', () => {
  test('by chord', () => {
    const read = readSurveyCalls("curve to the left, radius 200 ft, chord N 20°10' E 148 ft");
    if (!read.ok) throw new Error(read.problem.what);
    const [call] = read.value.calls;
    expect(call.curve).toEqual({ radiusMeters: 200 * foot, turns: 'left' });
    expect(call.bearingDegrees).toBeCloseTo(dms(20, 10), 10);
    expect(call.distanceMeters).toBeCloseTo(148 * foot, 9);
  });

  test('by arc or delta, straight on from the course before', () => {
    // A quarter circle of 100 m to the right from north: chord 100 √2 at 45°; then on to the east.
    for (const words of ['arc 157.07963267948966 m', 'delta 90°00\'00"', 'central angle of 90°']) {
      const read = readSurveyCalls(`N 50 m\ncurve to the right, radius = 100 m, ${words}`);
      if (!read.ok) throw new Error(read.problem.what);
      const [, call] = read.value.calls;
      expect(call.bearingDegrees).toBeCloseTo(45, 9);
      expect(call.distanceMeters).toBeCloseTo(100 * Math.SQRT2, 9);
    }
    const twice = readSurveyCalls(
      'N 50 m; curve right radius 100 m delta 90°; curve left radius 100 m delta 90°',
    );
    if (!twice.ok) throw new Error(twice.problem.what);
    expect(twice.value.calls[2].bearingDegrees).toBeCloseTo(45, 9);
  });
});

test.each([
  ['', 'calls-none'],
  ['to an iron pin', 'calls-none'],
  ['N 45 E', 'call-unread'],
  ['N 45 E 200', 'call-unread'],
  ['200 ft', 'call-unread'],
  ["N 45°75' E 200 ft", 'call-unread'],
  ['N 95° E 200 ft', 'call-unread'],
  ['az 400 200 ft', 'call-unread'],
  ["134°75' 200 ft", 'call-unread'],
  ['N 45 E 0 ft', 'call-unread'],
  ['curve, radius 20 ft, chord N 3 E 9 ft', 'call-unread'],
  ['curve to the left, chord N 3 E 9 ft', 'call-unread'],
  ['curve to the left, radius 2 ft, chord N 3 E 9 ft', 'call-unread'],
  ['curve to the left, radius 20 ft, arc 9 ft', 'call-unread'],
])('%s is not read', (text, code) => {
  const read = readSurveyCalls(text);
  expect(read.ok ? 'ok' : read.problem.code).toBe(code);
});
