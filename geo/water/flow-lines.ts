import type { GridPlace } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { CellList } from '../raster/cell-list.ts';
import { ENDS } from './flow-facets.ts';
import { FlatBuffers, flowPointers } from './flow-pointers.ts';
import { NO_DATA, OUTLET, PIT } from './pointer-codes.ts';
import { FlowSplit } from './flow-split.ts';
import { FlowWays } from './flow-ways.ts';

/** Work arrays of `flowCatchments`, seven bytes a cell; keep them for the next run. */
export class FlowBuffers {
  pointers = new Uint8Array(0);
  ways = new Uint8Array(0);
  shares = new Float32Array(0);
  donors = new Uint8Array(0);
  readonly flats = new FlatBuffers();

  fit(cells: number): void {
    if (this.pointers.length === cells) return;
    this.pointers = new Uint8Array(cells);
    this.ways = new Uint8Array(cells);
    this.shares = new Float32Array(cells);
    this.donors = new Uint8Array(cells);
  }
}

export interface FlowCatchments {
  /** Ground that drains through each cell, its own included, square metres; NaN without data. */
  readonly areaSquareMeters: Float64Array;
  /** Of the filled ground: the way across flats, where water leaves, and no data. */
  readonly pointers: Uint8Array;
}

/**
 * How much ground drains through every cell of a filled ground.
 *
 * Method: D-infinity (Tarboton 1997, Water Resour. Res. 33:309–319): water goes down the steepest
 * of eight triangles round a cell, to the two cells at its corners. Chosen over the multiple-flow
 * rules (Freeman 1991, Quinn 1991) because those spread over every lower neighbour, and so smear a
 * flow line on a plain slope and in a swale. Two things are ours:
 *  - The two shares go with the tangent of the angle, not with the angle: on a plane the middle of
 *    the flow then keeps to the line of steepest fall exactly (by angle it strays up to 4°).
 *  - Triangles that fall equally steeply share equally, so flipping the ground flips the answer.
 * Across flats, filled hollows among them, water goes the shortest way to where the flat drains.
 * Cells on the rim and beside no data let everything out, as in `fillBasins`.
 *
 * Row-major, row 0 north, metres, NaN no data; areas by `cellGroundAreaSquareMeters`. Nothing is
 * sorted: a cell passes its water on once all that comes to it has come. A hollow left in `filled`
 * keeps what reaches it. Throws RangeError for a wrong length of `filled` or `out`.
 * Example: on a plane a cell n rows below the upper rim has n cells of catchment, whichever way
 * the plane falls within 45° of that.
 */
export function* flowCatchments(
  place: GridPlace,
  filled: Float32Array,
  options: { readonly out?: Float64Array; readonly buffers?: FlowBuffers } = {},
): Work<FlowCatchments> {
  const { width, height } = place;
  const cells = width * height;
  const area = options.out ?? new Float64Array(cells);
  for (const { length } of [filled, area]) {
    if (length !== cells) throw new RangeError(`an array of ${length} for ${cells} cells`);
  }
  const { pointers, ways, shares, donors, flats } = fitted(options.buffers, cells);
  yield* flowPointers({ data: filled, width, height }, pointers, flats);
  donors.fill(0);
  const flowWays = new FlowWays(place, filled);
  const split = new FlowSplit(place, filled, ways, shares);
  const band = Math.max(1, rowsPerBand(width) >> 2);
  for (let row = 0; row < height; row += band) {
    const to = Math.min(height, row + band);
    for (let r = row; r < to; r++) flowWays.row(r, pointers, ways, shares);
    countDonors(split, row * width, to * width, donors);
    yield { share: (0.5 * to) / height, doing: 'finding which way water spreads' };
  }
  const own = place.cellGroundAreaSquareMeters;
  for (let i = 0; i < cells; i++) area[i] = pointers[i] === NO_DATA ? NaN : own;
  const waiting = new CellList();
  let passed = 0;
  for (let cell = 0; cell < cells; cell++) {
    if (donors[cell] !== 0 || pointers[cell] === NO_DATA) continue;
    waiting.push(cell);
    while (waiting.length > 0) {
      passed += passOn(split, area, donors, waiting);
      if (passed < 65_536) continue;
      passed = 0;
      yield { share: 0.5 + (0.5 * cell) / cells, doing: 'adding up catchments' };
    }
  }
  return { areaSquareMeters: area, pointers };
}

function fitted(buffers = new FlowBuffers(), cells: number): FlowBuffers {
  buffers.fit(cells);
  return buffers;
}

/** How many streams come to each cell; a cell with two triangles to one neighbour counts twice. */
function countDonors(split: FlowSplit, from: number, to: number, donors: Uint8Array): void {
  const { ways, shares, straight, diagonal, flat } = split;
  for (let cell = from; cell < to; cell++) {
    const way = ways[cell]!;
    if (way < 8) {
      const share = shares[cell]!;
      if (share < 1) donors[cell + straight[way]!]!++;
      if (share > 0) donors[cell + diagonal[way]!]!++;
    } else if (way < ENDS) donors[cell + flat[way - 8]!]!++;
    else {
      const streams = split.from(cell);
      for (let k = 0; k < streams; k++) donors[split.to[k]!]!++;
    }
  }
}

/**
 * Takes a ready cell off the stack and follows its water while the next one becomes ready by it.
 * A cell is set to a count no other can reach once it has passed on, so none goes twice.
 */
function passOn(
  split: FlowSplit,
  area: Float64Array,
  donors: Uint8Array,
  waiting: CellList,
): number {
  const { ways, shares, straight, diagonal, flat } = split;
  let cell = waiting.pop();
  let passed = 0;
  while (cell >= 0) {
    donors[cell] = DONE;
    passed++;
    const amount = area[cell]!;
    const way = ways[cell]!;
    let next = -1;
    if (way < 8) {
      const share = shares[cell]!;
      if (share < 1) {
        const to = cell + straight[way]!;
        area[to]! += amount * (1 - share);
        if (--donors[to]! === 0) next = to;
      }
      if (share > 0) {
        const to = cell + diagonal[way]!;
        area[to]! += amount * share;
        if (--donors[to]! === 0) {
          if (next >= 0) waiting.push(next);
          next = to;
        }
      }
    } else if (way < ENDS) {
      const to = cell + flat[way - 8]!;
      area[to]! += amount;
      if (--donors[to]! === 0) next = to;
    } else next = passOnEqually(split, cell, area, donors, waiting);
    cell = next;
    if (passed === 4096) {
      if (cell >= 0) waiting.push(cell);
      break;
    }
  }
  return passed;
}

/** From a cell whose triangles fall equally, or where water ends; returns one that is ready, or -1. */
function passOnEqually(
  split: FlowSplit,
  cell: number,
  area: Float64Array,
  donors: Uint8Array,
  waiting: CellList,
): number {
  const streams = split.from(cell);
  let next = -1;
  for (let k = 0; k < streams; k++) {
    const to = split.to[k]!;
    area[to]! += area[cell]! * split.share[k]!;
    if (--donors[to]! > 0) continue;
    if (next >= 0) waiting.push(next);
    next = to;
  }
  return next;
}

const DONE = 255;

/** Whether water ends at a cell: it leaves the site there, or lies in a hollow left unfilled. */
export const endsAt = (pointer: number): boolean => pointer === OUTLET || pointer === PIT;
