import type { XY as Point } from './overlay/arrangement.ts';

/** Polylines in a plane of metres; a station is the distance along the line from its start. */

export function lineLength(line: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < line.length; i++) sum += distance(line[i - 1], line[i]);
  return sum;
}

export interface LinePlace {
  readonly at: Point;
  /** Direction of the line there: unit vector. */
  readonly along: Point;
}

/** Place at a station, held to the line's ends. Throws RangeError for a line of no length. */
export function placeAt(line: readonly Point[], station: number): LinePlace {
  let left = Math.max(0, station);
  let place: LinePlace | null = null;
  for (let i = 1; i < line.length; i++) {
    const length = distance(line[i - 1], line[i]);
    if (length === 0) continue;
    const share = Math.min(1, left / length);
    const [ax, ay] = line[i - 1];
    const [bx, by] = line[i];
    place = {
      at: [ax + (bx - ax) * share, ay + (by - ay) * share],
      along: [(bx - ax) / length, (by - ay) / length],
    };
    if (left <= length) return place;
    left -= length;
  }
  if (!place) throw new RangeError('A line without length has no stations.');
  return place;
}

/** The part of a line between two stations; empty where nothing is left. */
export function linePart(line: readonly Point[], from: number, to: number): Point[] {
  const start = Math.max(0, from);
  const end = Math.min(lineLength(line), to);
  if (!(end > start)) return [];
  const part: Point[] = [placeAt(line, start).at];
  let station = 0;
  for (let i = 1; i < line.length; i++) {
    station += distance(line[i - 1], line[i]);
    if (station > start && station < end) part.push(line[i]);
  }
  part.push(placeAt(line, end).at);
  return part;
}

/** Point of the straight piece from a to b that lies nearest to a place. */
export function nearestOnPiece([x, y]: Point, a: Point, b: Point): Point {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const share = square === 0 ? 0 : ((x - a[0]) * dx + (y - a[1]) * dy) / square;
  const on = Math.min(1, Math.max(0, share));
  return [a[0] + on * dx, a[1] + on * dy];
}

/** From a place to the nearest point of the straight piece from a to b, metres. */
export function distanceToPiece(place: Point, a: Point, b: Point): number {
  return distance(place, nearestOnPiece(place, a, b));
}

/** From a place to the nearest point of a line, metres; Infinity of a line without a piece. */
export function distanceToLine(place: Point, line: readonly Point[]): number {
  let nearest = Infinity;
  for (let i = 1; i < line.length; i++) {
    nearest = Math.min(nearest, distanceToPiece(place, line[i - 1], line[i]));
  }
  return nearest;
}

/** Corners sharper than this are cut off instead of running out to a spike. */
const mitreLimit = 2.5;

/** Chords of a half circle where a band ends round. */
const roundChords = 16;

/**
 * Outline of a band around a line, closed: left side there, right side back, ends square or half
 * circles about the ends of the line. A line of two points and 4 m gives a rectangle 4 m wide; a
 * line without length has no square ends, and is a circle with round ones.
 */
export function bandAround(
  line: readonly Point[],
  widthMeters: number,
  ends: 'square' | 'round' = 'square',
): Point[] {
  const clean = line.filter((p, i) => i === 0 || distance(p, line[i - 1]) > 0);
  const half = widthMeters / 2;
  if (clean.length < 2) {
    if (ends === 'square' || !clean[0]) return [];
    return [...halfCircle(clean[0], [0, 1], half), ...halfCircle(clean[0], [0, -1], half)];
  }
  const left: Point[] = [];
  const right: Point[] = [];
  for (let i = 0; i < clean.length; i++) {
    const before = i > 0 ? normal(clean[i - 1], clean[i]) : normal(clean[0], clean[1]);
    const after = i < clean.length - 1 ? normal(clean[i], clean[i + 1]) : before;
    const mx = before[0] + after[0];
    const my = before[1] + after[1];
    const square = mx * mx + my * my;
    // Length of the mitre in half widths is 2 / |sum of normals|.
    const stretch = square > 0 ? Math.min(2 / Math.sqrt(square), mitreLimit) : 1;
    const scale = square > 0 ? (half * stretch) / Math.sqrt(square) : half;
    const dx = (square > 0 ? mx : before[0]) * scale;
    const dy = (square > 0 ? my : before[1]) * scale;
    left.push([clean[i][0] + dx, clean[i][1] + dy]);
    right.push([clean[i][0] - dx, clean[i][1] - dy]);
  }
  right.reverse();
  if (ends === 'square') return [...left, ...right, left[0]];
  const [first, last] = [normal(clean[0], clean[1]), normal(clean.at(-2)!, clean.at(-1)!)];
  return [
    ...left,
    ...halfCircle(clean.at(-1)!, last, half),
    ...right,
    ...halfCircle(clean[0], [-first[0], -first[1]], half),
  ];
}

/** Clockwise from the side that the unit vector points to, both ends included. */
function halfCircle(middle: Point, [nx, ny]: Point, radius: number): Point[] {
  return Array.from({ length: roundChords + 1 }, (_, k): Point => {
    const turned = (Math.PI * k) / roundChords;
    const [cos, sin] = [Math.cos(turned) * radius, Math.sin(turned) * radius];
    return [middle[0] + nx * cos + ny * sin, middle[1] + ny * cos - nx * sin];
  });
}

function normal(a: Point, b: Point): Point {
  const length = distance(a, b);
  return [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
}

function distance(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}
