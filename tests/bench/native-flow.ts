import { fileURLToPath } from 'node:url';
import { BasinBuffers, fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { FlowBuffers, flowCatchments } from '../../geo/water/flow-lines.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import { twoRows, type BenchRow } from './bench-row.ts';
import { inFolder, isInstalled, runInGrass, writeGround } from './native-tools.ts';

const modes = [
  { name: 'single', flag: '-s', says: 'eight neighbours, -s' },
  { name: 'multiple', flag: '', says: 'multiple flow, its default' },
  { name: 'positive', flag: '-s -a', says: 'eight neighbours, -s -a' },
] as const;

/**
 * From a raw ground of 16 M cells to what drains through every cell: hollows filled, flats led to
 * where they drain, D-infinity accumulation; against GRASS's r.watershed for directions and
 * accumulation, kept whole in memory: the whole module, import left out.
 */
export async function run(): Promise<BenchRow[]> {
  const grid = benchGround(4000);
  const filled = new Float32Array(grid.data.length);
  const out = new Float64Array(grid.data.length);
  const basins = new BasinBuffers();
  const buffers = new FlowBuffers();
  const ours = timeRuns(2, () => {
    finish(fillBasins(grid, finish(findBasins(grid, basins)), filled));
    finish(flowCatchments(grid, filled, { out, buffers }));
  });
  const native = isInstalled('grass')
    ? inFolder((folder) => {
        const input = writeGround(folder, grid);
        return runInGrass(folder, input, [
          `r.in.gdal -o --q input=${input} output=ground`,
          'g.region raster=ground',
          ...modes.map(
            ({ name, flag }) =>
              `timed ${name} r.watershed ${flag} --q --o elevation=ground drainage=ways accumulation=flow memory=8000`,
          ),
        ]);
      })
    : null;
  return modes.flatMap(({ name, says }) =>
    twoRows(
      'fill, flats, D-infinity accumulation, 16 M cells, warm, best of 2',
      ours,
      `GRASS r.watershed (${says}), whole module`,
      native?.get(name),
      'ratio at most 0.2',
    ),
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
