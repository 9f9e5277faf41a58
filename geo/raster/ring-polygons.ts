/**
 * Sorts rings into polygons: every hole under the smallest outer ring that holds it. Outer rings
 * are those with a positive signed area by `turn` (1: counter-clockwise is outer in a frame with y
 * up, -1: with y down). Rings must not cross. O(outer × holes).
 */
export function ringPolygons(
  rings: readonly (readonly [number, number])[][],
  turn: 1 | -1,
): (readonly [number, number])[][][] {
  const outers: {
    ring: (readonly [number, number])[];
    area: number;
    holes: (readonly [number, number])[][];
  }[] = [];
  const holes: (readonly [number, number])[][] = [];
  for (const ring of rings) {
    const area = turn * signedArea(ring);
    if (area > 0) outers.push({ ring, area, holes: [] });
    else if (area < 0) holes.push(ring);
  }
  outers.sort((a, b) => a.area - b.area);
  for (const hole of holes) {
    const size = Math.abs(signedArea(hole));
    outers.find((o) => o.area > size && holds(o.ring, hole[0]!))?.holes.push(hole);
  }
  return outers.reverse().map((o) => [o.ring, ...o.holes]);
}

function signedArea(ring: readonly (readonly [number, number])[]): number {
  let twice = 0;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    twice += ax * by - bx * ay;
  }
  return twice / 2;
}

function holds(
  ring: readonly (readonly [number, number])[],
  [x, y]: readonly [number, number],
): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[j]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}
