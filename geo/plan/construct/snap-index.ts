import type { PlanFeature, Position } from '../feature.ts';

/** One straight piece of a drawn feature, by its ends in degrees. */
export interface SnapPiece {
  readonly featureId: string;
  readonly a: Position;
  readonly b: Position;
}

/**
 * Straight pieces of many features, found by place. Built once per plan: flat arrays and a grid of
 * square cells over their longitudes and latitudes, no projection. Positions of points are pieces
 * without length. 500 features with 50,000 corners build in a few milliseconds.
 */
export class SnapIndex {
  readonly #ids: string[] = [];
  readonly #owner: Uint32Array;
  readonly #ends: Float64Array;
  readonly #west: number = 0;
  readonly #south: number = 0;
  readonly #step: number = 1;
  readonly #columns: number = 1;
  readonly #rows: number = 1;
  /** Pieces of cell c: `#list[#first[c]]` up to `#first[c + 1]`. */
  readonly #first: Uint32Array;
  readonly #list: Uint32Array;
  /** The query that last met a piece, so that each comes once. */
  readonly #met: Uint32Array;
  #query = 0;

  /** Hidden features are left out: what is not seen does not pull. */
  constructor(features: readonly PlanFeature[]) {
    const owner: number[] = [];
    const ends: number[] = [];
    for (const feature of features) {
      if (feature.hidden) continue;
      const id = this.#ids.push(feature.id) - 1;
      addPieces(feature, ends);
      while (owner.length < ends.length / 4) owner.push(id);
    }
    this.#owner = Uint32Array.from(owner);
    this.#ends = Float64Array.from(ends);
    this.#met = new Uint32Array(owner.length);
    const box = boxOf(this.#ends);
    this.#west = box.west;
    this.#south = box.south;
    const size = Math.max(box.east - box.west, box.north - box.south, 1e-9);
    // About two pieces a cell over the longer side, never more than a million cells.
    this.#step = size / Math.min(1000, Math.max(1, Math.ceil(Math.sqrt(owner.length))));
    this.#columns = Math.floor((box.east - box.west) / this.#step) + 1;
    this.#rows = Math.floor((box.north - box.south) / this.#step) + 1;
    this.#first = new Uint32Array(this.#columns * this.#rows + 1);
    for (let i = 0; i < owner.length; i++) this.#eachCell(i, (cell) => this.#first[cell + 1]++);
    for (let c = 0; c + 1 < this.#first.length; c++) this.#first[c + 1] += this.#first[c];
    const next = this.#first.slice();
    this.#list = new Uint32Array(this.#first[this.#first.length - 1]);
    for (let i = 0; i < owner.length; i++) {
      this.#eachCell(i, (cell) => (this.#list[next[cell]++] = i));
    }
  }

  /** Every piece that passes through the cells of a box in degrees, once, in no set order. */
  piecesIn(west: number, south: number, east: number, north: number): SnapPiece[] {
    const query = ++this.#query;
    const found: SnapPiece[] = [];
    const left = this.#column(west);
    const right = this.#column(east);
    const top = this.#row(north);
    for (let row = this.#row(south); row <= top; row++) {
      for (let column = left; column <= right; column++) {
        const cell = row * this.#columns + column;
        for (let k = this.#first[cell]; k < this.#first[cell + 1]; k++) {
          const i = this.#list[k];
          if (this.#met[i] === query) continue;
          this.#met[i] = query;
          found.push(this.#piece(i));
        }
      }
    }
    return found;
  }

  #piece(i: number): SnapPiece {
    const ends = this.#ends;
    return {
      featureId: this.#ids[this.#owner[i]],
      a: [ends[4 * i], ends[4 * i + 1]],
      b: [ends[4 * i + 2], ends[4 * i + 3]],
    };
  }

  #column(lng: number): number {
    const column = Math.floor((lng - this.#west) / this.#step);
    return Math.min(this.#columns - 1, Math.max(0, column));
  }

  #row(lat: number): number {
    const row = Math.floor((lat - this.#south) / this.#step);
    return Math.min(this.#rows - 1, Math.max(0, row));
  }

  /** The cells that a piece passes through, row by row. */
  #eachCell(i: number, visit: (cell: number) => void): void {
    const ends = this.#ends;
    const up = ends[4 * i + 1] <= ends[4 * i + 3];
    const [x0, y0] = up ? [ends[4 * i], ends[4 * i + 1]] : [ends[4 * i + 2], ends[4 * i + 3]];
    const [x1, y1] = up ? [ends[4 * i + 2], ends[4 * i + 3]] : [ends[4 * i], ends[4 * i + 1]];
    const last = this.#row(y1);
    for (let row = this.#row(y0); row <= last; row++) {
      const low = this.#south + row * this.#step;
      const at = (y: number) =>
        y1 > y0 ? x0 + ((Math.min(y1, Math.max(y0, y)) - y0) / (y1 - y0)) * (x1 - x0) : x0;
      const from = y1 > y0 ? at(low) : x0;
      const to = y1 > y0 ? at(low + this.#step) : x1;
      const right = this.#column(Math.max(from, to));
      for (let c = this.#column(Math.min(from, to)); c <= right; c++)
        visit(row * this.#columns + c);
    }
  }
}

function addPieces({ geometry }: PlanFeature, ends: number[]): void {
  if (geometry.type === 'Point') {
    const [lng, lat] = geometry.coordinates;
    ends.push(lng, lat, lng, lat);
    return;
  }
  const lines = geometry.type === 'LineString' ? [geometry.coordinates] : geometry.coordinates;
  for (const line of lines) {
    for (let i = 1; i < line.length; i++) {
      ends.push(line[i - 1][0], line[i - 1][1], line[i][0], line[i][1]);
    }
  }
}

function boxOf(ends: Float64Array): { west: number; south: number; east: number; north: number } {
  let west = Infinity;
  let south = Infinity;
  let east = -Infinity;
  let north = -Infinity;
  for (let i = 0; i < ends.length; i += 2) {
    if (ends[i] < west) west = ends[i];
    if (ends[i] > east) east = ends[i];
    if (ends[i + 1] < south) south = ends[i + 1];
    if (ends[i + 1] > north) north = ends[i + 1];
  }
  return west === Infinity
    ? { west: 0, south: 0, east: 0, north: 0 }
    : { west, south, east, north };
}
