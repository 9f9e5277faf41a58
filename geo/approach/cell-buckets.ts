/** Cells in one piece of a bucket: two cache lines. */
const CHUNK = 32;

/**
 * Cells waiting by cost in a ring of buckets of one width (Dial 1969, Commun. ACM 12:632–633), as long
 * as the dearest step. A cell that became cheaper is put in again; where its cost no longer belongs
 * it is passed over. Also right when a cell gets cheaper within the bucket being emptied, so for any
 * width; one of the cheapest step takes every cell once. Buckets are chains of chunks out of one
 * pool no larger than the front of the search, so that it stays in the cache.
 */
export class CellBuckets {
  private readonly heads: Int32Array;
  /** Cells in the first chunk of each bucket. */
  private readonly fills: Int32Array;
  private readonly mask: number;
  private readonly perWidth: number;
  private pool = new Int32Array(1024 * CHUNK);
  private links = new Int32Array(1024);
  private used = 0;
  private free = -1;
  /** Number of the bucket being emptied, not yet brought into the ring. */
  private at = 0;
  private waiting = 0;

  /** `width` of a bucket and the dearest step, in cost; `cost` by cell is the caller's, kept up. */
  constructor(
    private readonly cost: Float32Array,
    width: number,
    dearest: number,
  ) {
    const buckets = 2 ** Math.ceil(Math.log2(dearest / width + 3));
    this.mask = buckets - 1;
    this.perWidth = 1 / width;
    this.heads = new Int32Array(buckets).fill(-1);
    this.fills = new Int32Array(buckets);
  }

  /** Puts in a cell that became cheaper; neither cost is below that of the cell taken last. */
  put(cell: number, cost: number, before: number): void {
    const bucket = (cost * this.perWidth) | 0;
    // It waits there already, unless it was taken from this very bucket.
    if (before < Infinity && bucket !== this.at && ((before * this.perWidth) | 0) === bucket)
      return;
    const turn = bucket & this.mask;
    let head = this.heads[turn]!;
    let fill = this.fills[turn]!;
    if (head < 0 || fill === CHUNK) {
      const chunk = this.newChunk();
      this.links[chunk] = head;
      this.heads[turn] = head = chunk;
      fill = 0;
    }
    this.pool[head * CHUNK + fill] = cell;
    this.fills[turn] = fill + 1;
    this.waiting++;
  }

  /** Takes a cell of the cheapest bucket; -1 when none waits. */
  take(): number {
    while (this.waiting > 0) {
      const turn = this.at & this.mask;
      const head = this.heads[turn]!;
      if (head < 0) {
        this.at++;
        continue;
      }
      const fill = this.fills[turn]! - 1;
      const cell = this.pool[head * CHUNK + fill]!;
      this.waiting--;
      this.fills[turn] = fill;
      if (fill === 0) {
        this.heads[turn] = this.links[head]!;
        this.fills[turn] = CHUNK;
        this.links[head] = this.free;
        this.free = head;
      }
      if (((this.cost[cell]! * this.perWidth) | 0) === this.at) return cell;
    }
    return -1;
  }

  /** The cell that is taken next if nothing is put in before; -1 when it is in another bucket. */
  next(): number {
    const turn = this.at & this.mask;
    const head = this.heads[turn]!;
    return head < 0 ? -1 : this.pool[head * CHUNK + this.fills[turn]! - 1]!;
  }

  private newChunk(): number {
    if (this.free >= 0) {
      const chunk = this.free;
      this.free = this.links[chunk]!;
      return chunk;
    }
    if (this.used === this.links.length) {
      const links = new Int32Array(2 * this.used);
      links.set(this.links);
      this.links = links;
      const pool = new Int32Array(2 * this.used * CHUNK);
      pool.set(this.pool);
      this.pool = pool;
    }
    return this.used++;
  }
}
