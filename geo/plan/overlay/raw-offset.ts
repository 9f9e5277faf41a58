import type { XY } from './arrangement.ts';

/**
 * How corners are drawn that turn away from the side offset to: an arc of chords that each stray
 * from the circle by at most `chordErrorMeters` (their ends on the circle), or both sides drawn out
 * to a point, cut square at `limit` distances from the corner.
 */
export type Join =
  | { readonly join: 'round'; readonly chordErrorMeters: number }
  | { readonly join: 'mitre'; readonly limit: number };

/**
 * The walk beside a walk, `distance` to its right: every piece moved sideways, pieces joined round
 * corners that turn left, and led back through the corner where they turn right. Together with the
 * same for the other side, or for a closed ring counter-clockwise, it runs round the buffer
 * exactly: every place within reach, and no other, has a winding number above 0 (each piece adds
 * a rectangle, each left corner a wedge, all counter-clockwise).
 * `walk` in metres, without pieces of no length. A closed walk does not repeat its first point.
 */
export function rawOffset(
  walk: readonly XY[],
  distance: number,
  closed: boolean,
  join: Join,
): XY[] {
  const out: XY[] = [];
  const n = walk.length;
  const pieces = closed ? n : n - 1;
  for (let i = 0; i < pieces; i++) {
    const a = walk[i];
    const b = walk[(i + 1) % n];
    const [nx, ny] = rightOf(a, b);
    if (!closed && i === 0) out.push([a[0] + nx * distance, a[1] + ny * distance]);
    if (closed || i < pieces - 1) {
      joinAt(out, b, [nx, ny], rightOf(b, walk[(i + 2) % n]), distance, join);
    } else out.push([b[0] + nx * distance, b[1] + ny * distance]);
  }
  return out;
}

/** A half circle round a line's end, from right of `from → at` to left of it. */
export function roundEnd(from: XY, at: XY, distance: number, chordErrorMeters: number): XY[] {
  const out: XY[] = [];
  const [nx, ny] = rightOf(from, at);
  arc(out, at, [nx, ny], Math.PI, distance, chordErrorMeters);
  return out;
}

/** The circle of chords round a point, counter-clockwise, corners on the circle. */
export function roundPoint(at: XY, distance: number, chordErrorMeters: number): XY[] {
  const out: XY[] = [];
  arc(out, at, [1, 0], 2 * Math.PI, distance, chordErrorMeters);
  out.pop();
  return out;
}

/** Unit vector to the right of the way from a to b. */
function rightOf([ax, ay]: XY, [bx, by]: XY): [number, number] {
  const length = Math.hypot(bx - ax, by - ay);
  return [(by - ay) / length, (ax - bx) / length];
}

/** From the end of one moved piece to the start of the next, ends included. */
function joinAt(out: XY[], at: XY, m: XY, n: XY, distance: number, join: Join): void {
  const cross = m[0] * n[1] - m[1] * n[0];
  const dot = m[0] * n[0] + m[1] * n[1];
  // Straight on to within rounding needs one point only.
  if (Math.abs(cross) < 1e-12 && dot > 0) {
    out.push([at[0] + n[0] * distance, at[1] + n[1] * distance]);
  } else if (cross < 0 && !(cross > -1e-12 && dot < 0)) {
    out.push([at[0] + m[0] * distance, at[1] + m[1] * distance]);
    out.push(at);
    out.push([at[0] + n[0] * distance, at[1] + n[1] * distance]);
  } else {
    const angle = Math.atan2(Math.abs(cross), dot);
    if (join.join === 'round') arc(out, at, m, angle, distance, join.chordErrorMeters);
    else mitre(out, at, m, n, angle, distance, join.limit);
  }
}

function mitre(
  out: XY[],
  at: XY,
  m: XY,
  n: XY,
  angle: number,
  distance: number,
  limit: number,
): void {
  const half = angle / 2;
  if (1 / Math.cos(half) <= limit) {
    // m + n points to the tip and is 2 cos(half) long.
    const reach = distance / (2 * Math.cos(half) ** 2);
    out.push([at[0] + (m[0] + n[0]) * reach, at[1] + (m[1] + n[1]) * reach]);
    return;
  }
  // Both sides run on until they are `limit` distances out along the middle.
  const on = (distance * (limit - Math.cos(half))) / Math.sin(half);
  out.push([at[0] + m[0] * distance - m[1] * on, at[1] + m[1] * distance + m[0] * on]);
  out.push([at[0] + n[0] * distance + n[1] * on, at[1] + n[1] * distance - n[0] * on]);
}

function arc(
  out: XY[],
  at: XY,
  start: XY,
  angle: number,
  distance: number,
  chordErrorMeters: number,
): void {
  const chords = Math.max(1, Math.ceil(angle / chordAngle(distance, chordErrorMeters)));
  for (let k = 0; k <= chords; k++) {
    const turned = (angle * k) / chords;
    const cos = Math.cos(turned);
    const sin = Math.sin(turned);
    out.push([
      at[0] + (start[0] * cos - start[1] * sin) * distance,
      at[1] + (start[0] * sin + start[1] * cos) * distance,
    ]);
  }
}

/** The angle of a chord that strays from its circle by the error; at most a quarter turn. */
export function chordAngle(distance: number, chordErrorMeters: number): number {
  const share = Math.min(1, chordErrorMeters / distance);
  return Math.min(Math.PI / 2, 2 * Math.acos(1 - share));
}
