import { seeded } from './seeded.ts';

/** Invented features from a seed, as GeoJSON text on open ocean, for GDAL to make files of. */

type Ring = [number, number][];

export interface SampleOptions {
  readonly type:
    'Point' | 'LineString' | 'Polygon' | 'MultiPolygon' | 'MultiLineString' | 'MultiPoint';
  readonly count: number;
  readonly seed: number;
  /** Third numbers on every position. */
  readonly withHeights?: boolean;
  /** Keys and texts beyond ASCII. */
  readonly letters?: 'ascii' | 'latin' | 'any';
}

/** Off Cape nowhere: 75° W, 36° N, where the demo lies. */
const PLACE = [-75, 36] as const;

export function sampleGeoJson(options: SampleOptions): string {
  const random = seeded(options.seed);
  const features = Array.from({ length: options.count }, (_, i) => ({
    type: 'Feature',
    properties: propertiesOf(i, random, options.letters ?? 'ascii'),
    geometry: { type: options.type, coordinates: coordinatesOf(options, random) },
  }));
  return JSON.stringify({ type: 'FeatureCollection', features });
}

function propertiesOf(i: number, random: () => number, letters: SampleOptions['letters']) {
  const tail = { ascii: 'oak & ash <3', latin: 'crête à côté', any: 'Łąka 草地' }[letters!];
  return {
    name: `Part ${i} ${tail}`,
    acres: Math.round(random() * 1e5) / 1e3,
    count: Math.floor(random() * 1e6) - 5e5,
    big: 9_007_199_254_740_991 - i,
    surveyed: `2024-0${1 + (i % 9)}-1${i % 10}`,
    remark: i % 3 === 0 ? null : `No. ${Math.floor(random() * 1000)}`,
  };
}

function coordinatesOf({ type, withHeights }: SampleOptions, random: () => number): unknown {
  const lift = (line: Ring): number[][] => {
    if (!withHeights) return line;
    const lifted = line.map(([x, y]) => [x, y, Math.round(random() * 1e4) / 100]);
    const last = lifted.length - 1;
    const isRing = line[0][0] === line[last][0] && line[0][1] === line[last][1];
    return isRing ? [...lifted.slice(0, last), lifted[0]] : lifted;
  };
  const origin = (): [number, number] => [PLACE[0] + random() * 0.2, PLACE[1] + random() * 0.2];
  const line = () => {
    const at = origin();
    return lift(
      Array.from({ length: 2 + Math.floor(random() * 12) }, () => {
        at[0] += (random() - 0.5) * 0.002;
        at[1] += (random() - 0.5) * 0.002;
        return [at[0], at[1]];
      }),
    );
  };
  const polygon = ([x, y]: [number, number] = origin()) => {
    const rings = [star([x, y], 0.004, random)];
    const holes = Math.floor(random() * 3);
    for (let k = 0; k < holes; k++) {
      // Well within the star, and apart from each other.
      rings.push(star([x + (k - 0.5) * 0.0018, y], 0.0007, random).reverse());
    }
    return rings.map(lift);
  };
  const several = <T>(make: (k: number) => T) =>
    Array.from({ length: 2 + Math.floor(random() * 3) }, (_, k) => make(k));
  switch (type) {
    case 'Point':
      return lift([origin()])[0];
    case 'LineString':
      return line();
    case 'Polygon':
      return polygon();
    case 'MultiPoint':
      return several(() => lift([origin()])[0]);
    case 'MultiLineString':
      return several(line);
    case 'MultiPolygon': {
      const [x, y] = origin();
      return several((k) => polygon([x + k * 0.01, y]));
    }
  }
}

/** A star-shaped ring, counter-clockwise, at least eight corners between 3/4 and all of the radius: no edge comes nearer than 0.6 of it. */
function star([x, y]: [number, number], radius: number, random: () => number): Ring {
  const corners = 8 + Math.floor(random() * 8);
  const ring: Ring = Array.from({ length: corners }, (_, i) => {
    const angle = ((i + random() * 0.6) / corners) * 2 * Math.PI;
    const r = radius * (0.75 + 0.25 * random());
    return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
  });
  return [...ring, [...ring[0]]];
}
