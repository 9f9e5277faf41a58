import { CellList } from '../raster/cell-list.ts';
import type { GridPlace } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import { NO_DATA } from './pointer-codes.ts';
import { FlowSplit } from './flow-split.ts';
import { FlowWays } from './flow-ways.ts';

/** The ground that drains to a place, by D-infinity. */
export interface Catchment {
  /** What drains there, the place itself included, square metres. */
  readonly areaSquareMeters: number;
  /** The cells of which most drains there: about as many as make up that area. */
  readonly cells: Int32Array;
}

/** Steps of shares that the edge of a catchment is found by. */
const BINS = 4096;

/**
 * What drains to places of a filled ground, walked upstream (Tarboton 1997's dependence): a cell
 * counts with the share of its water that comes to the place. The shares sum to what
 * `flowCatchments` has there, and split as they do there. D-infinity spreads, so the edge of a
 * catchment is no line: its `cells` are those with the largest shares, so many that they cover as
 * much ground as drains there. Only rows that are walked over are looked at.
 * Row-major, row 0 north; `filled` metres, NaN no data; `pointers` of the same filled ground.
 * Throws RangeError for arrays of another length.
 * Example: on a plane that falls south, n cells drain to a cell in the n-th row.
 */
export class Upstream {
  private readonly ways: Uint8Array;
  private readonly shares: Float32Array;
  private readonly rows: Uint8Array;
  private readonly flowWays: FlowWays;
  private readonly split: FlowSplit;
  /** Per cell: 1 + its place in the list of those found; 0 for none. */
  private readonly found: Int32Array;

  constructor(
    private readonly place: GridPlace,
    filled: Float32Array,
    private readonly pointers: Uint8Array,
  ) {
    const cells = place.width * place.height;
    for (const { length } of [filled, pointers]) {
      if (length !== cells) throw new RangeError(`an array of ${length} for ${cells} cells`);
    }
    this.ways = new Uint8Array(cells);
    this.shares = new Float32Array(cells);
    this.rows = new Uint8Array(place.height);
    this.found = new Int32Array(cells);
    this.flowWays = new FlowWays(place, filled);
    this.split = new FlowSplit(place, filled, this.ways, this.shares);
  }

  /** What drains to some cells together; what comes to one of them is not followed on. */
  *into(targets: readonly number[]): Work<Catchment> {
    const cells = new CellList(targets.length + 1024);
    for (const cell of targets) this.find(cell, cells);
    const own = cells.length;
    for (let next = 0; next < cells.length;) {
      const until = Math.min(cells.length, next + 16_384);
      for (; next < until; next++) this.findAbove(cells.at(next), cells);
      yield { share: 0.5, doing: 'walking up to the divides' };
    }
    const shares = yield* this.sharesOf(cells, own);
    const total = shares.reduce((sum, share) => sum + share, 0);
    for (let i = 0; i < cells.length; i++) this.found[cells.at(i)] = 0;
    return {
      areaSquareMeters: total * this.place.cellGroundAreaSquareMeters,
      cells: mostOf(cells, shares, total),
    };
  }

  private find(cell: number, cells: CellList): void {
    if (this.found[cell] !== 0) return;
    cells.push(cell);
    this.found[cell] = cells.length;
  }

  /** The neighbours that some water comes from. */
  private findAbove(cell: number, cells: CellList): void {
    const { width, height } = this.place;
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    for (let r = Math.max(0, row - 1); r <= Math.min(height - 1, row + 1); r++) {
      this.lookAt(r);
      for (let c = Math.max(0, column - 1); c <= Math.min(width - 1, column + 1); c++) {
        const near = r * width + c;
        if (this.found[near] !== 0 || this.pointers[near] === NO_DATA) continue;
        const streams = this.split.from(near);
        for (let k = 0; k < streams; k++) {
          if (this.split.to[k] !== cell) continue;
          this.find(near, cells);
          break;
        }
      }
    }
  }

  private lookAt(row: number): void {
    if (this.rows[row] === 1) return;
    this.rows[row] = 1;
    this.flowWays.row(row, this.pointers, this.ways, this.shares);
  }

  /** By place in the list: how much of a cell's water comes to the targets, which stand first. */
  private *sharesOf(cells: CellList, targets: number): Work<Float64Array> {
    const shares = new Float64Array(cells.length).fill(UNKNOWN);
    shares.fill(1, 0, targets);
    // A cell was found from one that it drains to: most often all of those stand before it.
    const waiting = new CellList(1024);
    for (let next = targets; next < cells.length;) {
      const until = Math.min(cells.length, next + 16_384);
      for (; next < until; next++) {
        if (shares[next] !== UNKNOWN) continue;
        waiting.push(next);
        while (waiting.length > 0) this.settle(waiting, cells, shares);
      }
      yield { share: 0.8, doing: 'walking up to the divides' };
    }
    return shares;
  }

  /** Works out the share of the last one that waits, or lets what it drains to go first. */
  private settle(waiting: CellList, cells: CellList, shares: Float64Array): void {
    const { found, split } = this;
    const at = waiting.at(waiting.length - 1);
    const streams = split.from(cells.at(at));
    let sum = 0;
    let isReady = true;
    for (let k = 0; k < streams; k++) {
      const to = found[split.to[k]!]! - 1;
      if (to < 0) continue;
      const share = shares[to]!;
      if (share === UNKNOWN) {
        waiting.push(to);
        isReady = false;
      } else sum += split.share[k]! * share;
    }
    if (!isReady) return;
    shares[at] = sum;
    waiting.pop();
  }
}

/** A share that is not worked out yet. */
const UNKNOWN = -1;

/** The cells with the largest shares, as many as the shares sum to; at a tie all that are equal. */
function mostOf(cells: CellList, shares: Float64Array, total: number): Int32Array {
  const binOf = (share: number) => Math.min(BINS - 1, Math.floor(share * BINS));
  const counts = new Int32Array(BINS);
  for (const share of shares) counts[binOf(share)]!++;
  let least = BINS - 1;
  for (let count = counts[least]!; count < Math.round(total) && least > 0;) {
    count += counts[--least]!;
  }
  const kept = new CellList(Math.round(total) + 16);
  for (let i = 0; i < shares.length; i++) if (binOf(shares[i]!) >= least) kept.push(cells.at(i));
  return kept.all();
}
