import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { DebrisSource } from './nearest-first.ts';

/**
 * Debris spread evenly over an outline (rings in plane metres), as about `count` equal parts in the
 * middles of square cells. An outline too thin to hold a middle has it all at its first corner.
 * Example: a square of 100 m in 25 parts has them 20 m apart.
 */
export function debrisCells(
  rings: readonly (readonly XY[])[],
  cubicMeters: number,
  areaSquareMeters: number,
  count: number,
): DebrisSource[] {
  const outer = rings[0] ?? [];
  if (outer.length === 0) return [];
  const step = Math.sqrt(areaSquareMeters / count);
  const xs = outer.map(([x]) => x);
  const ys = outer.map(([, y]) => y);
  const [west, south] = [Math.min(...xs), Math.min(...ys)];
  const columns = Math.max(1, Math.round((Math.max(...xs) - west) / step));
  const rows = Math.max(1, Math.round((Math.max(...ys) - south) / step));
  const places: XY[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const place: XY = [
        west + ((column + 0.5) * (Math.max(...xs) - west)) / columns,
        south + ((row + 0.5) * (Math.max(...ys) - south)) / rows,
      ];
      if (isInPolygon(place, rings)) places.push(place);
    }
  }
  if (places.length === 0) places.push(outer[0]!);
  return places.map(([x, y]) => ({ x, y, cubicMeters: cubicMeters / places.length }));
}
