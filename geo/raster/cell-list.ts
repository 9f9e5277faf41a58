/** A list of cell numbers that grows as it must; a stack by `push` and `pop`. */
export class CellList {
  length = 0;
  private cells: Int32Array;

  /** @param room cells that are held before it first grows */
  constructor(room = 1024) {
    this.cells = new Int32Array(Math.max(16, room));
  }

  /** The i-th cell; of no place in the list some other number. */
  at(i: number): number {
    return this.cells[i]!;
  }

  push(cell: number): void {
    if (this.length === this.cells.length) {
      const more = new Int32Array(this.length * 2);
      more.set(this.cells);
      this.cells = more;
    }
    this.cells[this.length++] = cell;
  }

  /** Takes the last one off; only of a list that has one. */
  pop(): number {
    return this.cells[--this.length]!;
  }

  /** All of them in order, as an array of its own. */
  all(): Int32Array {
    return this.cells.slice(0, this.length);
  }
}
