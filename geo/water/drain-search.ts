import { CellHeap } from '../raster/cell-heap.ts';
import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import { sectionArea, type NotchSection } from './notch-section.ts';

export interface DrainSearch {
  readonly ground: Grid;
  readonly filled: Float32Array;
  readonly start: number;
  readonly section: NotchSection;
  readonly maxLengthMeters: number;
  readonly maxCutMeters: number;
  /** Per cell, 0 where one may dig; null for nowhere barred. */
  readonly blocked: Uint8Array | null;
}

/** What a search came to: the way, or what turned it back. */
export interface DrainFound {
  /** From the start to the cell where the water runs on; empty when there is no way. */
  readonly cells: Int32Array;
  readonly lengthMeters: number;
  readonly cutCubicMeters: number;
  readonly turnedBack: { readonly tooFar: boolean; readonly tooDeep: boolean };
}

/**
 * A metre of notch where nothing need be cut still counts as a skim of a centimetre, so that of
 * ways that cost the same the shortest is taken.
 */
const SKIM_METERS = 0.01;
const NOBODY = -1;

/**
 * The cheapest notch by Dijkstra over eight neighbours, in a window as large as the longest notch.
 * A cell's cut is its height over a bottom that falls from the start's own height all along the
 * way; the cost of a step is its length times the mean of the two cross sections.
 */
export class NotchSearch {
  private readonly left: number;
  private readonly top: number;
  private readonly columns: number;
  private readonly rows: number;
  private readonly cost: Float32Array;
  private readonly way: Float32Array;
  private readonly from: Int32Array;
  private readonly closed: Uint8Array;
  private readonly heap = new CellHeap();
  private tooFar = false;
  private tooDeep = false;

  constructor(private readonly search: DrainSearch) {
    const { ground, start, maxLengthMeters } = search;
    const row = Math.floor(start / ground.width);
    const column = start - row * ground.width;
    const acrossCells = Math.ceil(maxLengthMeters / ground.cellWidth) + 1;
    const downCells = Math.ceil(maxLengthMeters / ground.cellHeight) + 1;
    this.left = Math.max(0, column - acrossCells);
    this.top = Math.max(0, row - downCells);
    this.columns = Math.min(ground.width, column + acrossCells + 1) - this.left;
    this.rows = Math.min(ground.height, row + downCells + 1) - this.top;
    const cells = this.columns * this.rows;
    this.cost = new Float32Array(cells).fill(Infinity);
    this.way = new Float32Array(cells);
    this.from = new Int32Array(cells).fill(NOBODY);
    this.closed = new Uint8Array(cells);
    const first = (row - this.top) * this.columns + column - this.left;
    this.cost[first] = 0;
    this.heap.push(first, 0);
  }

  *run(): Work<DrainFound> {
    for (let taken = 1; ; taken++) {
      const at = this.heap.pop();
      if (at < 0) return this.found(NOBODY);
      if (taken % 4096 === 0) {
        yield { share: Math.min(1, taken / this.closed.length), doing: 'looking for a way out' };
      }
      if (this.closed[at] === 1) continue;
      this.closed[at] = 1;
      if (!this.isClear(at)) continue;
      if (this.isOut(at)) return this.found(at);
      this.lookRound(at);
    }
  }

  private cellOf(at: number): number {
    const row = Math.floor(at / this.columns);
    return (this.top + row) * this.search.ground.width + this.left + at - row * this.columns;
  }

  private bottomAt(way: number): number {
    const { ground, start, section } = this.search;
    return ground.data[start]! - section.gradeRatio * way;
  }

  /** Water that comes here at the notch's bottom runs on without standing. */
  private isOut(at: number): boolean {
    const { ground, filled } = this.search;
    const cell = this.cellOf(at);
    return filled[cell]! <= this.bottomAt(this.way[at]!) || drainsFreely(ground, cell);
  }

  private lookRound(at: number): void {
    const { cellWidth, cellHeight } = this.search.ground;
    const row = Math.floor(at / this.columns);
    const column = at - row * this.columns;
    for (let r = Math.max(0, row - 1); r <= Math.min(this.rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(this.columns - 1, column + 1); c++) {
        const next = r * this.columns + c;
        if (this.closed[next] === 1) continue;
        this.step(at, next, Math.hypot((r - row) * cellHeight, (c - column) * cellWidth));
      }
    }
  }

  private step(at: number, next: number, meters: number): void {
    const { ground, blocked, maxLengthMeters, maxCutMeters } = this.search;
    const cell = this.cellOf(next);
    const z = ground.data[cell]!;
    if (z !== z || (blocked !== null && blocked[cell] !== 0)) return;
    const way = Math.fround(this.way[at]! + meters);
    if (way > maxLengthMeters) {
      this.tooFar = true;
      return;
    }
    if (z - this.bottomAt(way) > maxCutMeters) {
      this.tooDeep = true;
      return;
    }
    const areas = this.areaAt(this.cellOf(at), this.way[at]!) + this.areaAt(cell, way);
    const cost = Math.fround(this.cost[at]! + (meters * areas) / 2);
    if (!(cost < this.cost[next]!)) return;
    this.cost[next] = cost;
    this.way[next] = way;
    this.from[next] = at;
    this.heap.push(next, cost);
  }

  private areaAt(cell: number, way: number): number {
    return sectionArea(this.search.section, Math.max(SKIM_METERS, this.cutAt(cell, way)));
  }

  private cutAt(cell: number, way: number): number {
    return this.search.ground.data[cell]! - this.bottomAt(way);
  }

  /** The sides too, as they would run out on level ground, keep off what is barred. */
  private isClear(at: number): boolean {
    const { ground, blocked, section } = this.search;
    if (blocked === null) return true;
    const cell = this.cellOf(at);
    const cut = this.cutAt(cell, this.way[at]!);
    if (!(cut > 0)) return true;
    const reach = section.bottomWidthMeters / 2 + section.sideRun * cut;
    return barredNear(ground, blocked, cell, reach).length === 0;
  }

  private found(end: number): DrainFound {
    const cells: number[] = [];
    for (let at = end; at !== NOBODY; at = this.from[at]!) cells.push(this.cellOf(at));
    return {
      cells: Int32Array.from(cells.reverse()),
      lengthMeters: end === NOBODY ? 0 : this.way[end]!,
      cutCubicMeters: end === NOBODY ? 0 : this.cost[end]!,
      turnedBack: { tooFar: this.tooFar, tooDeep: this.tooDeep },
    };
  }
}

/** On the rim of the grid, or beside a cell without data: the fill lets water go there. */
export function drainsFreely({ width, height, data }: Grid, cell: number): boolean {
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  if (row === 0 || column === 0 || row === height - 1 || column === width - 1) return true;
  for (let r = row - 1; r <= row + 1; r++) {
    for (let c = column - 1; c <= column + 1; c++) {
      if (Number.isNaN(data[r * width + c]!)) return true;
    }
  }
  return false;
}

/** The codes of barred cells whose centre lies within `reach` metres of a cell's, each once. */
export function barredNear(
  { width, height, cellWidth, cellHeight }: Grid,
  blocked: Uint8Array,
  cell: number,
  reach: number,
): number[] {
  const codes: number[] = [];
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  const down = Math.floor(reach / cellHeight);
  const across = Math.floor(reach / cellWidth);
  for (let r = Math.max(0, row - down); r <= Math.min(height - 1, row + down); r++) {
    for (let c = Math.max(0, column - across); c <= Math.min(width - 1, column + across); c++) {
      const code = blocked[r * width + c]!;
      if (code === 0 || codes.includes(code)) continue;
      if (Math.hypot((r - row) * cellHeight, (c - column) * cellWidth) <= reach) codes.push(code);
    }
  }
  return codes;
}
