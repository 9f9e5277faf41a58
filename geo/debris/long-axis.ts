import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';

/** Stations along the axis are tried this far apart, metres. */
const STEP = 0.5;

/**
 * The longest stretch inside a polygon of the line through its middle along which it is longest
 * (centroid and principal axis of the area of its outer ring): where a centre windrow goes. Ends
 * are where the stretch leaves the polygon, to half a metre, west end first. Null for a ring
 * without area. Plane metres.
 * Example: a rectangle of 170 × 74 m gives its middle line, 170 m.
 */
export function longAxis(rings: readonly (readonly XY[])[]): readonly [XY, XY] | null {
  const moments = momentsOf(rings[0] ?? []);
  if (!moments) return null;
  const { middle, xx, xy, yy } = moments;
  const turn = 0.5 * Math.atan2(2 * xy, xx - yy);
  const along: XY = [Math.cos(turn), Math.sin(turn)];
  const reach = Math.max(...rings[0]!.map(([x, y]) => Math.hypot(x - middle[0], y - middle[1])));
  const count = Math.ceil((2 * reach) / STEP);
  const placeAt = (i: number): XY => {
    const station = -reach + (i * 2 * reach) / count;
    return [middle[0] + station * along[0], middle[1] + station * along[1]];
  };
  let best: [number, number] | null = null;
  let start = -1;
  for (let i = 0; i <= count + 1; i++) {
    const isIn = i <= count && isInPolygon(placeAt(i), rings);
    if (isIn && start < 0) start = i;
    if (!isIn && start >= 0) {
      if (!best || i - 1 - start > best[1] - best[0]) best = [start, i - 1];
      start = -1;
    }
  }
  if (!best || best[1] === best[0]) return null;
  const ends = [placeAt(best[0]), placeAt(best[1])] as const;
  return ends[0][0] <= ends[1][0] ? ends : [ends[1], ends[0]];
}

/** Centroid and second moments about it of the area in a ring, closed or not. */
function momentsOf(ring: readonly XY[]) {
  if (ring.length < 3) return null;
  const [x0, y0] = ring[0]!;
  let [sum, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = [ring[i]![0] - x0, ring[i]![1] - y0];
    const next = ring[(i + 1) % ring.length]!;
    const [bx, by] = [next[0] - x0, next[1] - y0];
    const twice = ax * by - bx * ay;
    sum += twice;
    sx += (ax + bx) * twice;
    sy += (ay + by) * twice;
    sxx += (ax * ax + ax * bx + bx * bx) * twice;
    syy += (ay * ay + ay * by + by * by) * twice;
    sxy += (2 * ax * ay + ax * by + bx * ay + 2 * bx * by) * twice;
  }
  if (!(Math.abs(sum) > 1e-9)) return null;
  const [mx, my] = [sx / (3 * sum), sy / (3 * sum)];
  return {
    middle: [x0 + mx, y0 + my] as XY,
    xx: sxx / (6 * sum) - mx * mx,
    yy: syy / (6 * sum) - my * my,
    xy: sxy / (12 * sum) - mx * my,
  };
}
