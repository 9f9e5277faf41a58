import type { CostSurface } from './least-cost.ts';
import { STEPS, stepColumns, stepRows } from './steps.ts';

/** A place on a grid in fractions of columns and rows from its north-west corner. */
export type CellPoint = readonly [column: number, row: number];

/** What is crossed for less than this many cells is only touched. */
const TOUCH = 1e-9;

/**
 * What a straight line costs: the cost of each cell times the metres of it inside that cell. Between
 * two of the sixteen directions costs are taken in proportion to the angle. Infinity where it enters
 * a cell that is not walked, leaves the grid, or passes between two barred cells at their corner;
 * Infinity also as soon as it has cost more than `most`.
 * Example: 4 columns at a cost of 2 a metre, 1 m cells: 8.
 */
export function lineCost(
  surface: CostSurface,
  [x0, y0]: CellPoint,
  [x1, y1]: CellPoint,
  most = Infinity,
): number {
  const { width, height, cellWidth, cellHeight } = surface;
  const [across, down] = [x1 - x0, y1 - y0];
  const meters = Math.hypot(across * cellWidth, down * cellHeight);
  if (meters === 0) return 0;
  const { near, next, share } = tablesFor(surface, across * cellWidth, down * cellHeight);
  const stepX = Math.sign(across);
  const stepY = Math.sign(down);
  let column = startCell(x0, stepX);
  let row = startCell(y0, stepY);
  const perColumn = stepX === 0 ? Infinity : 1 / Math.abs(across);
  const perRow = stepY === 0 ? Infinity : 1 / Math.abs(down);
  // Shares of the line at which it comes to the next middle line between columns and rows.
  let toColumn = stepX === 0 ? Infinity : (stepX > 0 ? column + 1 - x0 : x0 - column) * perColumn;
  let toRow = stepY === 0 ? Infinity : (stepY > 0 ? row + 1 - y0 : y0 - row) * perRow;
  const touch = TOUCH / Math.max(Math.abs(across), Math.abs(down));
  let gone = 0;
  let total = 0;
  const costAt = (c: number, r: number): number => {
    if (c < 0 || r < 0 || c >= width || r >= height) return Infinity;
    const at = r * width + c;
    return share === 0 ? near[at]! : near[at]! * (1 - share) + next[at]! * share;
  };
  for (;;) {
    const until = Math.min(toColumn, toRow, 1);
    if (until - gone > touch) {
      total += (until - gone) * meters * costAt(column, row);
      if (!(total <= most) || total === Infinity) return Infinity;
      gone = until;
    }
    if (until >= 1 - touch) return total;
    if (Math.abs(toColumn - toRow) <= touch) {
      const isOpen =
        costAt(column + stepX, row) < Infinity || costAt(column, row + stepY) < Infinity;
      if (!isOpen) return Infinity;
      column += stepX;
      row += stepY;
      toColumn += perColumn;
      toRow += perRow;
    } else if (toColumn < toRow) {
      column += stepX;
      toColumn += perColumn;
    } else {
      row += stepY;
      toRow += perRow;
    }
  }
}

/** What a line of several corners costs. */
export function wayCost(surface: CostSurface, way: readonly CellPoint[]): number {
  let total = 0;
  for (let i = 0; i + 1 < way.length; i++) total += lineCost(surface, way[i]!, way[i + 1]!);
  return total;
}

/** The cell in which a line begins: from a line between two, the one that it goes into. */
function startCell(at: number, step: number): number {
  const cell = Math.floor(at);
  return step < 0 && at === cell ? cell - 1 : cell;
}

interface DirectionTables {
  readonly near: Float32Array;
  readonly next: Float32Array;
  /** Of `next`; the rest is of `near`. */
  readonly share: number;
}

/** The tables of the two steps between which a direction lies, metres east and south. */
function tablesFor(surface: CostSurface, east: number, south: number): DirectionTables {
  const { perMeter, cellWidth, cellHeight } = surface;
  if (perMeter instanceof Float32Array) return { near: perMeter, next: perMeter, share: 0 };
  for (let s = 0; s < STEPS; s++) {
    const t = (s + 1) % STEPS;
    const a = [stepColumns[s]! * cellWidth, stepRows[s]! * cellHeight] as const;
    const b = [stepColumns[t]! * cellWidth, stepRows[t]! * cellHeight] as const;
    const past = a[0] * south - a[1] * east;
    const before = east * b[1] - south * b[0];
    const ahead = a[0] * east + a[1] * south;
    if (!(past >= 0 && before > 0 && ahead > 0)) continue;
    const whole = Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
    const share = past <= 1e-12 * ahead ? 0 : Math.atan2(past, ahead) / whole;
    return { near: perMeter[s]!, next: perMeter[t]!, share };
  }
  throw new RangeError(`no direction from ${east} m east, ${south} m south`);
}
