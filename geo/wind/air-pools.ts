import type { XY } from '../plan/overlay/arrangement.ts';
import type { Grid } from '../raster/grid.ts';
import { cellAt } from '../raster/sample.ts';
import { fillBasins, findBasins } from '../water/fill-basins.ts';
import { flowPointers } from '../water/flow-pointers.ts';
import { findLowSpots } from '../water/low-spots.ts';
import { NO_DATA, OUTLET, pointerSteps } from '../water/pointer-codes.ts';
import type { FilledSpot } from '../water/spot-tally.ts';
import type { Work } from '../work.ts';

/** What a hollow must be for evening air to stand in it. Every number of it editable. */
export interface AirPoolRule {
  readonly leastDepthMeters: number;
  readonly leastAreaSquareMeters: number;
}

/** A foot deep at its deepest and a fortieth of an acre: ours, no source. */
export const usualAirPools: AirPoolRule = { leastDepthMeters: 0.3048, leastAreaSquareMeters: 100 };

/** Where cold air stands on a ground, and the way that it takes over it. */
export interface AirPools {
  /** The ground filled brim full; air passes over what is too shallow to hold it. */
  readonly filled: Grid;
  /** Over the filled ground: every cell leads down, or off it. */
  readonly pointers: Uint8Array;
  /** Per cell: 0 outside, else 1 + the place of its pool in `pools`. */
  readonly labels: Int32Array;
  /** By volume, largest first. */
  readonly pools: readonly FilledSpot[];
}

/**
 * Where evening air stands once it has drained down: behind berms and heaps and in hollows, brim full,
 * as water would (trade notes, section 6.8). `ground` carries what is drawn. Cells at its rim and
 * beside no data drain freely, so a pool cut by the rim is missed. Row-major, row 0 north, metres;
 * NaN is in no pool.
 * Example: a wall of 2 m across a trough that falls 2 % holds a pool that reaches 100 m up the trough.
 */
export function* airPools(ground: Grid, rule: AirPoolRule = usualAirPools): Work<AirPools> {
  const filled = yield* fillBasins(ground, yield* findBasins(ground));
  const { spots, labels } = yield* findLowSpots(ground, filled);
  const pools: FilledSpot[] = [];
  const poolOf = new Int32Array(spots.length + 1);
  for (const [i, spot] of spots.entries()) {
    if (spot.maxDepthMeters < rule.leastDepthMeters) continue;
    if (spot.areaSquareMeters < rule.leastAreaSquareMeters) continue;
    pools.push(spot);
    poolOf[i + 1] = pools.length;
  }
  for (let i = 0; i < labels.length; i++) labels[i] = poolOf[labels[i]!]!;
  const over = { ...ground, data: filled };
  const pointers = yield* flowPointers(over, new Uint8Array(filled.length));
  return { filled: over, pointers, labels, pools };
}

/** The way of air down from a place, into the first pool that holds it. */
export interface AirWay {
  /** Place in `pools`; null where it drains away, off the ground or out of range. */
  readonly pool: number | null;
  /** Frame metres, downhill from the place itself; its last corner lies in the pool. */
  readonly line: readonly XY[];
}

/** Paces longer than a cell's diagonal never end in the cell that they began in. */
const PACE_CELLS = 1.5;
/** The fall is taken over some cells: a layer of air is metres thick, and no rut turns it. */
const SPAN_CELLS = 3;

/**
 * Follows air down from a place (frame metres) over the filled ground: along the fall of the ground
 * about it, or by the pointers where that leads no lower (on flats, in draws, along a berm's foot),
 * until it comes into a pool, leaves the ground or is `rangeMeters` from where it began.
 * Example: on a plane it goes straight down the plane.
 */
export function airWay(of: AirPools, from: XY, rangeMeters: number): AirWay {
  const { filled, labels, pointers } = of;
  const line: XY[] = [from];
  const steps = pointerSteps(filled.width);
  let [x, y] = from;
  for (let cell = cellAt(filled, x, y); cell >= 0;) {
    if (labels[cell] !== 0) return { pool: labels[cell]! - 1, line };
    const pointer = pointers[cell]!;
    if (pointer === OUTLET || pointer === NO_DATA) break;
    const fall = fallAt(filled, cell);
    const pace = PACE_CELLS * Math.max(filled.cellWidth, filled.cellHeight);
    let [nextX, nextY] = [x + pace * fall[0], y + pace * fall[1]];
    let next = cellAt(filled, nextX, nextY);
    if (next < 0 || next === cell || !(filled.data[next]! < filled.data[cell]!)) {
      next = cell + steps[pointer]!;
      // To its middle, so that all that passes over a puddle goes on from its outlet alike.
      const row = Math.floor(next / filled.width);
      nextX = filled.west + (next - row * filled.width + 0.5) * filled.cellWidth;
      nextY = filled.north - (row + 0.5) * filled.cellHeight;
    }
    [x, y, cell] = [nextX, nextY, next];
    line.push([x, y]);
    if (Math.hypot(x - from[0], y - from[1]) > rangeMeters) break;
  }
  return { pool: null, line };
}

/** Unit vector down the ground about a cell; nothing where it is level or not known. */
function fallAt({ data, width, height, cellWidth, cellHeight }: Grid, cell: number): XY {
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  const [left, right] = [Math.max(0, column - SPAN_CELLS), Math.min(width - 1, column + SPAN_CELLS)]; // prettier-ignore
  const [top, bottom] = [Math.max(0, row - SPAN_CELLS), Math.min(height - 1, row + SPAN_CELLS)];
  const east = (data[row * width + left]! - data[row * width + right]!) / ((right - left) * cellWidth); // prettier-ignore
  const north = (data[bottom * width + column]! - data[top * width + column]!) / ((bottom - top) * cellHeight); // prettier-ignore
  const length = Math.hypot(east, north);
  return length > 0 ? [east / length, north / length] : [0, 0];
}
