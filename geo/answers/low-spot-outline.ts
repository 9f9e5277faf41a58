import type { LngLatPolygon } from './answers.ts';
import type { GroundInUse } from './definition.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { shorePolygons, windowRound } from './shore-polygons.ts';

/**
 * Left, top, right and bottom cell of each of the spots 1 to `count`, found in one pass over the
 * labels; a spot without cells has its left beyond its right. Row-major, row 0 north.
 */
export function* spotBoxes(labels: Int32Array, width: number, count: number): Work<Int32Array> {
  const boxes = new Int32Array(count * 4);
  for (let i = 0; i < count; i++) boxes.set([width, labels.length, -1, -1], i * 4);
  const band = rowsPerBand(width);
  for (let start = 0, row = 0; start < labels.length; start += width, row++) {
    boxesOfRow(boxes, labels, start, width, row, count);
    if ((row + 1) % band === 0) yield { share: 0, doing: 'outlining low spots' };
  }
  return boxes;
}

function boxesOfRow(
  boxes: Int32Array,
  labels: Int32Array,
  start: number,
  width: number,
  row: number,
  count: number,
): void {
  for (let column = 0; column < width; column++) {
    const label = labels[start + column]!;
    if (label === 0 || label > count) continue;
    const at = (label - 1) * 4;
    if (column < boxes[at]!) boxes[at] = column;
    if (row < boxes[at + 1]!) boxes[at + 1] = row;
    if (column > boxes[at + 2]!) boxes[at + 2] = column;
    if (row > boxes[at + 3]!) boxes[at + 3] = row;
  }
}

/**
 * Shoreline of one full low spot: where the ground passes the spill height between cell centres,
 * from its own cells to their dry neighbours. `label` counts from 1, `box` is left, top, right,
 * bottom of its cells. Rings of [longitude, latitude], closed, rounded to 1e-9 degree.
 */
export function* spotOutline(
  ground: GroundInUse,
  surface: {
    readonly labels: Int32Array;
    readonly spots: readonly { readonly spillElevationMeters: number }[];
  },
  label: number,
  box: ArrayLike<number>,
): Work<LngLatPolygon[]> {
  const { grid } = ground;
  const window = windowRound(grid, box);
  const { column: left, row: top, width, height } = window;
  const spill = surface.spots[label - 1]!.spillElevationMeters;
  const depth = new Float64Array(width * height);
  const { data } = grid;
  for (let row = 0; row < height; row++) {
    const start = (top + row) * grid.width + left;
    depthsOfRow(depth, row * width, width, data, surface.labels, start, label, spill);
  }
  return yield* shorePolygons(ground, window, depth);
}

/** Depth below the spill along a row, 0 or less outside the spot. */
function depthsOfRow(
  depth: Float64Array,
  to: number,
  width: number,
  data: Float32Array,
  labels: Int32Array,
  start: number,
  label: number,
  spill: number,
): void {
  for (let column = 0; column < width; column++) {
    const below = spill - data[start + column]!;
    // A neighbouring spot at another level is no part of this one.
    depth[to + column] = labels[start + column] === label ? below : Math.min(below, 0);
  }
}
