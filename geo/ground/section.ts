import type { Grid } from '../raster/grid.ts';
import { sampleBilinear } from '../raster/sample.ts';

export interface Section {
  /** Metres on the ground along the line, rising from 0; every corner of the line has a station. */
  readonly stationsMeters: Float64Array;
  /** Height at each station; NaN off the ground or without data. */
  readonly elevationsMeters: Float64Array;
  /** Where the line's corners stand among the stations. */
  readonly cornerIndices: Uint32Array;
}

/** More stations than a screen has pixels say nothing more. */
const mostStations = 8192;

/**
 * Heights along a line: at every corner, and between corners at even steps of at most one cell (or
 * of a 8,192nd of the line, where that is more). `line` in frame metres; `lengthsMeters` holds the
 * length on the ground of each piece, one fewer than corners, so that stations are ground metres.
 * Heights are bilinear between cell centres. Throws RangeError where the lengths do not fit.
 * Example: on a plane every height is on one straight line over its station.
 */
export function sectionAlong(
  grid: Grid,
  line: readonly (readonly [number, number])[],
  lengthsMeters: readonly number[],
): Section {
  if (line.length === 0 || lengthsMeters.length !== line.length - 1) {
    throw new RangeError(`${lengthsMeters.length} lengths for ${line.length} corners`);
  }
  const total = lengthsMeters.reduce((sum, length) => sum + length, 0);
  const step = Math.max(Math.min(grid.cellWidth, grid.cellHeight), total / mostStations);
  const counts = lengthsMeters.map((length) => Math.ceil(length / step));
  const stations = counts.reduce((sum, count) => sum + count, 1);
  const out = {
    stationsMeters: new Float64Array(stations),
    elevationsMeters: new Float64Array(stations),
    cornerIndices: new Uint32Array(line.length),
  };
  out.elevationsMeters[0] = sampleBilinear(grid, line[0][0], line[0][1]);
  let n = 0;
  let gone = 0;
  for (let i = 0; i + 1 < line.length; i++) {
    const [ax, ay] = line[i];
    const [bx, by] = line[i + 1];
    for (let k = 1; k <= counts[i]; k++) {
      const t = k / counts[i];
      n++;
      out.stationsMeters[n] = gone + t * lengthsMeters[i];
      out.elevationsMeters[n] = sampleBilinear(grid, ax + t * (bx - ax), ay + t * (by - ay));
    }
    gone += lengthsMeters[i];
    out.cornerIndices[i + 1] = n;
  }
  return out;
}
