/** A plain binary heap of cells with the cost each was pushed at, as in any textbook. */
class BinaryHeap {
  private readonly items: (readonly [cost: number, cell: number])[] = [];

  push(cost: number, cell: number): void {
    const { items } = this;
    items.push([cost, cell]);
    for (let at = items.length - 1; at > 0;) {
      const parent = (at - 1) >> 1;
      if (items[parent]![0] <= items[at]![0]) break;
      [items[parent], items[at]] = [items[at]!, items[parent]!];
      at = parent;
    }
  }

  pop(): number {
    const { items } = this;
    const first = items[0];
    const last = items.pop();
    if (first === undefined || last === undefined) return -1;
    if (items.length === 0) return first[1];
    items[0] = last;
    for (let at = 0; ;) {
      let least = at;
      for (const child of [2 * at + 1, 2 * at + 2]) {
        if (child < items.length && items[child]![0] < items[least]![0]) least = child;
      }
      if (least === at) return first[1];
      [items[least], items[at]] = [items[at]!, items[least]!];
      at = least;
    }
  }
}

/**
 * Cheapest costs from a cell over eight neighbours, Dijkstra with a binary heap: half a step in each
 * cell, no way between two barred cells that meet at a corner. `costOf(cell, across, down)`: a metre
 * in that cell in that direction; Infinity or NaN bars it.
 */
export function heapDijkstra(
  place: { width: number; height: number; cellWidth: number; cellHeight: number },
  costOf: (cell: number, across: number, down: number) => number,
  root: number,
): Float64Array {
  const { width, height, cellWidth, cellHeight } = place;
  const cost = new Float64Array(width * height).fill(Infinity);
  const isDone = new Uint8Array(width * height);
  const heap = new BinaryHeap();
  if (!(costOf(root, 1, 0) < Infinity)) return cost;
  cost[root] = 0;
  heap.push(0, root);
  for (let cell = heap.pop(); cell >= 0; cell = heap.pop()) {
    if (isDone[cell] === 1) continue;
    isDone[cell] = 1;
    const row = Math.floor(cell / width);
    const column = cell % width;
    for (let down = -1; down <= 1; down++) {
      for (let across = -1; across <= 1; across++) {
        const [r, c] = [row + down, column + across];
        if ((down === 0 && across === 0) || r < 0 || c < 0 || r >= height || c >= width) continue;
        const next = r * width + c;
        const isOpen = (at: number) => costOf(at, across, down) < Infinity;
        if (!isOpen(next)) continue;
        if (down * across !== 0 && !isOpen(row * width + c) && !isOpen(r * width + column))
          continue;
        const meters = Math.hypot(across * cellWidth, down * cellHeight);
        const mean = (costOf(cell, across, down) + costOf(next, across, down)) / 2;
        const total = cost[cell]! + mean * meters;
        if (!(total < cost[next]!)) continue;
        cost[next] = total;
        heap.push(total, next);
      }
    }
  }
  return cost;
}
