import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { Stretch } from './fewest-gaps.ts';

/** Where other things meet a berm's line; all in plane metres, stations along the line. */

/**
 * Stations where another line crosses, rising; a line that only touches an end, or runs along the
 * berm, crosses nowhere. Example: a cross street at 40 m gives 40.
 */
export function crossingStations(line: readonly XY[], other: readonly XY[]): number[] {
  const stations: number[] = [];
  let before = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    for (let k = 1; k < other.length; k++) {
      const share = meeting(a, b, other[k - 1]!, other[k]!);
      if (share !== null) stations.push(before + share * length);
    }
    before += length;
  }
  return stations.sort((p, q) => p - q);
}

/** Stations from, to of the stretches of a line inside a polygon, found to `step` metres. */
export function stretchesInside(
  line: readonly XY[],
  rings: readonly (readonly XY[])[],
  step: number,
): Stretch[] {
  const length = lineLength(line);
  const stretches: [number, number][] = [];
  if (!(length > 0)) return stretches;
  const count = Math.max(1, Math.ceil(length / step));
  for (let i = 0; i < count; i++) {
    const [from, to] = [(i * length) / count, ((i + 1) * length) / count];
    if (!isInPolygon(placeAt(line, (from + to) / 2).at, rings)) continue;
    const last = stretches.at(-1);
    if (last?.[1] === from) last[1] = to;
    else stretches.push([from, to]);
  }
  return stretches;
}

/** A seat looks straight through a gap where the berm stands so square to it: common practice. */
const STRAIGHT_DEGREES = 15;

/**
 * Stretches of a berm where a gap would look straight at a seat within `reach` metres: where the
 * line to the seat is within 15° of square to the berm. Rising, to `step` metres.
 */
export function stretchesFacing(
  line: readonly XY[],
  seat: XY,
  reach: number,
  step: number,
): Stretch[] {
  const length = lineLength(line);
  const stretches: [number, number][] = [];
  if (!(length > 0)) return stretches;
  const least = Math.cos((STRAIGHT_DEGREES * Math.PI) / 180);
  const count = Math.max(1, Math.ceil(length / step));
  for (let i = 0; i < count; i++) {
    const [from, to] = [(i * length) / count, ((i + 1) * length) / count];
    const { at, along } = placeAt(line, (from + to) / 2);
    const [dx, dy] = [seat[0] - at[0], seat[1] - at[1]];
    const distance = Math.hypot(dx, dy);
    const across = Math.abs(dx * along[1] - dy * along[0]);
    if (distance > reach || (distance > 0 && across < least * distance)) continue;
    const last = stretches.at(-1);
    if (last?.[1] === from) last[1] = to;
    else stretches.push([from, to]);
  }
  return stretches;
}

/** Near a stand a gap is best so far off (15 to 30 yd): common practice, no source. */
export const STAND_GAP_METERS = [13.716, 27.432] as const;

/**
 * The station for a gap by a seat: 15 to 30 yd off, outside the barred stretches, and where the way
 * to the seat is most nearly square to the wind (a unit vector along it; null takes the nearest to
 * the middle of that band). Null where the line has no such place.
 */
export function gapBySeat(
  line: readonly XY[],
  seat: XY,
  wind: XY | null,
  barred: readonly Stretch[],
  step: number,
): number | null {
  const length = lineLength(line);
  const [least, most] = STAND_GAP_METERS;
  let best: { station: number; badness: number } | null = null;
  for (let i = 0; i * step <= length; i++) {
    const station = i * step;
    const { at } = placeAt(line, station);
    const [dx, dy] = [seat[0] - at[0], seat[1] - at[1]];
    const distance = Math.hypot(dx, dy);
    if (distance < least || distance > most) continue;
    if (barred.some(([from, to]) => station >= from && station <= to)) continue;
    const badness = wind
      ? Math.abs(dx * wind[0] + dy * wind[1]) / distance
      : Math.abs(distance - (least + most) / 2);
    if (!best || badness < best.badness) best = { station, badness };
  }
  return best?.station ?? null;
}

/** Share of the way from a to b at which c to d crosses it; null where it does not. */
function meeting(a: XY, b: XY, c: XY, d: XY): number | null {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  const turn = ux * vy - uy * vx;
  if (turn === 0) return null;
  const [wx, wy] = [c[0] - a[0], c[1] - a[1]];
  const share = (wx * vy - wy * vx) / turn;
  const other = (wx * uy - wy * ux) / turn;
  return share >= 0 && share < 1 && other > 0 && other <= 1 ? share : null;
}
