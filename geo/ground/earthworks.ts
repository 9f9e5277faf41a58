import type { Grid } from '../raster/grid.ts';

/** Berms laid on a ground and channels cut into it: what the plan makes of the surface. */

type XY = readonly [number, number];

/** A berm along a line in frame metres. */
export interface Ridge {
  readonly line: readonly XY[];
  readonly halfWidth: number;
  /** Half discs about its ends, or square. A line of one point twice is a disc. */
  readonly roundEnds: boolean;
  /** Height over the ground at a distance from the line, both metres; called within `halfWidth`. */
  heightAt(distance: number): number;
}

/** A channel along a line in frame metres, ends round. */
export interface Channel {
  readonly line: readonly XY[];
  readonly halfBottom: number;
  /** Metres out for a metre up; 0 for upright sides. */
  readonly sideRun: number;
  /** Height of the bottom at a distance from the start along the line, metres. */
  bottomAt(station: number): number;
  /** Nothing is cut farther from the line than this. */
  readonly reach: number;
}

/**
 * Lays a berm on `ground`: each cell within its base becomes its own height there, or what `out`
 * has if that is higher. Row-major, row 0 north, metres; NaN stays NaN. A gap is two ridges.
 */
export function raiseRidge(ground: Grid, out: Float32Array, ridge: Ridge): void {
  eachCellNear(ground, ridge.line, ridge.halfWidth, ridge.roundEnds, (cell, distance) => {
    const z = ground.data[cell]! + ridge.heightAt(distance);
    if (z > out[cell]!) out[cell] = z;
  });
}

/**
 * Cuts a channel into `out`: flat bottom, sides as they run, down to where they meet what is there.
 * Row-major, row 0 north, metres; NaN stays NaN. Nothing is ever raised.
 */
export function cutChannel(ground: Grid, out: Float32Array, channel: Channel): void {
  const { halfBottom, sideRun } = channel;
  const reach = sideRun > 0 ? Math.max(channel.reach, halfBottom) : halfBottom;
  eachCellNear(ground, channel.line, reach, true, (cell, distance, station) => {
    const beside = Math.max(0, distance - halfBottom);
    const z = channel.bottomAt(station) + (beside === 0 ? 0 : beside / sideRun);
    if (z < out[cell]!) out[cell] = z;
  });
}

/** Cells whose centre lies within `reach` of a line; a cell by a bend comes once for each run. */
function eachCellNear(
  { width, height, west, north, cellWidth, cellHeight }: Grid,
  line: readonly XY[],
  reach: number,
  roundEnds: boolean,
  visit: (cell: number, distance: number, station: number) => void,
): void {
  let station = 0;
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1]!;
    const [bx, by] = line[i]!;
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0 && !roundEnds) continue;
    const divisor = length || 1;
    const clamp = (value: number, most: number) => Math.min(most, Math.max(0, value));
    const left = clamp(Math.floor((Math.min(ax, bx) - reach - west) / cellWidth), width);
    const right = clamp(Math.ceil((Math.max(ax, bx) + reach - west) / cellWidth), width);
    const top = clamp(Math.floor((north - Math.max(ay, by) - reach) / cellHeight), height);
    const bottom = clamp(Math.ceil((north - Math.min(ay, by) + reach) / cellHeight), height);
    for (let row = top; row < bottom; row++) {
      const y = north - (row + 0.5) * cellHeight - ay;
      for (let column = left; column < right; column++) {
        const x = west + (column + 0.5) * cellWidth - ax;
        const along = (x * (bx - ax) + y * (by - ay)) / divisor;
        const before = along < 0;
        const after = along > length;
        if (!roundEnds && ((before && i === 1) || (after && i === line.length - 1))) continue;
        const on = before ? 0 : after ? length : along;
        const distance = Math.hypot(x - (on * (bx - ax)) / divisor, y - (on * (by - ay)) / divisor);
        if (distance <= reach) visit(row * width + column, distance, station + on);
      }
    }
    station += length;
  }
}
