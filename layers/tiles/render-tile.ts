import type { Grid } from '../../geo/raster/grid.ts';
import { chooseLevel } from './choose-level.ts';
import { contourChoice } from '../contours/contour-choice.ts';
import { buildControlGrid, positionsOfRow, type ControlGrid } from './control-grid.ts';
import { footprintOf, pixelsUnder, type Footprint } from './footprint.ts';
import { latitudeOf, metersPerPixel } from './mercator.ts';
import { paintContourRow } from './paint-contours.ts';
import { paintElevationRow } from './paint-elevation.ts';
import { paintPhotoRow } from './paint-photo.ts';
import {
  broadBrightness,
  broadCount,
  broadStride,
  paintReliefRow,
  reliefLight,
} from './paint-relief.ts';
import { paintSlopeRow } from './paint-slope.ts';
import { rowSamples, sampleBilinear, sampleSmooth, type RowSamples } from './sample-row.ts';
import { slopeWindow } from './slope-window.ts';
import type { TileAddress, TileKind } from './tile-kind.ts';
import type { GroundTiles, PhotoTiles, TileFrame, TileSource, LevelPlace } from './tile-source.ts';
import { cutWindow, WindowBuffers } from './window.ts';

export interface TileOrder extends TileAddress {
  readonly kind: TileKind;
  readonly source: TileSource;
  /** Pixels of the tile per pixel of line width and hatch; 1 for 256 pixels, 2 for 512. */
  readonly pixelRatio?: number;
}

/** The broad shape in the relief is taken this many levels above the fine one. */
const broadLevels = 3;

/**
 * Draws one web-mercator tile of a raster in the site frame: size² RGBA, straight alpha, row 0
 * north, no data clear. Null where the raster does not reach the tile. Pass `out` (size² · 4 bytes)
 * to reuse a buffer. Throws RangeError for a tile outside the pyramid or a buffer of another size.
 */
export function renderTile(order: TileOrder, out?: Uint8ClampedArray): Uint8ClampedArray | null {
  const { kind, z, x, y, size, source } = order;
  if (!(z >= 0 && x >= 0 && y >= 0 && x < 2 ** z && y < 2 ** z && size > 0)) {
    throw new RangeError(`There is no tile ${z}/${x}/${y} of ${size} pixels.`);
  }
  if (out !== undefined && out.length !== size * size * 4) {
    throw new RangeError(`A tile of ${size} pixels takes ${size * size * 4} bytes: ${out.length}.`);
  }
  if (kind === 'photo') return source.photo && drawPhoto(order, source.photo, out);
  return source.ground && drawGround(order, kind, source.ground, out);
}

/** What a tile shares with every other tile of its zoom, and where its pixels lie. */
interface Placing {
  readonly control: ControlGrid;
  /** At the middle of the raster, so that all tiles of a zoom choose alike. */
  readonly metersPerPixel: number;
}

const footprints = new WeakMap<LevelPlace, Footprint>();

function place(tile: TileAddress, level: LevelPlace, frame: TileFrame): Placing | null {
  let footprint = footprints.get(level);
  if (!footprint) {
    footprint = footprintOf(level, frame);
    footprints.set(level, footprint);
  }
  const rectangle = pixelsUnder(footprint, tile);
  if (!rectangle) return null;
  const latitude = latitudeOf((footprint.north + footprint.south) / 2);
  const perPixel = metersPerPixel(latitude, tile.z, tile.size);
  const control = buildControlGrid(tile, rectangle, frame.fromLngLat, perPixel);
  return { control, metersPerPixel: perPixel };
}

// One tile is drawn at a time, so the scratch space is shared.
const fineBuffers = new WindowBuffers();
const broadBuffers = new WindowBuffers();
let scratch = makeScratch(256);

interface Scratch {
  readonly width: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly fine: RowSamples;
  readonly broad: RowSamples;
  readonly sparseX: Float64Array;
  readonly sparseY: Float64Array;
  readonly wide: Float32Array;
}

function makeScratch(width: number): Scratch {
  return {
    width,
    x: new Float64Array(width),
    y: new Float64Array(width),
    fine: rowSamples(width),
    broad: rowSamples(width),
    sparseX: new Float64Array(width + 1),
    sparseY: new Float64Array(width + 1),
    wide: new Float32Array(width + 2),
  };
}

function scratchFor(size: number): Scratch {
  if (scratch.width < size) scratch = makeScratch(size);
  return scratch;
}

function blank(size: number, out: Uint8ClampedArray | undefined): Uint8ClampedArray {
  return out ? out.fill(0) : new Uint8ClampedArray(size * size * 4);
}

function drawPhoto(
  tile: TileAddress,
  photo: PhotoTiles,
  out?: Uint8ClampedArray,
): Uint8ClampedArray | null {
  const placing = place(tile, photo.levels[0], photo.frame);
  if (!placing) return null;
  const { control } = placing;
  const { left, top, right, bottom } = control.rectangle;
  const level = photo.levels[chooseLevel(photo.levels, placing.metersPerPixel)];
  const pixels = blank(tile.size, out);
  const { x, y } = scratchFor(tile.size);
  for (let row = top; row < bottom; row++) {
    positionsOfRow(control, row, x, y);
    paintPhotoRow(level, x, y, right - left, pixels, (row * tile.size + left) * 4);
  }
  return pixels;
}

function drawGround(
  tile: TileOrder,
  kind: Exclude<TileKind, 'photo'>,
  ground: GroundTiles,
  out?: Uint8ClampedArray,
): Uint8ClampedArray | null {
  const placing = place(tile, ground.heights[0], ground.frame);
  if (!placing) return null;
  const level = chooseLevel(ground.heights, placing.metersPerPixel);
  const painter = painters[kind](tile, ground, level, placing);
  if (!painter) return null;
  const { left, top, right, bottom } = placing.control.rectangle;
  const pixels = blank(tile.size, out);
  const rows = scratchFor(tile.size);
  for (let row = top; row < bottom; row++) {
    positionsOfRow(placing.control, row, rows.x, rows.y);
    if (level > 0 || kind === 'contours')
      clipToRaster(rows.x, rows.y, right - left, ground.heights[0]);
    painter(rows, right - left, row, pixels, (row * tile.size + left) * 4);
  }
  return pixels;
}

/** Cells of overviews reach past the raster's east and south edge; positions there become NaN. */
function clipToRaster(x: Float64Array, y: Float64Array, count: number, raster: LevelPlace): void {
  const east = raster.west + raster.width * raster.cellWidth;
  const south = raster.north - raster.height * raster.cellHeight;
  for (let p = 0; p < count; p++) {
    if (x[p] >= east || y[p] <= south) x[p] = NaN;
  }
}

type RowPainter = (
  rows: Scratch,
  count: number,
  row: number,
  pixels: Uint8ClampedArray,
  offset: number,
) => void;

type MakePainter = (
  tile: TileOrder,
  ground: GroundTiles,
  level: number,
  placing: Placing,
) => RowPainter | null;

const painters: Record<Exclude<TileKind, 'photo'>, MakePainter> = {
  relief(_tile, ground, level, { control }) {
    const window = cutWindow(ground.heights[level], control, fineBuffers);
    const last = ground.heights.length - 1;
    const broadGrid: Grid = ground.heights[Math.min(last, level + broadLevels)];
    const broadWindow = cutWindow(broadGrid, control, broadBuffers);
    if (!window || !broadWindow) return null;
    const light = reliefLight(ground.heights[0].convergenceDegrees);
    return ({ x, y, fine, broad, sparseX, sparseY, wide }, count, _row, pixels, offset) => {
      sampleSmooth(window, x, y, count, fine);
      const samples = broadCount(count);
      for (let k = 0; k < samples; k++) {
        const p = k * broadStride;
        const past = Math.max(0, p - (count - 1));
        sparseX[k] = x[p - past] + (past > 0 ? past * (x[count - 1] - x[count - 2]) : 0);
        sparseY[k] = y[p - past] + (past > 0 ? past * (y[count - 1] - y[count - 2]) : 0);
      }
      sampleSmooth(broadWindow, sparseX, sparseY, samples, broad);
      broadBrightness(broad, samples, light, wide);
      wide[samples] = wide[samples - 1];
      paintReliefRow(fine, wide, count, light, pixels, offset);
    };
  },
  contours(tile, ground, _level, { control, metersPerPixel: perPixel }) {
    const scale = tile.pixelRatio ?? tile.size / 256;
    const { level, intervalMeters } = contourChoice(ground, perPixel, scale);
    const window = cutWindow(ground.heights[level], control, fineBuffers);
    if (!window) return null;
    return ({ x, y, fine }, count, _row, pixels, offset) => {
      sampleSmooth(window, x, y, count, fine);
      paintContourRow(fine, count, intervalMeters, perPixel, scale, pixels, offset);
    };
  },
  elevation(_tile, ground, level, { control }) {
    const window = cutWindow(ground.heights[level], control, fineBuffers);
    if (!window) return null;
    const { lowestMeters, highestMeters } = ground;
    return ({ x, y, fine }, count, _row, pixels, offset) => {
      sampleBilinear(window, x, y, count, fine.value);
      paintElevationRow(fine.value, count, lowestMeters, highestMeters, pixels, offset);
    };
  },
  slope(tile, ground, level, { control }) {
    const window = slopeWindow(ground, level, control, fineBuffers);
    if (!window) return null;
    const { left } = control.rectangle;
    const scale = tile.pixelRatio ?? tile.size / 256;
    return ({ x, y, fine }, count, row, pixels, offset) => {
      sampleBilinear(window, x, y, count, fine.value);
      const worldX = tile.x * tile.size + left;
      const worldY = tile.y * tile.size + row;
      paintSlopeRow(fine.value, count, worldX, worldY, scale, pixels, offset);
    };
  },
};
