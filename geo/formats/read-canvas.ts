import { affinePart } from '../raster/affine.ts';
import type { Canvas } from '../raster/mosaic.ts';
import { partOfTile, pasteTile } from '../raster/paste-tile.ts';
import { ok, problem, type Result } from '../result.ts';
import type { Progress } from '../work.ts';
import type { RawElevation } from './geotiff/read-elevation.ts';
import type { GroundTile } from './ground-tile.ts';
import type { PixelWindow, Reading } from './opening.ts';
import { runWork } from './run-work.ts';

/** Reads a part of the canvas: of each tile only what reaches into it, in the canvas's order. */
export async function readCanvas(
  tiles: readonly GroundTile[],
  canvas: Canvas,
  window: PixelWindow,
  reading: Reading,
): Promise<Result<RawElevation>> {
  if (canvas.tiles.length === 0) {
    const read = await tiles[0]!.read(window, reading);
    return read.ok && read.value.missing === read.value.data.length ? nothingThere() : read;
  }
  const data = new Float32Array(window.width * window.height).fill(NaN);
  const notes: string[] = [...canvas.notes];
  for (const [i, placed] of canvas.tiles.entries()) {
    const tile = tiles.find((one) => one.name === placed.tile.name)!;
    const part = partOfTile(placed, window);
    if (!part) continue;
    const onProgress = (progress: Progress) =>
      reading.onProgress?.({
        doing: `${progress.doing}: ${tile.name}`,
        share: (i + progress.share) / canvas.tiles.length,
      });
    const read = await tile.read(part, { ...reading, onProgress });
    if (!read.ok && read.problem.code === 'raster-all-nodata') continue;
    if (!read.ok) return read;
    for (const note of read.value.notes) if (!notes.includes(note)) notes.push(note);
    await runWork(pasteTile(placed, { data: read.value.data, window: part }, data, window), {
      ...reading,
      onProgress,
    });
  }
  let missing = 0;
  for (let i = 0; i < data.length; i++) if (data[i] !== data[i]) missing++;
  if (missing === data.length) {
    return nothingThere();
  }
  const affine = affinePart(canvas.affine, window.column, window.row);
  return ok({ width: window.width, height: window.height, data, affine, missing, notes });
}

function nothingThere(): Result<never> {
  return problem(
    'raster-all-nodata',
    'There are no heights in that part of the survey.',
    'Choose another part of the survey, or another tile.',
  );
}
