import { expect, test } from 'vitest';
import { bringIn } from '../../geo/formats/vector/bring-in.ts';
import { defaultCleanChoices } from '../../geo/formats/vector/clean-choices.ts';
import { cleanTrack, type CleanedTrack } from '../../geo/formats/vector/clean-track.ts';
import { sayCleaning } from '../../geo/formats/vector/say-cleaning.ts';
import { zoneFrame } from '../../geo/frame/zone-frame.ts';
import type { Position } from '../../geo/plan/feature.ts';
import { findOutlineFault } from '../../geo/plan/outline-faults.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { opened } from '../vector-rig.ts';

// Fields whose area is plain geometry, walked round with an error that is known because it is made
// here: the outline must come in simple, and its area within the error that is said beside it.

const frame = zoneFrame(-75, 36);
const [X, Y] = frame.fromLngLat(-75, 36);
// On the zone's middle a frame metre is 1/0.9996 of a ground metre.
const toPosition = ([x, y]: readonly number[]): Position =>
  frame.toLngLat(X + x * 0.9996, Y + y * 0.9996);

type Corner = readonly [number, number];
const fields: readonly { readonly name: string; readonly corners: readonly Corner[] }[] = [
  { name: 'square', corners: [[0, 0], [90, 0], [90, 90], [0, 90]] }, // prettier-ignore
  { name: 'strip', corners: [[0, 0], [160, 0], [160, 40], [0, 40]] }, // prettier-ignore
  { name: 'L', corners: [[0, 0], [120, 0], [120, 50], [50, 50], [50, 120], [0, 120]] }, // prettier-ignore
];

/** Shoelace formula. */
function areaOf(corners: readonly Corner[]): number {
  return (
    corners.reduce((sum, [x, y], i) => {
      const [u, v] = corners[(i + 1) % corners.length]!;
      return sum + x * v - u * y;
    }, 0) / 2
  );
}

/** Places every `step` metres along the edges, once round and `past` places more. */
function walkRound(corners: readonly Corner[], step: number, past: number): Corner[] {
  const places = corners.flatMap(([x, y], i): Corner[] => {
    const [u, v] = corners[(i + 1) % corners.length]!;
    const count = Math.round(Math.hypot(u - x, v - y) / step);
    return Array.from({ length: count }, (_, k) => [
      x + ((u - x) * k) / count,
      y + ((v - y) * k) / count,
    ]);
  });
  return [...places, ...places.slice(0, past)];
}

/** Near normal: the sum of twelve uniform numbers has the deviation 1. */
function normal(random: () => number): number {
  let sum = -6;
  for (let i = 0; i < 12; i++) sum += random();
  return sum;
}

/**
 * An error that wanders as a receiver's does (first-order, 30 s) and a lesser one of each fix alone;
 * deviations along each axis in metres. 1.9 m and 0.9 m make 3.0 m in the plane (square root of twice
 * the sum of squares), the low end of 10–16 ft that open sky gives (trade notes, section 1).
 */
function withError(places: readonly Corner[], random: () => number, slow: number, own: number) {
  const keep = Math.exp(-1 / 30);
  const add = slow * Math.sqrt(1 - keep * keep);
  let [ex, ey] = [slow * normal(random), slow * normal(random)];
  return places.map(([x, y]) => {
    ex = keep * ex + add * normal(random);
    ey = keep * ey + add * normal(random);
    return toPosition([x + ex + own * normal(random), y + ey + own * normal(random)]);
  });
}

function clean(line: readonly Position[]): CleanedTrack {
  const timesMs = Float64Array.from(line, (_, i) => 1000 * i);
  const choices = { ...defaultCleanChoices, sky: 'open', close: true } as const;
  return finish(cleanTrack(line, { timesMs, hdop: null }, frame, choices));
}

test.each(fields)(
  'a noisy walk round a $name comes in simple, its area as good as said',
  (field) => {
    const truth = areaOf(field.corners);
    let crossed = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const random = seeded(seed);
      const places = walkRound(field.corners, 0.8 + 0.6 * random(), Math.floor(20 * random()));
      const line = withError(places, random, 1.9, 0.9);
      if (findOutlineFault([[...line, line[0]!]])) crossed++;
      const made = clean(line);
      if (made.geometry.type !== 'Polygon') throw new Error(`seed ${seed}: ${made.geometry.type}`);
      expect(findOutlineFault(made.geometry.coordinates), `seed ${seed}`).toBeNull();
      expect(made.geometry.coordinates, `seed ${seed}`).toHaveLength(1);
      expect(made.crossesItself, `seed ${seed}`).toBe(false);
      const off = Math.abs(made.area!.squareMeters - truth);
      expect(off, `seed ${seed}`).toBeLessThan(made.area!.errorSquareMeters.likely);
    }
    // As walked nearly all cross themselves, else this would prove little.
    expect(crossed).toBeGreaterThan(30);
  },
);

test('what went is said, and two fields walked in one go stay two', () => {
  const line = withError(walkRound(fields[0]!.corners, 1, 0), seeded(5), 1.9, 0.9);
  const made = clean(line);
  expect(made.removed.loops).toBeGreaterThan(1);
  expect(sayCleaning(made).join(' ')).toContain(
    `${made.removed.loops} loops were narrower than positions are good to`,
  );
  // Two triangles of 40 m that meet in one crossing: an eight.
  const eight = clean(walkRound([[0, 0], [80, 80], [80, 0], [0, 80]], 1, 0).map(toPosition)); // prettier-ignore
  expect(eight.crossesItself).toBe(true);
  expect(eight.removed.loops).toBe(0);
  expect(sayCleaning(eight).join(' ')).toContain('more than one piece of ground');
});

test('brought in as a plot it needs no mending', async () => {
  const line = withError(walkRound(fields[1]!.corners, 1, 9), seeded(3), 1.9, 0.9);
  expect(findOutlineFault([[...line, line[0]!]])?.fault).toBe('crosses-itself');
  const points = line.map(([lng, lat], i) => {
    const time = new Date(Date.UTC(2024, 2, 19) + 1000 * i).toISOString();
    return `<trkpt lat="${lat.toFixed(9)}" lon="${lng.toFixed(9)}"><time>${time}</time></trkpt>`;
  });
  const gpx = `<gpx version="1.1"><trk><name>Edge</name><trkseg>${points.join('')}</trkseg></trk></gpx>`;
  const { features } = await opened({ 'edge.gpx': gpx });
  const clean = { sky: 'open', jitterMeters: defaultCleanChoices.jitterMeters } as const;
  const brought = finish(
    bringIn(features, [{ index: 0, kind: 'plot', name: null, clean }], () => 'it'),
  );
  expect(brought.leftOut).toEqual([]);
  expect(brought.faultyIds).toEqual([]);
  expect(brought.features.map(({ kind, name }) => [kind, name])).toEqual([['plot', 'Edge']]);
});

test('a walk that does not cross itself keeps its corners; a wide gap within stays a gap', () => {
  const plain = clean(walkRound(fields[2]!.corners, 1, 0).map(toPosition));
  expect(plain.removed.loops).toBe(0);
  expect(plain.after).toBe(6);
  expect(plain.area!.squareMeters / areaOf(fields[2]!.corners)).toBeCloseTo(1, 5);
  // Round the edge, in by a lane, and round a pond of 60 m by 60 m the other way: the pond is no
  // ground of his, and the triangle of 4 m by 20 m where he left again is.
  const lap: readonly Corner[] = [[0, 0], [100, 0], [100, 100], [0, 100], [0, 16], [20, 16], [20, 80], [80, 80], [80, 20], [-4, 20]]; // prettier-ignore
  const made = clean(walkRound(lap, 1, 0).map(toPosition));
  if (made.geometry.type !== 'Polygon') throw new Error(made.geometry.type);
  expect(findOutlineFault(made.geometry.coordinates)).toBeNull();
  expect(made.geometry.coordinates).toHaveLength(2);
  expect(made.area!.squareMeters / (10_000 - 3600 + 40)).toBeCloseTo(1, 2);
});
