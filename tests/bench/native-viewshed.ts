import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { viewshedFast } from '../../geo/sight/viewshed-fast.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns, type Taken } from './bench-ground.ts';
import { found, twoRows, type BenchRow } from './bench-row.ts';
import { inFolder, isInstalled, timeCommand, writeGround } from './native-tools.ts';
import { writeRawGround } from './raw-ground.ts';

const TOOL = 'gdal_viewshed';
const SIDE = 4000;
const EYE_METERS = 4;

/**
 * The fast viewshed of 16 M cells against native GDAL's: the same ground, eye and thing looked for,
 * no curvature. GDAL's whole command, from the GeoTIFF that the app writes and from a raw file;
 * ours is the kernel alone, arrays reused, as in the page, where the ground is in memory.
 */
export async function run(): Promise<BenchRow[]> {
  const grid = benchGround(SIDE);
  const middle = SIDE / 2 + 0.5;
  const eye = { x: grid.west + middle, y: grid.north - middle, eyeMeters: EYE_METERS };
  const lookout = { ...eye, radiusMeters: Infinity };
  const out = new Float32Array(SIDE * SIDE);
  const ours = timeRuns(7, () => void finish(viewshedFast(grid, lookout, out)));
  const native = isInstalled(TOOL) ? inFolder((folder) => gdalRuns(folder, grid, eye)) : null;
  const name = 'fast viewshed, 16 M cells, warm, best of 7';
  const bar = 'ratio at most 0.2';
  const rows = [
    ...twoRows(name, ours, `${TOOL}, whole command on a GeoTIFF`, native?.packed, bar),
    ...twoRows(name, ours, `${TOOL}, whole command on a raw file`, native?.raw, bar),
  ];
  for (const [target, seen] of native?.seen ?? []) {
    const same = seen.reduce((sum, byte, i) => sum + (byte > 0 === out[i]! <= target ? 1 : 0), 0);
    const what = target === 0 ? 'the ground' : `a thing ${target} m high`;
    const said = `cells on which GDAL and the fast viewshed agree about ${what}, per cent`;
    rows.push(found(said, (100 * same) / seen.length, 'at least 99.9'));
  }
  return rows;
}

interface GdalRuns {
  readonly packed: Taken;
  readonly raw: Taken;
  /** By height of the thing looked for: 255 for each cell where it is seen. */
  readonly seen: ReadonlyMap<number, Uint8Array>;
}

function gdalRuns(
  folder: string,
  grid: ReturnType<typeof benchGround>,
  { x, y, eyeMeters }: { x: number; y: number; eyeMeters: number },
): GdalRuns {
  const at = ['-q', '-md', '0', '-cc', '0', '-ox', `${x}`, '-oy', `${y}`, '-oz', `${eyeMeters}`];
  const take = (input: string, target: number, format: string) =>
    timeCommand(folder, TOOL, [...at, '-tz', `${target}`, '-of', format, input, 'seen']);
  const best = (input: string) => {
    const runs = Array.from({ length: 5 }, () => take(input, 0, 'GTiff'));
    return {
      warm: Math.min(...runs.map(({ warm }) => warm)),
      processor: Math.min(...runs.map(({ processor }) => processor)),
    };
  };
  const packed = best(writeGround(folder, grid));
  const input = writeRawGround(folder, grid);
  const raw = best(input);
  const seen = new Map<number, Uint8Array>();
  for (const target of [0, 1]) {
    take(input, target, 'ENVI');
    seen.set(target, new Uint8Array(readFileSync(join(folder, 'seen'))));
  }
  return { packed, raw, seen };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
