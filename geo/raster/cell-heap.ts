/**
 * Cells waiting to be taken lowest first: a heap with four children to a node in two typed arrays
 * that double when full. Equal levels come out by lowest cell index, so the order is one and the
 * same on every run. Levels are 32-bit numbers and must not be NaN.
 */
export class CellHeap {
  size = 0;
  private levels: Float32Array;
  private cells: Int32Array;

  constructor(capacity = 1024) {
    this.levels = new Float32Array(capacity);
    this.cells = new Int32Array(capacity);
  }

  clear(): void {
    this.size = 0;
  }

  push(cell: number, level: number): void {
    if (this.size === this.cells.length) this.grow();
    const { levels, cells } = this;
    let at = this.size++;
    while (at > 0) {
      const parent = (at - 1) >> 2;
      const parentLevel = levels[parent]!;
      if (parentLevel < level || (parentLevel === level && cells[parent]! < cell)) break;
      levels[at] = parentLevel;
      cells[at] = cells[parent]!;
      at = parent;
    }
    levels[at] = level;
    cells[at] = cell;
  }

  /** Level of the cell that `pop` would give; Infinity when empty. */
  lowestLevel(): number {
    return this.size === 0 ? Infinity : this.levels[0]!;
  }

  /** Takes the lowest cell; -1 when empty. */
  pop(): number {
    if (this.size === 0) return -1;
    const { levels, cells } = this;
    const taken = cells[0]!;
    const last = --this.size;
    const level = levels[last]!;
    const cell = cells[last]!;
    let at = 0;
    for (;;) {
      const first = 4 * at + 1;
      if (first >= last) break;
      const beyond = Math.min(first + 4, last);
      let least = first;
      let leastLevel = levels[first]!;
      for (let child = first + 1; child < beyond; child++) {
        const childLevel = levels[child]!;
        const lower =
          childLevel < leastLevel || (childLevel === leastLevel && cells[child]! < cells[least]!);
        if (!lower) continue;
        least = child;
        leastLevel = childLevel;
      }
      if (level < leastLevel || (level === leastLevel && cell < cells[least]!)) break;
      levels[at] = leastLevel;
      cells[at] = cells[least]!;
      at = least;
    }
    levels[at] = level;
    cells[at] = cell;
    return taken;
  }

  private grow(): void {
    const levels = new Float32Array(this.levels.length * 2);
    levels.set(this.levels);
    this.levels = levels;
    const cells = new Int32Array(this.cells.length * 2);
    cells.set(this.cells);
    this.cells = cells;
  }
}
