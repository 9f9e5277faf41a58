import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hillshade } from '../../geo/ground/hillshade.ts';
import { planeSlope, planeSlopeIn } from '../../geo/ground/plane-slope.ts';
import { slopeHorn } from '../../geo/ground/slope.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import { openGdal } from '../gdal.ts';
import { writeForGdal } from '../terrain-grids.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import type { BenchRow } from './bench-row.ts';
import { writeRawGround } from './raw-ground.ts';

/** Horn slope and its kin on 16 M cells, against GDAL's slope run (native where installed). */
export async function run(): Promise<BenchRow[]> {
  const side = 4000;
  const grid = benchGround(side);
  const out = new Float32Array(side * side);
  const horn = timeRuns(3, () => void finish(slopeHorn(grid, { out })));
  const gdal = nativeSlope(grid) ?? (await wasmSlope(grid));
  const against = (name: string, ours: number, bar?: string): BenchRow => ({
    name,
    ours,
    reference: gdal.milliseconds,
    referenceName: gdal.name,
    ratio: ours / gdal.milliseconds,
    ...(bar === undefined ? {} : { bar }),
  });
  const bytes = new Uint8Array(side * side);
  const shade = timeRuns(2, () => void finish(hillshade(grid, { out: bytes })));
  const plane = timeRuns(2, () => void finish(planeSlope(grid, { out })));
  const plot = { column: 1900, row: 1900, width: 156, height: 156 };
  const small = timeRuns(50, () => void planeSlopeIn(grid, plot));
  return [
    against('Horn slope, 16 M cells, warm, best of 3', horn.warm, 'ratio at most 0.333'),
    against('Horn slope, 16 M cells, first run', horn.cold),
    against('relief shading, 16 M cells, warm, best of 2', shade.warm),
    against('plane slope 5 × 5, 16 M cells, warm, best of 2', plane.warm),
    {
      name: 'plane slope 5 × 5, box of a 3-acre plot (156 × 156), warm, best of 50',
      ours: small.warm,
      reference: null,
      referenceName: 'none',
      ratio: null,
      bar: 'at most 5 ms',
    },
  ];
}

interface Reference {
  readonly name: string;
  readonly milliseconds: number;
}

/** `gdaldem slope` as a process on an uncompressed raw file, best of 3; null when not installed. */
function nativeSlope(grid: Grid): Reference | null {
  const version = spawnSync('gdaldem', ['--version'], { encoding: 'utf8' });
  if (version.error) return null;
  const number = /GDAL \d+\.\d+\.\d+/.exec(version.stdout + version.stderr)?.[0] ?? 'GDAL';
  const folder = mkdtempSync(join(tmpdir(), 'bench-slope-'));
  try {
    const input = writeRawGround(folder, grid);
    const { warm } = timeRuns(3, () => {
      const made = spawnSync('gdaldem', ['slope', '-q', input, join(folder, 'slope.tif')]);
      if (made.status !== 0) throw new Error(`gdaldem slope ended with ${made.status}`);
    });
    return { name: `native ${number} gdaldem slope, whole process`, milliseconds: warm };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function wasmSlope(grid: Grid): Promise<Reference> {
  const gdal = await openGdal();
  const path = writeForGdal(gdal, grid, 'bench');
  let best = Infinity;
  for (let i = 0; i < 2; i++) {
    const start = performance.now();
    await gdal.dem('slope', path, [], `bench-slope-${i}.tif`);
    best = Math.min(best, performance.now() - start);
  }
  return { name: 'GDAL in WebAssembly (no native GDAL here), slope', milliseconds: best };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
