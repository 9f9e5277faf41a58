import type { Position } from '../../../geo/plan/feature.ts';
import { localPlane } from '../../../layers/plan/local-plane.ts';

/** From stations of a section to places on the map and back. */

/** The place at a station, straight between the line's corners. Held to the line's ends. */
export function placeAtStation(
  line: readonly Position[],
  cornerStationsMeters: readonly number[],
  stationMeters: number,
): Position {
  let i = 0;
  while (i + 2 < cornerStationsMeters.length && cornerStationsMeters[i + 1]! < stationMeters) i++;
  const from = cornerStationsMeters[i]!;
  const to = cornerStationsMeters[i + 1]!;
  const share = to > from ? Math.max(0, Math.min(1, (stationMeters - from) / (to - from))) : 0;
  const [lng0, lat0] = line[i]!;
  const [lng1, lat1] = line[i + 1]!;
  return [lng0 + share * (lng1 - lng0), lat0 + share * (lat1 - lat0)];
}

/** The station nearest to a place, and how far off the line that place is. */
export function stationNear(
  line: readonly Position[],
  cornerStationsMeters: readonly number[],
  place: Position,
): { readonly stationMeters: number; readonly awayMeters: number } {
  const plane = localPlane(place);
  let best = { stationMeters: 0, awayMeters: Infinity };
  for (let i = 0; i + 1 < line.length; i++) {
    const [ax, ay] = plane.toPlane(line[i]!);
    const [bx, by] = plane.toPlane(line[i + 1]!);
    const [dx, dy] = [bx - ax, by - ay];
    const square = dx * dx + dy * dy;
    const share = square > 0 ? Math.max(0, Math.min(1, -(ax * dx + ay * dy) / square)) : 0;
    const awayMeters = Math.hypot(ax + share * dx, ay + share * dy);
    if (awayMeters >= best.awayMeters) continue;
    const [from, to] = [cornerStationsMeters[i]!, cornerStationsMeters[i + 1]!];
    best = { stationMeters: from + share * (to - from), awayMeters };
  }
  return best;
}

/** Height at a station, straight between the two stations around it; null where either has none. */
export function heightAt(
  stationsMeters: readonly number[],
  elevationsMeters: readonly (number | null)[],
  stationMeters: number,
): number | null {
  let low = 0;
  let high = stationsMeters.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (stationsMeters[middle]! <= stationMeters) low = middle;
    else high = middle;
  }
  const [z0, z1] = [elevationsMeters[low] ?? null, elevationsMeters[high] ?? null];
  if (z0 === null || z1 === null) return null;
  const [s0, s1] = [stationsMeters[low]!, stationsMeters[high]!];
  return s1 > s0 ? z0 + ((z1 - z0) * (stationMeters - s0)) / (s1 - s0) : z0;
}
