import { describe, expect, test } from 'vitest';
import { defaultCleanChoices, type CleanChoices } from '../../geo/formats/vector/clean-choices.ts';
import { cleanTrack, type CleanedTrack } from '../../geo/formats/vector/clean-track.ts';
import { sayCleaning } from '../../geo/formats/vector/say-cleaning.ts';
import { trackAccuracy } from '../../geo/formats/vector/track-accuracy.ts';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openFrame } from '../../geo/frame/open-frame.ts';
import type { Position } from '../../geo/plan/feature.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';

// Walks made up from circles and lines, so that what must come out is known: an area of π r², the
// very fixes that were put wrong. Figures of accuracy: trade notes, section 1 (10–16 ft in the open,
// 20–40 ft under canopy) and 3.7 (straightening by 3–6 ft).

const wgs84 = crsFromEpsg(4326);
if (!wgs84.ok) throw new Error('no WGS 84');
// On the zone's middle a frame metre is 1/0.9996 of a ground metre.
const frame = openFrame(frameFor(wgs84.value, -75, 36));
const [X, Y] = frame.fromLngLat(-75, 36);
const SCALE = 0.9996;
const FEET = 0.3048;

/** Fixes a second apart, metres on the ground east and north of the place. */
interface Walk {
  readonly line: Position[];
  readonly timesMs: Float64Array;
}
function walk(metres: readonly (readonly [number, number])[], secondsEach = 1): Walk {
  return {
    line: metres.map(([x, y]) => frame.toLngLat(X + x * SCALE, Y + y * SCALE)),
    timesMs: Float64Array.from(metres, (_, i) => 1000 * secondsEach * i),
  };
}
const circle = (radius: number, fixes: number, turn = 1): [number, number][] =>
  Array.from({ length: fixes }, (_, i) => {
    const angle = (turn * 2 * Math.PI * i) / fixes;
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  });
const clean = (
  { line, timesMs }: Walk,
  choices: Partial<CleanChoices> = {},
  withTimes = true,
): CleanedTrack =>
  finish(
    cleanTrack(line, withTimes ? { timesMs, hdop: null } : null, frame, {
      ...defaultCleanChoices,
      ...choices,
    }),
  );

function lineOf({ geometry }: CleanedTrack): readonly Position[] {
  if (geometry.type !== 'LineString') throw new Error(`a ${geometry.type}`);
  return geometry.coordinates;
}
function outlineOf({ geometry }: CleanedTrack): readonly Position[] {
  if (geometry.type !== 'Polygon') throw new Error(`a ${geometry.type}`);
  return geometry.coordinates[0];
}

describe('spikes', () => {
  test.each([true, false])('those put in go and no other fix, with times: %s', (withTimes) => {
    const random = seeded(4);
    const metres = Array.from({ length: 300 }, (_, i): [number, number] => [i * 1.2, 0]);
    const wrong = [40, 41, 120, 121, 122, 200, 299].filter(
      (i) => withTimes || ![41, 121, 122, 120, 299].includes(i),
    );
    for (const i of wrong) metres[i] = [metres[i][0] + 5 * random(), 60 + 40 * random()];
    const made = clean(walk(metres), { close: false }, withTimes);
    expect(made.removed.spikes).toBe(wrong.length);
    // Without them the walk is one straight line.
    const coordinates = lineOf(made);
    expect(coordinates).toHaveLength(2);
    expect(made.lengthMeters).toBeCloseTo(wrong.includes(299) ? 298 * 1.2 : 299 * 1.2, 4);
  });

  test('a bad first fix goes; a jump of the recorder with a walk on either side stays', () => {
    const metres = Array.from({ length: 200 }, (_, i): [number, number] => [i, i < 100 ? 0 : 500]);
    metres[0] = [-900, 0];
    const made = clean(walk(metres), { close: false });
    expect(made.removed.spikes).toBe(1);
    const coordinates = lineOf(made);
    expect(coordinates).toHaveLength(4);
    expect(made.lengthMeters).toBeCloseTo(98 + Math.hypot(1, 500) + 99, 3);
  });

  test('a fast drive is no spike', () => {
    const metres = Array.from({ length: 60 }, (_, i): [number, number] => [i * 15, 0]);
    expect(clean(walk(metres), { close: false }).removed.spikes).toBe(0);
  });
});

describe('knots', () => {
  test('standing for two minutes at a corner becomes one point there', () => {
    const random = seeded(9);
    const jitter = () => 4 * (random() - 0.5);
    const stand = Array.from({ length: 120 }, (): [number, number] => [100 + jitter(), jitter()]);
    const metres: [number, number][] = [
      ...Array.from({ length: 90 }, (_, i): [number, number] => [i, 0]),
      ...stand,
      ...Array.from({ length: 90 }, (_, i): [number, number] => [100, 11 + i]),
    ];
    for (const withTimes of [true, false]) {
      const made = clean(walk(metres), { close: false }, withTimes);
      expect(made.removed.knots).toBe(1);
      expect(made.removed.knotFixes).toBeGreaterThan(110);
      const coordinates = lineOf(made);
      // Of a mean of 120 fixes within 2 m, a third of a metre is 3 of its deviations.
      const [x, y] = frame.fromLngLat(...coordinates[1]);
      expect(Math.hypot((x - X) / SCALE - 100, (y - Y) / SCALE)).toBeLessThan(1.2);
      expect(coordinates.length).toBeLessThan(6);
    }
  });

  test('a slow walk has none', () => {
    const metres = Array.from({ length: 200 }, (_, i): [number, number] => [i * 0.5, 0]);
    expect(clean(walk(metres), { close: false }).removed.knots).toBe(0);
  });
});

describe('a walked edge', () => {
  // Every corner left out lay within the tolerance, so the outline moves by no more than that.
  test.each([3, 4.5, 6])(
    'straightened by %d ft keeps its area within that times its length',
    (feet) => {
      const jitterMeters = feet * FEET;
      const made = clean(walk(circle(60, 380)), { jitterMeters });
      expect(made.geometry.type).toBe('Polygon');
      const around = 2 * Math.PI * 60;
      expect(Math.abs(made.area!.squareMeters - Math.PI * 3600)).toBeLessThan(
        around * jitterMeters,
      );
      // Douglas & Peucker halve until a chord's height fits: at most twice the least number of chords.
      const chord = 2 * Math.acos(1 - jitterMeters / 60);
      expect(made.after).toBeLessThanOrEqual(2 * Math.ceil((2 * Math.PI) / chord));
      expect(made.closingGapMeters!).toBeCloseTo(around / 380, 2);
    },
  );

  test('with noise, spikes, a stop and an overlap still gives the acres within what it says', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const random = seeded(seed);
      // Sum of uniform numbers: near a normal one of 2.5 m, wandering slowly as receivers do.
      let [ex, ey] = [0, 0];
      const noisy = [...circle(62, 390), ...circle(62, 390).slice(0, 20)].map(
        ([x, y]): [number, number] => {
          ex = 0.95 * ex + (random() - 0.5) * 2.7;
          ey = 0.95 * ey + (random() - 0.5) * 2.7;
          return [x + ex, y + ey];
        },
      );
      for (let k = 0; k < 5; k++)
        noisy[30 + k * 70] = [noisy[30 + k * 70][0] + 120, noisy[0][1] - 90];
      const made = clean(walk(noisy), { sky: 'open', close: 'auto' });
      expect(made.geometry.type, `seed ${seed}`).toBe('Polygon');
      expect(made.removed.spikes, `seed ${seed}`).toBe(5);
      expect(made.removed.overlap, `seed ${seed}`).toBeGreaterThan(5);
      const { squareMeters, errorSquareMeters } = made.area!;
      const off = Math.abs(squareMeters - Math.PI * 62 * 62);
      expect(off, `seed ${seed}`).toBeLessThan(errorSquareMeters.low);
    }
  });

  test('a line stays open, also out and back by the same way, unless it is told to close', () => {
    const out = Array.from({ length: 150 }, (_, i): [number, number] => [i, 0.02 * i]);
    const back = out.map(([x, y]): [number, number] => [x, y + 2]).toReversed();
    expect(clean(walk(out)).geometry.type).toBe('LineString');
    expect(clean(walk([...out, ...back])).geometry.type).toBe('LineString');
    expect(clean(walk(circle(60, 380)), { close: false }).geometry.type).toBe('LineString');
    const half = circle(60, 380).slice(0, 200);
    expect(clean(walk(half)).geometry.type).toBe('LineString');
    const told = clean(walk(half), { close: true });
    expect(told.geometry.type).toBe('Polygon');
    // Half a circle closed by its diameter.
    expect(told.closingGapMeters!).toBeGreaterThan(100);
  });

  test('positions do not move but at knots: all corners are fixes of the walk', () => {
    const { line } = walk(circle(60, 380));
    const made = clean({ line, timesMs: new Float64Array(380).fill(Number.NaN) });
    const isFix = ([x, y]: Position) =>
      line.some(([lng, lat]) => Math.abs(x - lng) < 2e-9 && Math.abs(y - lat) < 2e-9);
    expect(outlineOf(made).every(isFix)).toBe(true);
  });
});

describe('accuracy', () => {
  const feet = (error: { low: number; likely: number; high: number }) =>
    [error.low / FEET, error.high / FEET].map((value) => Math.round(value * 100) / 100);

  test('figures of the trade by sky', () => {
    expect(feet(trackAccuracy(null, 'open').positionErrorMeters)).toEqual([10, 16]);
    expect(feet(trackAccuracy(null, 'canopy').positionErrorMeters)).toEqual([20, 40]);
    expect(feet(trackAccuracy(null, 'unknown').positionErrorMeters)).toEqual([10, 40]);
  });

  test('hdop stretches the open figures by its median, never below them', () => {
    const hdop = Float64Array.from([2, Number.NaN, 1.5, 9]);
    expect(trackAccuracy(hdop, 'unknown').from).toBe('hdop');
    expect(feet(trackAccuracy(hdop, 'unknown').positionErrorMeters)).toEqual([20, 32]);
    expect(feet(trackAccuracy(new Float64Array(3).fill(0.7), 'open').positionErrorMeters)).toEqual([
      10, 16,
    ]);
    expect(
      feet(trackAccuracy(new Float64Array(3).fill(0.7), 'canopy').positionErrorMeters),
    ).toEqual([20, 40]);
    expect(trackAccuracy(new Float64Array(3).fill(Number.NaN), 'open').from).toBe('sky');
  });

  test('area is uncertain by the way round times the position error', () => {
    const made = clean(walk(circle(60, 380)), { sky: 'canopy' });
    expect(made.area!.errorSquareMeters.low).toBeCloseTo(made.lengthMeters * 20 * FEET, 3);
    expect(made.area!.errorSquareMeters.high).toBeCloseTo(made.lengthMeters * 40 * FEET, 3);
  });

  test('it is said in plain words', () => {
    const metres = circle(60, 380);
    metres[50] = [400, 400];
    const said = sayCleaning(clean(walk(metres), { sky: 'open' }));
    expect(said[0]).toBe('1 spike was too far off to have been walked, and left out.');
    expect(said.join(' ')).toContain('Positions are good to about 10–16 ft (3.0–4.9 m).');
    expect(said.join(' ')).toMatch(
      /The area can be off by 0\.\d\d ac \(\d+ %\) at most, with all of the edge 13 ft/,
    );
  });
});

test('programmer errors throw', () => {
  expect(() => clean(walk([[0, 0]]))).toThrow(RangeError);
  expect(() => clean(walk(circle(9, 9)), { jitterMeters: -1 })).toThrow(RangeError);
});
