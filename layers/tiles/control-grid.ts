import { latitudeOf, longitudeOf, worldSizePixels } from './mercator.ts';
import type { TileAddress } from './tile-kind.ts';

/**
 * Reprojects a tile cheaply: exact positions at a few control points, bilinear in between. The
 * points are doubled until the surest places to be wrong (middles of edges and of cells) are off by
 * no more than the tolerance.
 */

/** A rectangle of pixels of one tile: columns `left` to `right - 1`, rows `top` to `bottom - 1`. */
export interface PixelRectangle {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface ControlGrid {
  readonly rectangle: PixelRectangle;
  /** Control cells per axis. */
  readonly cells: number;
  /** Frame positions, (cells + 1)², row-major from the top left, metres. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export type Projection = (lng: number, lat: number) => [number, number];

/** Control points per axis never pass this: 64 cells over 256 pixels is one every four. */
const mostCells = 64;
/** The worst place is not exactly at a middle, so the check is stricter than the promise. */
const headroom = 0.7;

/**
 * Builds the grid over the pixel centres of `rectangle`. `tolerancePixels` is in pixels of the
 * tile, `metersPerPixel` turns it into frame metres. Throws what `toFrame` throws.
 */
export function buildControlGrid(
  tile: TileAddress,
  rectangle: PixelRectangle,
  toFrame: Projection,
  metersPerPixel: number,
  tolerancePixels = 0.05,
): ControlGrid {
  const limit = tolerancePixels * headroom * metersPerPixel;
  let coarse = sample(tile, rectangle, toFrame, 1);
  for (;;) {
    const fine = sample(tile, rectangle, toFrame, coarse.cells * 2);
    if (worstMiddle(coarse, fine) <= limit) return coarse;
    if (fine.cells >= mostCells) return fine;
    coarse = fine;
  }
}

function sample(
  tile: TileAddress,
  rectangle: PixelRectangle,
  toFrame: Projection,
  cells: number,
): ControlGrid {
  const n = cells + 1;
  const x = new Float64Array(n * n);
  const y = new Float64Array(n * n);
  const world = worldSizePixels(tile);
  const width = rectangle.right - 1 - rectangle.left;
  const height = rectangle.bottom - 1 - rectangle.top;
  for (let j = 0; j < n; j++) {
    const worldY = (tile.y * tile.size + rectangle.top + 0.5 + (height * j) / cells) / world;
    const latitude = latitudeOf(worldY);
    for (let i = 0; i < n; i++) {
      const worldX = (tile.x * tile.size + rectangle.left + 0.5 + (width * i) / cells) / world;
      const [fx, fy] = toFrame(longitudeOf(worldX), latitude);
      x[j * n + i] = fx;
      y[j * n + i] = fy;
    }
  }
  return { rectangle, cells, x, y };
}

/** How far, in metres, bilinear on the coarse grid misses the fine one's own points at worst. */
function worstMiddle(coarse: ControlGrid, fine: ControlGrid): number {
  const n = fine.cells + 1;
  const m = coarse.cells + 1;
  let worst = 0;
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      if ((i & 1) === 0 && (j & 1) === 0) continue;
      const upperLeft = (j >> 1) * m + (i >> 1);
      const right = i & 1;
      const down = (j & 1) * m;
      const k = j * n + i;
      const dx = fine.x[k] - middle(coarse.x, upperLeft, right, down);
      const dy = fine.y[k] - middle(coarse.y, upperLeft, right, down);
      worst = Math.max(worst, Math.hypot(dx, dy));
    }
  }
  return worst;
}

function middle(a: Float64Array, k: number, right: number, down: number): number {
  return (a[k] + a[k + right] + a[k + down] + a[k + down + right]) / 4;
}

/**
 * Frame positions of the pixel centres of one row of the rectangle, left to right, into `outX` and
 * `outY` (at least as long as the rectangle is wide).
 */
export function positionsOfRow(
  grid: ControlGrid,
  row: number,
  outX: Float64Array,
  outY: Float64Array,
): void {
  const { rectangle, cells, x, y } = grid;
  const n = cells + 1;
  const width = rectangle.right - rectangle.left;
  const height = rectangle.bottom - rectangle.top;
  const down = height > 1 ? ((row - rectangle.top) * cells) / (height - 1) : 0;
  const j = Math.min(cells - 1, Math.floor(down));
  const t = down - j;
  const pixelsPerCell = (width - 1) / cells;
  const upper = j * n;
  const lower = upper + n;
  let p = 0;
  for (let i = 0; i < cells; i++) {
    const leftX = x[upper + i] + (x[lower + i] - x[upper + i]) * t;
    const leftY = y[upper + i] + (y[lower + i] - y[upper + i]) * t;
    const rightX = x[upper + i + 1] + (x[lower + i + 1] - x[upper + i + 1]) * t;
    const rightY = y[upper + i + 1] + (y[lower + i + 1] - y[upper + i + 1]) * t;
    const stepX = pixelsPerCell > 0 ? (rightX - leftX) / pixelsPerCell : 0;
    const stepY = pixelsPerCell > 0 ? (rightY - leftY) / pixelsPerCell : 0;
    const start = i * pixelsPerCell;
    const end = i === cells - 1 ? width : Math.ceil(start + pixelsPerCell);
    for (; p < end; p++) {
      outX[p] = leftX + stepX * (p - start);
      outY[p] = leftY + stepY * (p - start);
    }
  }
}

/** The rectangle of the frame that holds all control points. */
export function boundsOfControl({ x, y }: ControlGrid): {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
} {
  let minX = Infinity;
  let maxX = -Infinity;
  let minY = Infinity;
  let maxY = -Infinity;
  for (let k = 0; k < x.length; k++) {
    minX = Math.min(minX, x[k]);
    maxX = Math.max(maxX, x[k]);
    minY = Math.min(minY, y[k]);
    maxY = Math.max(maxY, y[k]);
  }
  return { minX, minY, maxX, maxY };
}
