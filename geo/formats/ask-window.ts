import type { Canvas, PlacedTile } from '../raster/mosaic.ts';
import { groundCellMeters } from './geotiff/ground-cell.ts';
import { shadeHeights, type CoarseHeights } from './geotiff/overview-picture.ts';
import { MOST_CELLS } from './geotiff/read-elevation.ts';
import type { GroundTile } from './ground-tile.ts';
import { refused, type OpenedGround, type Reading } from './opening.ts';

const OVERVIEW_SIDE = 900;

/** Asks for a part of the survey, with a picture of all of it. */
export async function askWindow(
  tiles: readonly GroundTile[],
  canvas: Canvas,
  reading: Reading,
): Promise<OpenedGround> {
  const step = Math.max(1, Math.ceil(Math.max(canvas.width, canvas.height) / OVERVIEW_SIDE));
  let picture: CoarseHeights | null = null;
  for (const [i, tile] of tiles.entries()) {
    const read = await tile.coarse(step, reading);
    if (!read.ok && read.problem.code !== 'raster-all-nodata') return refused(read.problem);
    if (!read.ok) continue;
    if (canvas.tiles.length === 0) picture = read.value;
    else {
      picture ??= emptyCells(Math.ceil(canvas.width / step), Math.ceil(canvas.height / step));
      pasteCoarse(
        canvas.tiles.find((placed) => placed.tile.name === tile.name)!,
        read.value,
        step,
        picture,
      );
    }
    await reading.onProgress?.({ share: (i + 1) / tiles.length, doing: 'Drawing the overview' });
  }
  picture ??= emptyCells(1, 1);
  return {
    kind: 'ask',
    question: 'window',
    why: `The survey has ${canvas.width} × ${canvas.height} cells, more than the ${Math.round(MOST_CELLS / 1e6)} million that fit. Choose the part around your ground.`,
    maxCells: MOST_CELLS,
    overview: {
      width: picture.width,
      height: picture.height,
      pixels: shadeHeights(picture.data, picture.width, picture.height),
      fullWidth: canvas.width,
      fullHeight: canvas.height,
      cellMeters: groundCellMeters(canvas.crs, canvas.affine, canvas.width, canvas.height) ?? 0,
    },
  };
}

function emptyCells(width: number, height: number): CoarseHeights {
  return { width, height, data: new Float32Array(width * height).fill(NaN) };
}

/** Nearest cells of a thinned tile into the thinned canvas. */
function pasteCoarse(
  placed: PlacedTile,
  coarse: CoarseHeights,
  step: number,
  into: CoarseHeights,
): void {
  const { reach, tile } = placed;
  const point = new Float64Array(2);
  const left = Math.floor(reach.column / step);
  const right = Math.min(into.width, Math.ceil((reach.column + reach.width) / step));
  const bottom = Math.min(into.height, Math.ceil((reach.row + reach.height) / step));
  for (let row = Math.floor(reach.row / step); row < bottom; row++) {
    for (let column = left; column < right; column++) {
      placed.toTile((column + 0.5) * step, (row + 0.5) * step, point);
      const u = Math.floor((point[0]! / tile.width) * coarse.width);
      const v = Math.floor((point[1]! / tile.height) * coarse.height);
      if (u < 0 || v < 0 || u >= coarse.width || v >= coarse.height) continue;
      const at = row * into.width + column;
      if (Number.isNaN(into.data[at]!)) into.data[at] = coarse.data[v * coarse.width + u]!;
    }
  }
}
