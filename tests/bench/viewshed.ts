import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Grid } from '../../geo/raster/grid.ts';
import { viewshedFast } from '../../geo/sight/viewshed-fast.ts';
import { viewshed } from '../../geo/sight/viewshed.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import type { BenchRow } from './bench-row.ts';
import { writeRawGround } from './raw-ground.ts';

/** The farthest that a stand on the demo is asked about: 300 yards. */
const RANGE_METERS = 274.32;

/**
 * Viewshed of 16 M cells against native GDAL's, which is run where it is installed (the WebAssembly
 * build has none), and the exact one over the range of a stand and over 1 M cells.
 */
export async function run(): Promise<BenchRow[]> {
  const side = 4000;
  const grid = benchGround(side);
  const eye = { eyeMeters: 4, radiusMeters: Infinity, ...middleOf(grid) };
  const out = new Float32Array(side * side);
  const quick = timeRuns(3, () => void finish(viewshedFast(grid, eye, out)));
  const gdal = nativeViewshed(grid, eye);
  const near = timeRuns(5, () => {
    finish(viewshed(grid, { ...eye, radiusMeters: RANGE_METERS }));
  });
  const small = benchGround(1000);
  const smallEye = { ...eye, ...middleOf(small) };
  const whole = timeRuns(1, () => void finish(viewshed(small, smallEye)));
  const a = finish(viewshed(small, smallEye))!.data;
  const b = finish(viewshedFast(small, smallEye))!.data;
  const differ = a.reduce((sum, from, i) => sum + (from <= 1 === b[i]! <= 1 ? 0 : 1), 0);
  const alone = { reference: null, referenceName: 'none', ratio: null };
  const native = gdal
    ? { reference: gdal, referenceName: 'native GDAL, whole process', ratio: quick.warm / gdal }
    : alone;
  return [
    {
      name: `fast viewshed, 16 M cells, warm, best of 3${gdal ? '' : ' (no native GDAL here)'}`,
      ours: quick.warm,
      ...native,
      bar: 'ratio at most 0.2',
    },
    { name: 'fast viewshed, 16 M cells, first run', ours: quick.cold, ...alone },
    { name: 'exact viewshed, 300 yd round, warm, best of 5', ours: near.warm, ...alone },
    { name: 'exact viewshed, 1 M cells, unlimited, second run', ours: whole.warm, ...alone },
    {
      name: 'cells of 1 M where fast and exact differ on a thing 1 m high, per cent',
      ours: (100 * differ) / a.length,
      ...alone,
    },
  ];
}

function middleOf(grid: Grid): { x: number; y: number } {
  const [columns, rows] = [Math.floor(grid.width / 2) + 0.5, Math.floor(grid.height / 2) + 0.5];
  return { x: grid.west + columns * grid.cellWidth, y: grid.north - rows * grid.cellHeight };
}

/** `gdal_viewshed` as a process on an uncompressed raw file, best of 3; null when not installed. */
function nativeViewshed(grid: Grid, eye: { x: number; y: number; eyeMeters: number }) {
  if (spawnSync('gdal_viewshed', ['--version']).error) return null;
  const folder = mkdtempSync(join(tmpdir(), 'bench-viewshed-'));
  try {
    const input = writeRawGround(folder, grid);
    const { x, y, eyeMeters } = eye;
    const at = ['-ox', `${x}`, '-oy', `${y}`, '-oz', `${eyeMeters}`, '-md', '0', '-cc', '0'];
    return timeRuns(2, () => {
      const made = spawnSync('gdal_viewshed', ['-q', ...at, input, join(folder, 'seen.tif')]);
      if (made.status !== 0) throw new Error(`gdal_viewshed ended with ${made.status}`);
    }).warm;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
