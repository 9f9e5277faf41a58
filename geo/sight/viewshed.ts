import type { CellField } from '../raster/cell-window.ts';
import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import { eyeOn, type Eye, type Lookout } from './lookout.ts';

/**
 * From how high over its ground each cell is in sight of an eye, metres: 0 where the ground itself
 * is seen, so a thing of height h is seen where the answer is at most h. Exact for rays to every
 * cell: the line from the eye to a cell's centre is held against the surface wherever it crosses
 * the middle lines of columns (of rows, where it runs through more rows than columns), straight
 * between the two cells there. (Method R3 of Franklin & Ray 1994, "Higher isn't necessarily better".)
 * A cell without data is NaN and hides nothing; beside one, the other cell counts alone. NaN also
 * beyond the radius. Row-major, row 0 north, in the window that the radius reaches.
 * Null where there is no ground under the eye. Throws RangeError as `eyeOn` does.
 * Example: from 2 m up over flat ground a wall of 3 m, 10 m off, leaves 4 m unseen 20 m off.
 */
export function* viewshed(ground: Grid, lookout: Lookout): Work<CellField | null> {
  const eye = eyeOn(ground, lookout);
  if (eye === null) return null;
  const view = openView(ground, eye, lookout.radiusMeters);
  const { column, row, window: w } = eye;
  const most = Math.max(
    column - w.column,
    w.column + w.width - 1 - column,
    row - w.row,
    w.row + w.height - 1 - row,
  );
  let steps = 0;
  for (let away = 1; away <= most; away++) {
    for (let octant = 0; octant < 8; octant++) {
      steps += castOctant(view, octant, away);
      if (steps < STEPS_PER_SLICE) continue;
      steps = 0;
      // Cells come with the square of the distance, steps with its cube.
      yield { share: (away / most) ** 3, doing: 'looking round' };
    }
  }
  return { data: view.seenFrom, window: w };
}

/** A few milliseconds. */
const STEPS_PER_SLICE = 1_000_000;
const NOT_YET = -1;

interface View {
  readonly ground: Grid;
  readonly eye: Eye;
  readonly radius: number;
  /** Heights of the bare ground over the eye by cell of the window. */
  readonly groundOver: Float64Array;
  /**
   * Heights over the eye of all that hides, row by row, and again column by column: a ray reads
   * memory in the order it goes through it.
   */
  readonly over: readonly [Float64Array, Float64Array];
  readonly seenFrom: Float32Array;
}

function openView(ground: Grid, eye: Eye, radius: number): View {
  const { window: w, dropPerSquareMeter, height, screens } = eye;
  const cells = w.width * w.height;
  const groundOver = new Float64Array(cells);
  const over = screens === null ? groundOver : new Float64Array(cells);
  const turned = new Float64Array(cells);
  for (let r = 0, at = 0; r < w.height; r++) {
    const south = (r + w.row - eye.row) * ground.cellHeight;
    let cell = (r + w.row) * ground.width + w.column;
    for (let c = 0; c < w.width; c++, at++, cell++) {
      const east = (c + w.column - eye.column) * ground.cellWidth;
      const drop = dropPerSquareMeter * (east * east + south * south);
      groundOver[at] = ground.data[cell]! - height - drop;
      if (screens !== null) over[at] = groundOver[at]! + (screens[cell]! || 0);
      turned[c * w.height + r] = over[at]!;
    }
  }
  const seenFrom = new Float32Array(cells).fill(NOT_YET);
  seenFrom[(eye.row - w.row) * w.width + eye.column - w.column] = 0;
  return { ground, eye, radius, groundOver, over: [over, turned], seenFrom };
}

/**
 * Casts the rays of an eighth of the round that first meet a cell's centre `away` cells off along
 * the eighth's axis, each on to the last centre that it meets: a cell met by an earlier ray is done.
 * Bits of `octant`: 1 mostly north or south, 2 to the west, 4 to the north. Returns the steps taken.
 */
function castOctant(view: View, octant: number, away: number): number {
  const { eye, ground, groundOver, seenFrom, radius } = view;
  const { window: w } = eye;
  const column = eye.column - w.column;
  const row = eye.row - w.row;
  const west = (octant & 2) !== 0;
  const north = (octant & 4) !== 0;
  const columns = west ? column : w.width - 1 - column;
  const rows = north ? row : w.height - 1 - row;
  const isDown = (octant & 1) !== 0;
  const ends = isDown ? rows : columns;
  if (away > ends) return 0;
  const sideEnds = isDown ? columns : rows;
  const across = west ? -1 : 1;
  const down = north ? -1 : 1;
  const over = view.over[octant & 1]!;
  const from = isDown ? column * w.height + row : row * w.width + column;
  const stride = isDown ? down : across;
  const sideStride = isDown ? across * w.height : down * w.width;
  const meters = isDown ? ground.cellHeight : ground.cellWidth;
  const sideMeters = isDown ? ground.cellWidth : ground.cellHeight;
  let steps = 0;
  for (let side = 0; side <= Math.min(away, sideEnds); side++) {
    const leap = isDown
      ? away * down * w.width + side * across
      : away * across + side * down * w.width;
    const target = row * w.width + column + leap;
    if (seenFrom[target] !== NOT_YET) continue;
    const far = Math.hypot(away * meters, side * sideMeters);
    const inWindow = Math.min(Math.floor(ends / away), side === 0 ? ends : sideEnds / side);
    const times = Math.floor(Math.min(inWindow, radius / far));
    if (times < 1) seenFrom[target] = NaN;
    else
      castRay(
        over,
        from,
        stride,
        sideStride,
        away,
        side,
        times,
        groundOver,
        seenFrom,
        target,
        leap,
      );
    steps += times * away;
  }
  return steps;
}

/**
 * One ray through `times` cells' centres, each `away` cells along its axis and `side` aside of the
 * last; the first is `target` in the window and `leap` the way from one to the next.
 */
function castRay(
  over: Float64Array,
  from: number,
  stride: number,
  sideStride: number,
  away: number,
  side: number,
  times: number,
  groundOver: Float64Array,
  seenFrom: Float32Array,
  target: number,
  leap: number,
): void {
  const share = 1 / away;
  let at = from;
  let step = 1;
  let out = target;
  // Steepest of what was passed: metres over the eye for a step along the axis.
  let steepest = -Infinity;
  for (let met = 0; met < times; met++) {
    let aside = 0;
    for (let i = 1; i < away; i++, step++) {
      aside += side;
      // All ones when the ray comes into the next row: as a branch it would be guessed wrong.
      const over1 = (away - 1 - aside) >> 31;
      aside -= away & over1;
      at += stride + (sideStride & over1);
      const near = over[at]!;
      const next = over[at + sideStride]!;
      let passed = near + (next - near) * (aside * share);
      if (passed !== passed) passed = near === near ? near : next;
      if (passed > steepest * step) steepest = passed / step;
    }
    at = from + (met + 1) * (away * stride + side * sideStride);
    const hidden = steepest * step - groundOver[out]!;
    seenFrom[out] = hidden < 0 ? 0 : hidden;
    const passed = over[at]!;
    if (passed > steepest * step) steepest = passed / step;
    step++;
    out += leap;
  }
}
