import { cutChannel, type Channel } from '../ground/earthworks.ts';
import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import { cellAt, sampleBilinear } from '../raster/sample.ts';
import type { Work } from '../work.ts';

export interface NotchVolume {
  readonly cubicMeters: number;
  /** Codes of barred cells that are dug into, rising. */
  readonly touches: readonly number[];
}

/** Digging shallower than this is not digging, metres. */
const LEAST_CUT = 0.001;

/**
 * Volume between the ground and a channel cut into it, cubic metres on the true ground: the ground
 * is taken bilinear on a lattice at least four times as fine as the bottom is wide, and no coarser
 * than the cells, and the channel is cut into that. Cells without data are not dug.
 */
export function* notchVolume(
  ground: Grid,
  channel: Channel,
  blocked: Uint8Array | null,
): Work<NotchVolume> {
  const fine = emptyFineGrid(ground, channel);
  const band = rowsPerBand(fine.width * 8);
  for (let row = 0; row < fine.height; row += band) {
    sampleRows(ground, fine, row, Math.min(fine.height, row + band));
    yield { share: row / fine.height, doing: 'measuring the notch' };
  }
  const cut = fine.data.slice();
  cutChannel(fine, cut, channel);
  let sum = 0;
  const touches = new Set<number>();
  for (let i = 0; i < cut.length; i++) {
    const depth = fine.data[i]! - cut[i]!;
    if (!(depth > 0)) continue;
    sum += depth;
    if (blocked === null || depth < LEAST_CUT) continue;
    const row = Math.floor(i / fine.width);
    const code = blocked[cellAt(ground, ...centre(fine, row, i - row * fine.width))]!;
    if (code !== 0) touches.add(code);
  }
  return {
    cubicMeters: sum * fine.cellGroundAreaSquareMeters,
    touches: [...touches].sort((a, b) => a - b),
  };
}

/** The part of the grid that a channel can reach, its cells divided. */
function emptyFineGrid(ground: Grid, { line, reach, halfBottom }: Channel): Grid {
  const { west, north, cellWidth, cellHeight } = ground;
  const around = Math.max(reach, halfBottom);
  const xs = line.map(([x]) => x);
  const ys = line.map(([, y]) => y);
  const hold = (value: number, most: number) => Math.min(most, Math.max(0, value));
  const left = hold(Math.floor((Math.min(...xs) - around - west) / cellWidth), ground.width);
  const right = hold(Math.ceil((Math.max(...xs) + around - west) / cellWidth), ground.width);
  const top = hold(Math.floor((north - Math.max(...ys) - around) / cellHeight), ground.height);
  const bottom = hold(Math.ceil((north - Math.min(...ys) + around) / cellHeight), ground.height);
  const parts = Math.ceil((2 * Math.max(cellWidth, cellHeight)) / halfBottom);
  const width = (right - left) * parts;
  const height = (bottom - top) * parts;
  return {
    ...ground,
    width,
    height,
    data: new Float32Array(width * height),
    west: west + left * cellWidth,
    north: north - top * cellHeight,
    cellWidth: cellWidth / parts,
    cellHeight: cellHeight / parts,
    cellGroundAreaSquareMeters: ground.cellGroundAreaSquareMeters / parts ** 2,
  };
}

function sampleRows(ground: Grid, fine: Grid, from: number, to: number): void {
  for (let row = from; row < to; row++) {
    for (let column = 0; column < fine.width; column++) {
      const [x, y] = centre(fine, row, column);
      fine.data[row * fine.width + column] = sampleBilinear(ground, x, y);
    }
  }
}

function centre(grid: Grid, row: number, column: number): [number, number] {
  return [grid.west + (column + 0.5) * grid.cellWidth, grid.north - (row + 0.5) * grid.cellHeight];
}
