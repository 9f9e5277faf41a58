import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Grid } from '../../geo/raster/grid.ts';

/** Writes a ground of 1 m cells as raw float32 with its header for native programs; gives the path. */
export function writeRawGround(folder: string, grid: Grid): string {
  const input = join(folder, 'ground.bin');
  writeFileSync(input, new Uint8Array(grid.data.buffer));
  writeFileSync(
    join(folder, 'ground.hdr'),
    `ENVI\nsamples = ${grid.width}\nlines = ${grid.height}\nbands = 1\nheader offset = 0\n` +
      `file type = ENVI Standard\ndata type = 4\ninterleave = bsq\nbyte order = 0\n` +
      `map info = {UTM, 1, 1, ${grid.west}, ${grid.north}, 1, 1, 16, North, WGS-84}\n`,
  );
  return input;
}
