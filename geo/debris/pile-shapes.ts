import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { notAboveZero } from './check-numbers.ts';

type XY = readonly [number, number];

/**
 * The seven pile shapes of PNW-GTR-364 (Hardy 1996), figure 1, as in handbook §2; metres, lengths
 * along x. The frusta are published with half round sections, twice as wide as high; here a section
 * is half an ellipse of any width and height, which is the same where it is half round.
 */
export type PileShape =
  | { readonly kind: 'half-sphere'; readonly height: number }
  | { readonly kind: 'paraboloid'; readonly width: number; readonly height: number }
  | ({ readonly kind: 'half-cylinder' } & Box)
  | ({ readonly kind: 'half-ellipsoid' } & Box)
  | ({ readonly kind: 'half-frustum' } & Tapered)
  | ({ readonly kind: 'half-frustum-rounded' } & Tapered)
  | ({ readonly kind: 'irregular'; readonly length2: number } & Tapered);

interface Box {
  readonly length: number;
  readonly width: number;
  readonly height: number;
}

/** Different at its two ends; the second is the one at greater x. */
interface Tapered extends Box {
  readonly width2: number;
  readonly height2: number;
}

/** The shape itself, or the problem of a measure that is not above 0. */
export function checkPile(shape: PileShape): Result<PileShape> {
  const measures = Object.entries(shape).flatMap(([name, value]) =>
    typeof value === 'number'
      ? [[`${name.replace('2', ' at the far end')} of the heap`, value]]
      : [],
  );
  return notAboveZero(Object.fromEntries(measures)) ?? ok(shape);
}

/**
 * Gross volume of a pile, m³ (any unit in, its cube out).
 * Example: a half ellipsoid 20 × 30 × 10 is 3,141.59.
 */
export function pileVolume(shape: PileShape): number {
  if (shape.kind === 'half-sphere') return (2 / 3) * Math.PI * shape.height ** 3;
  if (shape.kind === 'paraboloid') return (Math.PI * shape.height * shape.width ** 2) / 8;
  const { length: l, width: w, height: h } = shape;
  if (shape.kind === 'half-cylinder') return (Math.PI * w * l * h) / 4;
  if (shape.kind === 'half-ellipsoid') return (Math.PI * w * l * h) / 6;
  const { width2: w2, height2: h2 } = shape;
  if (shape.kind === 'irregular') return ((l + shape.length2) * (w + w2) * (h + h2)) / 8;
  const body = (Math.PI * l * (2 * w * h + 2 * w2 * h2 + w * h2 + w2 * h)) / 24;
  const ends = (Math.PI * (w * w * h + w2 * w2 * h2)) / 12;
  return shape.kind === 'half-frustum' ? body : body + ends;
}

/** Greatest height, metres. */
export function pileHeight(shape: PileShape): number {
  return 'height2' in shape ? Math.max(shape.height, shape.height2) : shape.height;
}

/** How many corners a round edge has all the way round. */
const ROUND = 64;

/**
 * Outline on the ground, metres about the pile's middle, counter-clockwise, first corner once.
 * Round edges have 64 corners all round, so that they take up to 0.2 % less than the shape.
 */
export function pileOutline(shape: PileShape): XY[] {
  if (shape.kind === 'half-sphere') return arc(0, shape.height, shape.height, 0, ROUND);
  if (shape.kind === 'paraboloid') return arc(0, shape.width / 2, shape.width / 2, 0, ROUND);
  const { length, width } = shape;
  if (shape.kind === 'half-ellipsoid') return arc(0, length / 2, width / 2, 0, ROUND);
  if (shape.kind === 'half-cylinder') return quad(length, width, width);
  if (shape.kind === 'half-frustum') return quad(length, width, shape.width2);
  if (shape.kind === 'irregular') {
    const mean = (width + shape.width2) / 2;
    return quad((length + shape.length2) / 2, mean, mean);
  }
  const [first, second] = [width / 2, shape.width2 / 2];
  return [
    ...arc(length / 2, second, second, -ROUND / 4, ROUND / 2 + 1),
    ...arc(-length / 2, first, first, ROUND / 4, ROUND / 2 + 1),
  ];
}

/**
 * Height at a place in the pile's own metres; 0 outside. The irregular solid, which is published as
 * a product of means alone, is a box of the mean length and width whose top slants from end to end.
 */
export function pileHeightAt(shape: PileShape, x: number, y: number): number {
  if (shape.kind === 'half-sphere') {
    return Math.sqrt(Math.max(0, shape.height ** 2 - x * x - y * y));
  }
  if (shape.kind === 'paraboloid') {
    return shape.height * Math.max(0, 1 - (x * x + y * y) / (shape.width / 2) ** 2);
  }
  const { length, width, height } = shape;
  if (shape.kind === 'half-ellipsoid') return dome(x / (length / 2), y / (width / 2), height);
  if (shape.kind === 'half-cylinder') {
    return Math.abs(x) <= length / 2 ? dome(0, y / (width / 2), height) : 0;
  }
  const { width2, height2 } = shape;
  const whole = shape.kind === 'irregular' ? (length + shape.length2) / 2 : length;
  const along = x / whole + 0.5;
  const between = (a: number, b: number) => a + (b - a) * along;
  if (along < 0 || along > 1) {
    if (shape.kind !== 'half-frustum-rounded') return 0;
    const [w, h] = along < 0 ? [width, height] : [width2, height2];
    return dome((Math.abs(x) - length / 2) / (w / 2), y / (w / 2), h);
  }
  if (shape.kind === 'irregular') {
    return Math.abs(y) <= (width + width2) / 4 ? between(height, height2) : 0;
  }
  return dome(0, y / (between(width, width2) / 2), between(height, height2));
}

function dome(x: number, y: number, height: number): number {
  return height * Math.sqrt(Math.max(0, 1 - x * x - y * y));
}

/** Corners of an oval about (middle, 0), from one of 64 places on, counter-clockwise. */
function arc(middle: number, alongX: number, alongY: number, from: number, count: number): XY[] {
  return Array.from({ length: count }, (_, i): XY => {
    const angle = (2 * Math.PI * (from + i)) / ROUND;
    return [middle + alongX * Math.cos(angle), alongY * Math.sin(angle)];
  });
}

function quad(length: number, first: number, second: number): XY[] {
  const half = length / 2;
  return [
    [-half, -first / 2],
    [half, -second / 2],
    [half, second / 2],
    [-half, first / 2],
  ];
}
