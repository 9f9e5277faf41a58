import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Grid } from '../../geo/raster/grid.ts';
import { depressionTree } from '../../geo/water/depression-tree.ts';
import { BasinBuffers, fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import { found, twoRows, type BenchRow } from './bench-row.ts';
import { inFolder, isInstalled, timeCommand, writeGround } from './native-tools.ts';

/**
 * Basins, their tree and the filled ground of 16 M cells against SAGA's fill after Wang & Liu with
 * no slope on what is filled: its whole command on the GeoTIFF that the app writes. It makes
 * directions and basins besides, and no hierarchy. Then what the two fills hold.
 */
export async function run(): Promise<BenchRow[]> {
  const grid = benchGround(4000);
  const out = new Float32Array(grid.data.length);
  const buffers = new BasinBuffers();
  const ours = timeRuns(3, () => {
    const basins = finish(findBasins(grid, buffers));
    depressionTree(basins.passes, basins.count);
    finish(fillBasins(grid, basins, out));
  });
  const native = isInstalled('saga_cmd')
    ? inFolder((folder) => {
        const taken = timeCommand(folder, 'saga_cmd', [
          ...['-f=s', 'ta_preprocessor', '4', '-ELEV', writeGround(folder, grid)],
          ...['-FILLED', 'filled.sdat', '-FDIR', 'ways.sdat', '-WSHED', 'basins.sdat'],
          ...['-MINSLOPE', '0'],
        ]);
        return {
          taken,
          filled: new Float32Array(readFileSync(join(folder, 'filled.sdat')).buffer),
        };
      })
    : null;
  const rows = twoRows(
    'depressions, hierarchy and fill, 16 M cells, warm, best of 3',
    ours,
    'SAGA fill (Wang & Liu), whole command',
    native?.taken,
    'ratio at most 0.143',
  );
  rows.push(found('filled by the basin graph, cubic metres', volume(grid, out, false)));
  if (native === null) return rows;
  const theirs = volume(grid, native.filled, true);
  rows.push(found('filled by SAGA, cubic metres', theirs, 'the same'));
  return rows;
}

/** What was filled; SAGA writes its rows from the south. */
function volume({ data, width, height }: Grid, filled: Float32Array, fromSouth: boolean): number {
  let sum = 0;
  for (let row = 0; row < height; row++) {
    const start = (fromSouth ? height - 1 - row : row) * width;
    for (let c = 0; c < width; c++) sum += filled[start + c]! - data[row * width + c]!;
  }
  return sum;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
