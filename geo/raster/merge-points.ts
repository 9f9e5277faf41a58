/** Points with their own arrays, same length. */
export interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** Two shots closer than this on both axes are the same place, metres. */
const SAME_PLACE_METERS = 0.001;

/**
 * Merges points of the same place (same millimetre) into one with their mean height; the first one's
 * place is kept, order of first appearance. Returns the points given where there is nothing to merge.
 * @param points frame metres, finite
 * Example: heights 10 and 11 on one place give one point of 10.5.
 */
export function mergePoints(points: Points): { points: Points; merged: number } {
  const { x, y, z } = points;
  const count = x.length;
  let bits = 4;
  while (1 << bits < count * 2) bits++;
  const mask = (1 << bits) - 1;
  // Open addressing over merged points; a slot holds index + 1.
  const slots = new Int32Array(1 << bits);
  const keptX = new Float64Array(count);
  const keptY = new Float64Array(count);
  const sums = new Float64Array(count);
  const counts = new Int32Array(count);
  let kept = 0;
  for (let i = 0; i < count; i++) {
    const column = Math.round(x[i]! / SAME_PLACE_METERS);
    const row = Math.round(y[i]! / SAME_PLACE_METERS);
    let slot = hash(column, row) & mask;
    let found = -1;
    for (; slots[slot] !== 0; slot = (slot + 1) & mask) {
      const other = slots[slot]! - 1;
      const same =
        Math.round(keptX[other]! / SAME_PLACE_METERS) === column &&
        Math.round(keptY[other]! / SAME_PLACE_METERS) === row;
      if (same) {
        found = other;
        break;
      }
    }
    if (found < 0) {
      found = kept++;
      slots[slot] = found + 1;
      keptX[found] = x[i]!;
      keptY[found] = y[i]!;
    }
    sums[found]! += z[i]!;
    counts[found]!++;
  }
  if (kept === count) return { points, merged: 0 };
  for (let i = 0; i < kept; i++) sums[i]! /= counts[i]!;
  return {
    points: { x: keptX.slice(0, kept), y: keptY.slice(0, kept), z: sums.slice(0, kept) },
    merged: count - kept,
  };
}

function hash(column: number, row: number): number {
  const mixed = Math.imul(column | 0, 0x9e3779b1) ^ Math.imul(row | 0, 0x85ebca6b);
  return Math.imul(mixed ^ (mixed >>> 15), 0x2c1b3c6d) ^ (mixed >>> 13);
}
