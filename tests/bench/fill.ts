import { fileURLToPath } from 'node:url';
import { BasinBuffers, fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { FillBuffers, fillDepressions } from '../../geo/water/fill-depressions.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, inTurns, timeRuns, type Taken } from './bench-ground.ts';
import { twoRows, type BenchRow } from './bench-row.ts';

/** Two fills and the low spots on 16 M cells; against a native program: `native-fill.ts`. */
export async function run(): Promise<BenchRow[]> {
  const grid = benchGround(4000);
  const out = new Float32Array(grid.data.length);
  const labels = new Int32Array(grid.data.length);
  const buffers = new FillBuffers();
  const flood = () => void finish(fillDepressions(grid, { out, buffers }));
  const fill = timeRuns(2, flood);
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
  const byGraph = () => void finish(fillBasins(grid, finish(findBasins(grid, basins)), out));
  const graph = timeRuns(0, byGraph);
  const [floodTime, graphTime] = inTurns(5, [flood, byGraph]) as [Taken, Taken];
  const referenceName = 'priority flood (heap and pit queue) here';
  const bar = 'ratio at most 0.25';
  const alone = { reference: null, referenceName: 'none', ratio: null };
  return [
    ...twoRows(
      'basin graph: hierarchy and fill, 16 M cells, warm, median of 5',
      graphTime,
      referenceName,
      floodTime,
      bar,
    ),
    {
      name: 'basin graph: hierarchy and fill, 16 M cells, first run',
      ours: graph.cold,
      reference: floodTime.warm,
      referenceName,
      ratio: graph.cold / floodTime.warm,
      bar,
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
