import type { Frame } from '../../geo/frame/crs-types.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import type { Progress, Work } from '../../geo/work.ts';
import { contourLabels, type ContourLabel } from '../../layers/contours/contour-labels.ts';
import { groundTiles, photoLevels, slopeOverviews } from '../../layers/tiles/prepare-source.ts';
import { renderTile } from '../../layers/tiles/render-tile.ts';
import type { GroundTiles, PhotoLevel, PhotoTiles } from '../../layers/tiles/tile-source.ts';
import type { Requests } from './messages.ts';
import { breathe, sliceMilliseconds } from './slices.ts';

/**
 * Draws the tiles of the ground and the photo in use. Overviews are made when a raster is taken into
 * use, and the averages of the slope when the first far slope tile is asked for.
 */
export class TileShop {
  #ground: GroundTiles | null = null;
  #grid: Grid | null = null;
  #slopes: Promise<void> | null = null;
  #photo: PhotoTiles | null = null;
  /** Counts changes, so that late overviews of an old raster are dropped. */
  #groundTurn = 0;
  #photoTurn = 0;

  async useGround(grid: Grid | null, frame: Frame | null, units: 'us' | 'metric'): Promise<void> {
    const turn = ++this.#groundTurn;
    this.#ground = null;
    this.#slopes = null;
    this.#grid = grid;
    if (!grid || !frame) return;
    const tiles = await inSlices(groundTiles(grid, frame, units));
    if (turn === this.#groundTurn) this.#ground = tiles;
  }

  async usePhoto(photo: PhotoLevel | null, frame: PhotoTiles['frame'] | null): Promise<void> {
    const turn = ++this.#photoTurn;
    this.#photo = null;
    if (!photo || !frame) return;
    const levels = await inSlices(photoLevels(photo));
    if (turn === this.#photoTurn) this.#photo = { frame, levels };
  }

  setUnits(units: 'us' | 'metric'): void {
    if (this.#ground) this.#ground = { ...this.#ground, units };
  }

  async draw({ kind, z, x, y, size }: Requests['tile'][0]): Promise<ImageBitmap | null> {
    if (kind === 'slope') await this.#withSlopes();
    const source = { ground: this.#ground, photo: this.#photo };
    const pixels = renderTile({ kind, z, x, y, size, source });
    if (!pixels) return null;
    const image = new ImageData(pixels as Uint8ClampedArray<ArrayBuffer>, size, size);
    return createImageBitmap(image, { premultiplyAlpha: 'premultiply' });
  }

  async contourLabels(chunk: Requests['contourLabels'][0]): Promise<readonly ContourLabel[]> {
    return this.#ground ? inSlices(contourLabels(this.#ground, chunk)) : [];
  }

  /** Slope overviews, once per ground. */
  #withSlopes(): Promise<void> {
    const grid = this.#grid;
    if (!grid || !this.#ground || this.#ground.slopes) return Promise.resolve();
    const turn = this.#groundTurn;
    this.#slopes ??= inSlices(slopeOverviews(grid)).then((slopes) => {
      if (turn === this.#groundTurn && this.#ground) this.#ground = { ...this.#ground, slopes };
    });
    return this.#slopes;
  }
}

/** Runs long work in slices, letting messages in between. */
export async function inSlices<T>(
  work: Work<T>,
  onProgress?: (progress: Progress) => void,
): Promise<T> {
  let until = performance.now() + sliceMilliseconds;
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
    if (performance.now() < until) continue;
    onProgress?.(step.value);
    await breathe();
    until = performance.now() + sliceMilliseconds;
  }
}
