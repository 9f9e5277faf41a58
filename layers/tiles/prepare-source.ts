import { planeSlope } from '../../geo/ground/plane-slope.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { overviews } from '../../geo/raster/overviews.ts';
import type { Work } from '../../geo/work.ts';
import type { GroundTiles, PhotoLevel, TileFrame } from './tile-source.ts';

/** Coarsest level of a pyramid, cells on its longer side: about one tile. */
const smallestSide = 128;

/**
 * Overviews of a ground, enough to draw relief, tint, contours and near slope tiles. Far slope
 * tiles need `slopeOverviews` too. Range of heights: lowest and highest cell.
 */
export function* groundTiles(
  grid: Grid,
  frame: TileFrame,
  units: 'us' | 'metric',
): Work<GroundTiles> {
  const coarser = yield* overviews(grid, smallestSide);
  let lowestMeters = Infinity;
  let highestMeters = -Infinity;
  for (const height of grid.data) {
    if (height < lowestMeters) lowestMeters = height;
    if (height > highestMeters) highestMeters = height;
  }
  return {
    frame,
    heights: [grid, ...coarser],
    slopes: null,
    lowestMeters,
    highestMeters,
    units,
  };
}

/** Averages of the slope for levels 1 and up: what `GroundTiles.slopes` holds. */
export function* slopeOverviews(grid: Grid): Work<readonly Grid[]> {
  const data = yield* planeSlope(grid);
  return yield* overviews({ ...grid, data }, smallestSide);
}

/**
 * Overviews of a photo, itself first. Colours are averaged with their opacity as weight, so that
 * the black of no data does not darken its border.
 */
export function* photoLevels(photo: PhotoLevel): Work<readonly PhotoLevel[]> {
  const levels = [photo];
  let finer = photo;
  while (Math.max(finer.width, finer.height) > smallestSide) {
    const width = (finer.width + 1) >> 1;
    const height = (finer.height + 1) >> 1;
    const pixels = new Uint8ClampedArray(width * height * 4);
    const coarser: PhotoLevel = {
      ...finer,
      width,
      height,
      cellWidth: finer.cellWidth * 2,
      cellHeight: finer.cellHeight * 2,
      pixels,
    };
    for (let row = 0; row < height; row++) {
      averagePixelRow(finer, coarser, row);
      if ((row & 127) === 127) yield { share: row / height, doing: 'photo overviews' };
    }
    levels.push(coarser);
    finer = coarser;
  }
  return levels;
}

function averagePixelRow(finer: PhotoLevel, coarser: PhotoLevel, row: number): void {
  const { pixels, width, height } = finer;
  const rows = Math.min(2, height - 2 * row);
  for (let column = 0; column < coarser.width; column++) {
    const columns = Math.min(2, width - 2 * column);
    let red = 0;
    let green = 0;
    let blue = 0;
    let alpha = 0;
    for (let r = 0; r < rows; r++) {
      for (let c = 0; c < columns; c++) {
        const from = ((2 * row + r) * width + 2 * column + c) * 4;
        const weight = pixels[from + 3];
        red += weight * pixels[from];
        green += weight * pixels[from + 1];
        blue += weight * pixels[from + 2];
        alpha += weight;
      }
    }
    if (alpha === 0) continue;
    const to = (row * coarser.width + column) * 4;
    coarser.pixels[to] = red / alpha;
    coarser.pixels[to + 1] = green / alpha;
    coarser.pixels[to + 2] = blue / alpha;
    coarser.pixels[to + 3] = alpha / (rows * columns);
  }
}
