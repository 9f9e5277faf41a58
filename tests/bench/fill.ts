import { fileURLToPath } from 'node:url';
import { BasinBuffers, fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { FillBuffers, fillDepressions } from '../../geo/water/fill-depressions.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import type { BenchRow } from './bench-row.ts';

/**
 * Priority-flood fill and low spots on 16 M cells. No general-purpose native fill is at hand to run
 * beside it; `kernels.md` measured 2.6 s for a native build of the same method, compute only.
 */
export async function run(): Promise<BenchRow[]> {
  const grid = benchGround(4000);
  const out = new Float32Array(grid.data.length);
  const labels = new Int32Array(grid.data.length);
  const buffers = new FillBuffers();
  const fill = timeRuns(2, () => void finish(fillDepressions(grid, { out, buffers })));
  let count = 0;
  const spots = timeRuns(2, () => {
    count = finish(findLowSpots(grid, out, { labels })).spots.length;
  });
  let longest = 0;
  let last = performance.now();
  for (const _ of fillDepressions(grid, { out, buffers })) {
    const now = performance.now();
    longest = Math.max(longest, now - last);
    last = now;
  }
  const basins = new BasinBuffers();
  const graph = timeRuns(
    3,
    () => void finish(fillBasins(grid, finish(findBasins(grid, basins)), out)),
  );
  const against = {
    reference: fill.warm,
    referenceName: 'priority flood (heap and pit queue) here',
    bar: 'ratio at most 0.25, the water issue’s',
  };
  const alone = { reference: null, referenceName: 'none', ratio: null };
  return [
    {
      name: 'basin graph: hierarchy and fill, 16 M cells, warm, best of 3',
      ours: graph.warm,
      ...against,
      ratio: graph.warm / fill.warm,
    },
    {
      name: 'basin graph: hierarchy and fill, 16 M cells, first run',
      ours: graph.cold,
      ...against,
      ratio: graph.cold / fill.warm,
    },
    { name: 'priority flood, 16 M cells, warm, best of 2', ours: fill.warm, ...alone },
    { name: 'priority flood, 16 M cells, first run', ours: fill.cold, ...alone },
    { name: 'priority flood, longest stretch between two yields', ours: longest, ...alone },
    {
      name: `low spots (${count} of them), 16 M cells, warm, best of 2`,
      ours: spots.warm,
      ...alone,
    },
  ];
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
