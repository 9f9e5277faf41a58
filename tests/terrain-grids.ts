import type { Grid } from '../geo/raster/grid.ts';
import type { Gdal } from './gdal.ts';
import { seeded } from './seeded.ts';

/** Small grids for kernel tests: made from a function, from rows, or rough from a seed. */

const frame = {
  epsg: 26916,
  name: 'NAD83 / UTM zone 16N',
  datum: 'NAD83',
  proj: '+proj=utm +zone=16 +datum=NAD83 +units=m +no_defs',
} as const;

export interface GridShape {
  readonly width: number;
  readonly height: number;
  readonly cellWidth?: number;
  readonly cellHeight?: number;
  readonly west?: number;
  readonly north?: number;
}

/** Heights from a function of metres east and north of the grid's south-west corner. */
export function gridOf(shape: GridShape, heightAt: (x: number, y: number) => number): Grid {
  const { width, height, cellWidth = 1, cellHeight = 1, west = 500_000, north = 4_800_000 } = shape;
  const data = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      data[row * width + column] = heightAt(
        (column + 0.5) * cellWidth,
        (height - row - 0.5) * cellHeight,
      );
    }
  }
  const cellGroundAreaSquareMeters = cellWidth * cellHeight;
  return {
    width,
    height,
    data,
    west,
    north,
    cellWidth,
    cellHeight,
    frame,
    cellGroundAreaSquareMeters,
    convergenceDegrees: 0,
  };
}

/** Rows as one would write them on paper, north on top; cell size in metres. */
export function gridOfRows(rows: readonly (readonly number[])[], cell = 1): Grid {
  const width = rows[0]!.length;
  const shape = { width, height: rows.length, cellWidth: cell, cellHeight: cell };
  return { ...gridOf(shape, () => 0), data: Float32Array.from(rows.flat()) };
}

/**
 * Rough ground between about 200 and 300 m: waves of several lengths, white noise of `noise` metres
 * and, when asked, round and single-cell holes without data. `stepsPerMeter` rounds heights to a
 * binary fraction, so sums of them are exact in 32 bits.
 */
export function roughGrid(
  shape: GridShape,
  seed: number,
  options: { noise?: number; holes?: boolean; stepsPerMeter?: number } = {},
): Grid {
  const { noise = 0.5, holes = false, stepsPerMeter } = options;
  const next = seeded(seed);
  const waves = Array.from({ length: 6 }, (_, i) => {
    const length = 8 * 2.3 ** i;
    const bearing = next() * 2 * Math.PI;
    const k = (2 * Math.PI) / length;
    return {
      east: k * Math.cos(bearing),
      north: k * Math.sin(bearing),
      phase: next() * 7,
      size: length / 25,
    };
  });
  const grid = gridOf(shape, (x, y) => {
    let z = 250 + noise * (next() - 0.5);
    for (const w of waves) z += w.size * Math.sin(w.east * x + w.north * y + w.phase);
    return stepsPerMeter === undefined ? z : Math.round(z * stepsPerMeter) / stepsPerMeter;
  });
  if (holes) {
    for (let i = 0; i < 12; i++) {
      const radius = i < 6 ? 0 : next() * 5;
      const column = Math.floor(next() * grid.width);
      const row = Math.floor(next() * grid.height);
      for (let r = 0; r < grid.height; r++) {
        for (let c = 0; c < grid.width; c++) {
          if (Math.hypot(r - row, c - column) <= radius) grid.data[r * grid.width + c] = NaN;
        }
      }
    }
  }
  return grid;
}

/** Puts a grid before GDAL as raw float32 with no data as -9999, and returns its path there. */
export function writeForGdal(gdal: Gdal, grid: Grid, name: string): string {
  const { width, height, west, north, cellWidth, cellHeight } = grid;
  const data = grid.data.map((z) => (Number.isNaN(z) ? -9999 : z));
  gdal.write(
    `${name}.hdr`,
    new TextEncoder().encode(
      `ENVI\nsamples = ${width}\nlines = ${height}\nbands = 1\nheader offset = 0\n` +
        `file type = ENVI Standard\ndata type = 4\ninterleave = bsq\nbyte order = 0\n` +
        `map info = {UTM, 1, 1, ${west}, ${north}, ${cellWidth}, ${cellHeight}, 16, North, WGS-84}\n` +
        `data ignore value = -9999\n`,
    ),
  );
  return gdal.write(`${name}.bin`, new Uint8Array(data.buffer));
}
