import { describe, expect, test } from 'vitest';
import { placesApart } from '../../layers/plan/labels-apart.ts';
import { laneFeatures } from '../../layers/plan/lane-layers.ts';
import { localPlane, type Point } from '../../layers/plan/local-plane.ts';
import { seeded } from '../seeded.ts';

/** Labels of lines that run together stand where their lines part: worked by hand and by a fine walk. */

/** Shares its first 100 m with the other, then goes its own way for as long. */
const north: Point[] = [[0, 0], [100, 0], [200, 100]]; // prettier-ignore
const south: Point[] = [[0, 0], [100, 0], [200, -100]]; // prettier-ignore

/** Every metre of a line, by plain interpolation. */
function walked(line: readonly Point[]): Point[] {
  return line.slice(1).flatMap(([bx, by], i) => {
    const [ax, ay] = line[i]!;
    const steps = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay)));
    return Array.from({ length: steps + 1 }, (_, k): Point => [ax + ((bx - ax) * k) / steps, ay + ((by - ay) * k) / steps]); // prettier-ignore
  });
}
const apart = ([x, y]: Point, walk: readonly Point[]) =>
  walk.reduce((least, [a, b]) => Math.min(least, Math.hypot(a - x, b - y)), Infinity);

describe('places apart', () => {
  test('two ways from one access point are named where they have parted', () => {
    const [n, s] = placesApart([north, south]) as [Point, Point];
    for (const [x, y] of [n, s]) {
      expect(x).toBeGreaterThan(150);
      expect(Math.abs(y)).toBeCloseTo(x - 100, 9);
    }
    expect(n[1]).toBeGreaterThan(0);
    expect(s[1]).toBeLessThan(0);
  });

  test('alone in its middle; all the way along another they still do not lie on each other', () => {
    // 100 + 141.42 m long: its middle lies 20.71 m up the slanting piece.
    expect(placesApart([north])[0]![0]).toBeCloseTo(100 + 20.7107 / Math.SQRT2, 3);
    const [one, two, three] = placesApart([north, north, north]) as [Point, Point, Point];
    const gap = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]);
    expect(Math.min(gap(one, two), gap(two, three), gap(one, three))).toBeGreaterThan(60);
  });

  test('a line without length is labelled where it is, one without points is refused', () => {
    expect(placesApart([[[3, 4]], north])[0]).toEqual([3, 4]);
    expect(placesApart([[[3, 4], [3, 4]]])[0]).toEqual([3, 4]); // prettier-ignore
    expect(() => placesApart([[]])).toThrow(RangeError);
  });

  test('of 40 seeded bundles each label is on its line, as far from the others as a fine walk finds', () => {
    const random = seeded(41);
    for (let bundle = 0; bundle < 40; bundle++) {
      const trunk: Point[] = [[0, 0], [80 + 40 * random(), 40 * random()]]; // prettier-ignore
      const lines = Array.from({ length: 2 + Math.floor(random() * 3) }, (): Point[] => [
        ...trunk,
        [150 + 100 * random(), 300 * (random() - 0.5)],
        [250 + 100 * random(), 300 * (random() - 0.5)],
      ]);
      const walks = lines.map(walked);
      placesApart(lines).forEach((place, i) => {
        const own = walks[i]!;
        const others = walks.toSpliced(i, 1).flat();
        expect(apart(place, own)).toBeLessThan(0.6);
        const middle = own.slice(Math.ceil(0.13 * own.length), Math.floor(0.87 * own.length));
        const farthest = Math.max(...middle.map((at) => apart(at, others)));
        // Steps of a fiftieth of the line, and a fiftieth taken as alike.
        expect(apart(place, others)).toBeGreaterThan(farthest - 0.05 * own.length);
      });
    }
  });
});

test('lanes on the map carry their label as a point on their own stretch', () => {
  const plane = localPlane([-75, 36]);
  const lane = (line: Point[], is: 'best' | 'second', label: string) => ({ line: line.map(plane.toPosition) as [number, number][], is, label, exposed: [] }); // prettier-ignore
  const { features } = laneFeatures([lane(north, 'best', 'a'), lane(south, 'second', 'b')]);
  const labels = features.filter(({ properties }) => properties!['is'] === 'label');
  expect(labels.map(({ properties }) => properties!['label'])).toEqual(['a', 'b']);
  const [a, b] = labels.map(({ geometry }) => plane.toPlane(geometry.type === 'Point' ? (geometry.coordinates as [number, number]) : [NaN, NaN])); // prettier-ignore
  expect(a![1]).toBeGreaterThan(30);
  expect(b![1]).toBeLessThan(-30);
});
