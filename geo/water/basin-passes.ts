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
  table: PassTable = new PassTable(),
): Work<BasinPasses> {
  table.empty();
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
  const end = start + width;
  if (row + 1 === height) {
    for (let cell = start; cell + 1 < end; cell++) {
      const [own, east] = [labels[cell]!, labels[cell + 1]!];
      if (own !== east) table.add(own, east, z[cell]!, z[cell + 1]!);
    }
    return;
  }
  // The labels to the south-west, south and of the cell itself are those looked at last.
  let own = labels[start]!;
  let south = labels[start + width]!;
  let southWest = own;
  for (let cell = start; cell + 1 < end; cell++) {
    const east = labels[cell + 1]!;
    const southEast = labels[cell + width + 1]!;
    if (((own ^ east) | (own ^ southWest) | (own ^ south) | (own ^ southEast)) !== 0) {
      const height = z[cell]!;
      if (east !== own) table.add(own, east, height, z[cell + 1]!);
      if (southWest !== own) table.add(own, southWest, height, z[cell + width - 1]!);
      if (south !== own) table.add(own, south, height, z[cell + width]!);
      if (southEast !== own) table.add(own, southEast, height, z[cell + width + 1]!);
    }
    southWest = south;
    south = southEast;
    own = east;
  }
  const last = end - 1;
  if (width > 1 && southWest !== own) table.add(own, southWest, z[last]!, z[last + width - 1]!);
  if (south !== own) table.add(own, south, z[last]!, z[last + width]!);
}

/** Words of a pair's record: two labels, its least height and the lower side's there. */
const [LOW, HIGH, HEIGHT, LOWER, WORDS] = [0, 1, 2, 3, 4];

/**
 * Least height per pair of labels: a hash table with open addresses. The record of a pair lies
 * together, so that looking at one costs one line of memory; records stand in the order met. Keep it
 * for the next run.
 */
export class PassTable {
  private size = 1 << 14;
  /** 1 + the number of a record; 0 for none. */
  private slots = new Int32Array(this.size);
  private count = 0;
  private records = new Int32Array(WORDS << 13);
  /** The same memory. */
  private floats = new Float32Array(this.records.buffer);
  // A border is walked along: the same pair comes many times in a row.
  private lastLow = 0;
  private lastHigh = 0;
  private lastAt = 0;

  empty(): void {
    this.slots.fill(0);
    this.count = 0;
    this.lastLow = 0;
  }

  add(a: number, b: number, za: number, zb: number): void {
    const low = a < b ? a : b;
    const high = a < b ? b : a;
    let at = this.lastAt;
    if (low !== this.lastLow || high !== this.lastHigh) {
      at = this.find(low, high);
      this.lastLow = low;
      this.lastHigh = high;
      this.lastAt = at;
    }
    const height = za > zb ? za : zb;
    const before = this.floats[at + HEIGHT]!;
    if (height > before) return;
    const lower = za > zb ? zb : za;
    if (height === before && lower >= this.floats[at + LOWER]!) return;
    this.floats[at + HEIGHT] = height;
    this.floats[at + LOWER] = lower;
  }

  /** Where the record of a pair begins. */
  private find(low: number, high: number): number {
    const { slots, records } = this;
    const mask = this.size - 1;
    let slot = hash(low, high) & mask;
    for (;;) {
      const at = (slots[slot]! - 1) * WORDS;
      if (at < 0) break;
      if (records[at + LOW] === low && records[at + HIGH] === high) return at;
      slot = (slot + 1) & mask;
    }
    if ((this.count + 1) * WORDS > records.length) this.grow();
    const at = this.count++ * WORDS;
    this.records[at + LOW] = low;
    this.records[at + HIGH] = high;
    this.floats[at + HEIGHT] = Infinity;
    if (2 * this.count > this.size) this.rehash();
    else slots[slot] = this.count;
    return at;
  }

  private grow(): void {
    const records = new Int32Array(this.records.length * 2);
    records.set(this.records);
    this.records = records;
    this.floats = new Float32Array(records.buffer);
  }

  private rehash(): void {
    this.size *= 2;
    this.slots = new Int32Array(this.size);
    const mask = this.size - 1;
    for (let entry = 0; entry < this.count; entry++) {
      const at = entry * WORDS;
      let slot = hash(this.records[at + LOW]!, this.records[at + HIGH]!) & mask;
      while (this.slots[slot] !== 0) slot = (slot + 1) & mask;
      this.slots[slot] = entry + 1;
    }
  }

  /** By height, then by the lower side; records stand in the order met, and the sort is stable. */
  sorted(): BasinPasses {
    const { count, records, floats } = this;
    const order = orderOf(sortable(records, HEIGHT, count), sortable(records, LOWER, count));
    const low = new Int32Array(count);
    const high = new Int32Array(count);
    const height = new Float32Array(count);
    for (let i = 0; i < count; i++) {
      const at = order[i]! * WORDS;
      low[i] = records[at + LOW]!;
      high[i] = records[at + HIGH]!;
      height[i] = floats[at + HEIGHT]!;
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

/** One of the floats of each record as a whole number that sorts as the float does. */
function sortable(records: Int32Array, word: number, count: number): Uint32Array {
  const keys = new Uint32Array(count);
  for (let i = 0, at = word; i < count; i++, at += WORDS) {
    const bits = records[at]!;
    // All bits turned for negatives, the sign for the rest.
    keys[i] = bits < 0 ? ~bits : bits | 0x80000000;
  }
  return keys;
}

/** By the first keys, among equals by the second, then as they stand. */
function orderOf(first: Uint32Array, second: Uint32Array): Uint32Array {
  const count = first.length;
  const order = sortBy(first, null);
  let tied = 0;
  for (let i = 1; i < count; i++) if (first[order[i]!] === first[order[i - 1]!]) tied++;
  // Rare on rough ground, where a second sort of all would be for nothing.
  if (tied > count >> 4) return sortBy(first, sortBy(second, null));
  for (let from = 0, to = 1; tied > 0 && from < count; from = to++) {
    while (to < count && first[order[to]!] === first[order[from]!]) to++;
    if (to - from === 1) continue;
    order.subarray(from, to).sort((a, b) => second[a]! - second[b]! || a - b);
    tied -= to - from - 1;
  }
  return order;
}

/** An order (null: as they stand), sorted anew by its keys, equals as they stood: radix sort, 11 bits at a time. */
function sortBy(keys: Uint32Array, from: Uint32Array | null): Uint32Array {
  const count = keys.length;
  let order = new Uint32Array(count);
  if (from === null) for (let i = 0; i < count; i++) order[i] = i;
  else order.set(from);
  let other = new Uint32Array(count);
  for (let shift = 0; shift < 33; shift += 11) {
    const starts = new Uint32Array(2049);
    for (let i = 0; i < count; i++) starts[((keys[i]! >>> shift) & 2047) + 1]!++;
    for (let i = 0; i < 2048; i++) starts[i + 1]! += starts[i]!;
    for (let i = 0; i < count; i++) {
      const entry = order[i]!;
      other[starts[(keys[entry]! >>> shift) & 2047]!++] = entry;
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
