/**
 * Where water goes from each cell, one byte a cell:
 *
 *     0 1 2
 *     3 · 4     the neighbour, in index order
 *     5 6 7
 *
 * or one of the codes below.
 */
export const PIT = 8;
/** Drains off the site: on the rim, or beside a cell without data. */
export const OUTLET = 9;
export const NO_DATA = 10;

/** Steps of the eight pointers in the index. */
export function pointerSteps(width: number): Int32Array {
  return Int32Array.of(-width - 1, -width, -width + 1, -1, 1, width - 1, width, width + 1);
}
