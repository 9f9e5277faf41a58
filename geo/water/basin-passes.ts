import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { OCEAN, type BasinLabels } from './basin-labels.ts';

/**
 * The lowest way over between each two basins that touch, in order of height; equal heights: the one
 * whose lower side is lowest, for water runs there, then the one met first in index order.
 */
export interface BasinPasses {
  readonly count: number;
  /** The two basins, the lower label first. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  readonly height: Float32Array;
}

/**
 * Finds the lowest pass between every two touching basins: over all pairs of neighbouring cells with
 * different labels, the least of the higher of the two. Source: Cordonnier, Bovy & Braun 2019 (basin graph). Row-major; cells without data lie in
 * the ocean and have no pass of their own, for all their neighbours do too.
 */
export function* basinPasses(
  z: Float32Array,
  width: number,
  height: number,
  { labels }: BasinLabels,
): Work<BasinPasses> {
  const table = new PassTable();
  const band = Math.max(1, rowsPerBand(width) >> 1);
  for (let row = 0; row < height; row += band) {
    const end = Math.min(height, row + band);
    for (let r = row; r < end; r++) passesOfRow(z, labels, width, height, r, table);
    yield { share: end / height, doing: 'finding passes' };
  }
  return table.sorted();
}

/** Pairs to the east, south-west, south and south-east: with the others' own, all eight. */
function passesOfRow(
  z: Float32Array,
  labels: Int32Array,
  width: number,
  height: number,
  row: number,
  table: PassTable,
): void {
  const start = row * width;
  const below = row + 1 < height;
  for (let column = 0; column < width; column++) {
    const cell = start + column;
    const label = labels[cell]!;
    const own = z[cell]!;
    if (column + 1 < width && labels[cell + 1] !== label) {
      table.add(label, labels[cell + 1]!, own, z[cell + 1]!);
    }
    if (!below) continue;
    const south = cell + width;
    if (column > 0 && labels[south - 1] !== label) {
      table.add(label, labels[south - 1]!, own, z[south - 1]!);
    }
    if (labels[south] !== label) table.add(label, labels[south]!, own, z[south]!);
    if (column + 1 < width && labels[south + 1] !== label) {
      table.add(label, labels[south + 1]!, own, z[south + 1]!);
    }
  }
}

/** Least height per pair of labels: a hash table with open addresses, in flat arrays. */
class PassTable {
  private size = 1 << 14;
  private slots = new Int32Array(this.size);
  private count = 0;
  private low = new Int32Array(1 << 13);
  private high = new Int32Array(1 << 13);
  private height = new Float32Array(1 << 13);
  private lower = new Float32Array(1 << 13);
  // A border is walked along: the same pair comes many times in a row.
  private lastLow = 0;
  private lastHigh = 0;
  private lastEntry = 0;

  add(a: number, b: number, za: number, zb: number): void {
    const low = a < b ? a : b;
    const high = a < b ? b : a;
    let entry = this.lastEntry;
    if (low !== this.lastLow || high !== this.lastHigh) {
      entry = this.find(low, high);
      this.lastLow = low;
      this.lastHigh = high;
      this.lastEntry = entry;
    }
    const height = za > zb ? za : zb;
    const lower = za > zb ? zb : za;
    const before = this.height[entry]!;
    if (height > before || (height === before && lower >= this.lower[entry]!)) return;
    this.height[entry] = height;
    this.lower[entry] = lower;
  }

  private find(low: number, high: number): number {
    const mask = this.size - 1;
    let at = hash(low, high) & mask;
    for (;;) {
      const entry = this.slots[at]! - 1;
      if (entry < 0) break;
      if (this.low[entry] === low && this.high[entry] === high) return entry;
      at = (at + 1) & mask;
    }
    if (this.count === this.low.length) this.grow();
    const entry = this.count++;
    this.low[entry] = low;
    this.high[entry] = high;
    this.height[entry] = Infinity;
    if (2 * this.count > this.size) this.rehash();
    else this.slots[at] = entry + 1;
    return entry;
  }

  private grow(): void {
    const length = this.low.length * 2;
    const low = new Int32Array(length);
    const high = new Int32Array(length);
    const height = new Float32Array(length);
    const lower = new Float32Array(length);
    low.set(this.low);
    high.set(this.high);
    height.set(this.height);
    lower.set(this.lower);
    this.low = low;
    this.high = high;
    this.height = height;
    this.lower = lower;
  }

  private rehash(): void {
    this.size *= 4;
    this.slots = new Int32Array(this.size);
    const mask = this.size - 1;
    for (let entry = 0; entry < this.count; entry++) {
      let at = hash(this.low[entry]!, this.high[entry]!) & mask;
      while (this.slots[at] !== 0) at = (at + 1) & mask;
      this.slots[at] = entry + 1;
    }
  }

  /** By height; entries stand in the order met, and the sort is stable. */
  sorted(): BasinPasses {
    const { count } = this;
    const order = orderBy(this.height, orderBy(this.lower, firstToLast(count)));
    const low = new Int32Array(count);
    const high = new Int32Array(count);
    const height = new Float32Array(count);
    for (let i = 0; i < count; i++) {
      const from = order[i]!;
      low[i] = this.low[from]!;
      high[i] = this.high[from]!;
      height[i] = this.height[from]!;
    }
    return { count, low, high, height };
  }
}

function hash(low: number, high: number): number {
  let h = Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca77);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return h ^ (h >>> 13);
}

function firstToLast(count: number): Uint32Array<ArrayBuffer> {
  return Uint32Array.from({ length: count }, (_, i) => i);
}

/** An order, sorted anew by a float each, equals as they stood: radix sort, 11 bits at a time. */
function orderBy(values: Float32Array, order: Uint32Array<ArrayBuffer>): Uint32Array<ArrayBuffer> {
  const count = order.length;
  const bits = new Uint32Array(values.slice(0, count).buffer);
  for (let i = 0; i < count; i++) {
    const b = bits[i]!;
    // So that bits sort as the numbers do: all turned for negatives, the sign for the rest.
    bits[i] = b & 0x80000000 ? ~b : b | 0x80000000;
  }
  let other = new Uint32Array(count);
  for (let shift = 0; shift < 33; shift += 11) {
    const starts = new Uint32Array(2049);
    for (let i = 0; i < count; i++) starts[((bits[i]! >>> shift) & 2047) + 1]!++;
    for (let i = 0; i < 2048; i++) starts[i + 1]! += starts[i]!;
    for (let i = 0; i < count; i++) {
      const entry = order[i]!;
      other[starts[(bits[entry]! >>> shift) & 2047]!++] = entry;
    }
    [order, other] = [other, order];
  }
  return order;
}

/**
 * Height that each basin fills to before it runs off the site: the highest pass on its lowest way
 * out, by Kruskal's method over the sorted passes. Index is the label; `OCEAN` is -Infinity.
 */
export function spillLevels(passes: BasinPasses, labelCount: number): Float32Array {
  const levels = new Float32Array(labelCount + 1).fill(Infinity);
  levels[OCEAN] = -Infinity;
  const parent = Int32Array.from({ length: labelCount + 1 }, (_, i) => i);
  // Members of a union as a ring: where one joins the ocean, all of it gets the level.
  const next = Int32Array.from(parent);
  const rank = new Uint8Array(labelCount + 1);
  const root = (label: number): number => {
    while (parent[label] !== label) label = parent[label] = parent[parent[label]!]!;
    return label;
  };
  let ocean = OCEAN;
  for (let i = 0; i < passes.count; i++) {
    const a = root(passes.low[i]!);
    const b = root(passes.high[i]!);
    if (a === b) continue;
    if (a === ocean || b === ocean) {
      const inland = a === ocean ? b : a;
      for (let label = inland; ;) {
        levels[label] = passes.height[i]!;
        label = next[label]!;
        if (label === inland) break;
      }
    }
    const winner = rank[a]! < rank[b]! ? b : a;
    const loser = winner === a ? b : a;
    if (rank[a] === rank[b]) rank[winner]!++;
    parent[loser] = winner;
    if (a === ocean || b === ocean) ocean = winner;
    // Two rings become one when the followers of one member of each change places.
    const follower = next[winner]!;
    next[winner] = next[loser]!;
    next[loser] = follower;
  }
  return levels;
}
