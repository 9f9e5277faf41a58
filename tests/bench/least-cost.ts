import { fileURLToPath } from 'node:url';
import { leastCost } from '../../geo/approach/least-cost.ts';
import { slopeHorn } from '../../geo/ground/slope.ts';
import { CellHeap } from '../../geo/raster/cell-heap.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import type { BenchRow } from './bench-row.ts';

/**
 * Cheapest ways to all of 16 M cells over sixteen and over eight neighbours, against Dijkstra over eight with a
 * typed heap in the same run (`kernels.md`: 10.3 s for the native command line's, 13.7 s for the
 * best native library; neither is at hand to be run here).
 */
export async function run(): Promise<BenchRow[]> {
  const side = 4000;
  const cells = side * side;
  const perMeter = finish(slopeHorn(benchGround(side))).map((s) => 1 + 20 * (s > 0 ? s : 0));
  const surface = { width: side, height: side, cellWidth: 1, cellHeight: 1, perMeter };
  const root = (side / 2) * side + side / 2;
  const tree = { cost: new Float32Array(cells), step: new Uint8Array(cells) };
  const ours = timeRuns(2, () => void finish(leastCost(surface, root, { tree })));
  const eight = timeRuns(2, () => void finish(leastCost(surface, root, { tree, neighbours: 8 })));
  const heap = timeRuns(0, () => heapOverEight(perMeter, side, root, tree.cost));
  return [
    {
      name: 'least cost over sixteen neighbours, 16 M cells, warm, best of 2',
      ours: ours.warm,
      reference: heap.cold,
      referenceName: 'Dijkstra over eight with a heap, one run',
      ratio: ours.warm / heap.cold,
    },
    {
      name: 'least cost over eight neighbours, 16 M cells, warm, best of 2',
      ours: eight.warm,
      reference: heap.cold,
      referenceName: 'the same Dijkstra',
      ratio: eight.warm / heap.cold,
    },
  ];
}

function heapOverEight(perMeter: Float32Array, side: number, root: number, cost: Float32Array) {
  const heap = new CellHeap();
  cost.fill(Infinity);
  cost[root] = 0;
  heap.push(root, 0);
  for (;;) {
    const level = heap.lowestLevel();
    const cell = heap.pop();
    if (cell < 0) return;
    if (level > cost[cell]!) continue;
    const row = Math.floor(cell / side);
    const column = cell - row * side;
    for (let r = Math.max(0, row - 1); r <= Math.min(side - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(side - 1, column + 1); c++) {
        const next = r * side + c;
        const meters = r !== row && c !== column ? Math.SQRT2 : 1;
        const mean = (perMeter[cell]! + perMeter[next]!) / 2;
        const total = Math.fround(level + mean * meters);
        if (!(total < cost[next]!)) continue;
        cost[next] = total;
        heap.push(next, total);
      }
    }
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
