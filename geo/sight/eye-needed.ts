import { expectWindowInside, type CellField, type CellWindow } from '../raster/cell-window.ts';
import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { eyeOn, type Eye, type Lookout } from './lookout.ts';

/** Of a lookout whose height is the question. */
export type LookoutPlace = Omit<Lookout, 'eyeMeters'>;

/**
 * How high over its ground an eye must be to see a thing of `targetMeters` on each cell of a window:
 * 0 where an eye on the ground sees it, Infinity beyond the radius, NaN without data. The lines are
 * those of `viewshed`, so an eye of height h sees exactly the cells with at most h; one pass answers
 * every height. Row-major, row 0 north. Null where there is no ground under the eye.
 * Throws RangeError as `eyeOn` does and for a window off the grid.
 * Example: a wall of 3 m halfway to bare flat ground wants an eye of 6 m.
 */
export function* eyeNeeded(
  ground: Grid,
  place: LookoutPlace,
  window: CellWindow,
  targetMeters: number,
): Work<CellField | null> {
  expectWindowInside(window, ground);
  if (!Number.isFinite(targetMeters)) throw new RangeError(`a target ${targetMeters} m high`);
  const eye = eyeOn(ground, { ...place, eyeMeters: 0 });
  if (eye === null) return null;
  const data = new Float32Array(window.width * window.height);
  const band = Math.max(1, Math.floor(rowsPerBand(window.width) / 256));
  for (let row = 0; row < window.height; row += band) {
    const end = Math.min(window.height, row + band);
    for (let r = row; r < end; r++) {
      for (let c = 0; c < window.width; c++) {
        const [column, gridRow] = [window.column + c, window.row + r];
        data[r * window.width + c] = isBeyond(ground, eye, place.radiusMeters, column, gridRow)
          ? Infinity
          : neededFor(ground, eye, targetMeters, column, gridRow);
      }
    }
    yield { share: end / window.height, doing: 'looking from every height' };
  }
  return { data, window };
}

function isBeyond({ cellWidth, cellHeight }: Grid, eye: Eye, radius: number, c: number, r: number) {
  return Math.hypot((c - eye.column) * cellWidth, (r - eye.row) * cellHeight) > radius;
}

/**
 * The same for one cell. `eye`: of `eyeOn` with a height of 0. Each cell is lowered by the round earth
 * as seen from the eye.
 */
export function neededFor(
  ground: Grid,
  eye: Eye,
  targetMeters: number,
  column: number,
  row: number,
): number {
  const across = column - eye.column;
  const down = row - eye.row;
  const top = surfaceOver(ground, eye, across, down, false) + targetMeters;
  if (top !== top) return NaN;
  const isDown = Math.abs(down) > Math.abs(across);
  const steps = isDown ? Math.abs(down) : Math.abs(across);
  const side = isDown ? across : down;
  const way = Math.sign(isDown ? down : across);
  const sideWay = Math.sign(side);
  let needed = 0;
  let aside = 0;
  let sideSteps = 0;
  for (let step = 1; step < steps; step++) {
    aside += Math.abs(side);
    if (aside >= steps) {
      aside -= steps;
      sideSteps += sideWay;
    }
    const [c, r] = isDown ? [sideSteps, way * step] : [way * step, sideSteps];
    let passed = surfaceOver(ground, eye, c, r, true);
    if (aside > 0) {
      const next = isDown
        ? surfaceOver(ground, eye, c + sideWay, r, true)
        : surfaceOver(ground, eye, c, r + sideWay, true);
      if (passed !== passed) passed = next;
      else if (next === next) passed += (next - passed) * (aside / steps);
    }
    // The line through the target's top and this crossing, drawn back to the eye.
    const height = (passed * steps - top * step) / (steps - step);
    if (height > needed) needed = height;
  }
  return needed;
}

/** Over the ground under the eye, `across` columns and `down` rows off; NaN without data. */
function surfaceOver(
  { data, width, cellWidth, cellHeight }: Grid,
  eye: Eye,
  across: number,
  down: number,
  withScreens: boolean,
): number {
  const cell = (eye.row + down) * width + eye.column + across;
  const meters = (across * cellWidth) ** 2 + (down * cellHeight) ** 2;
  const over = data[cell]! - eye.height - eye.dropPerSquareMeter * meters;
  return withScreens && eye.screens !== null ? over + (eye.screens[cell]! || 0) : over;
}
