import type { HorizontalCrs } from '../frame/crs-types.ts';
import { planMosaic, type Canvas } from '../raster/mosaic.ts';
import { ok, type Result } from '../result.ts';
import { askWindow } from './ask-window.ts';
import { groundCellMeters } from './geotiff/ground-cell.ts';
import { MOST_CELLS } from './geotiff/read-elevation.ts';
import { toGrid } from './geotiff/to-grid.ts';
import { draftOf } from './ground-draft.ts';
import type { GroundTile } from './ground-tile.ts';
import {
  refused,
  type GroundChoices,
  type OpenedGround,
  type PixelWindow,
  type Reading,
} from './opening.ts';
import { readCanvas } from './read-canvas.ts';
import { runWork } from './run-work.ts';
import { systemOf, verticalOf } from './stated-place.ts';

const SMALLEST_SIDE = 3;

/**
 * Opens one raster of heights, or several tiles of one survey as one ground: the coordinate system
 * and the height unit are taken from the files or asked for, a ground of more than `MOST_CELLS`
 * cells asks for a window, and what is left becomes a grid in metres.
 */
export async function openTiles(
  tiles: readonly GroundTile[],
  choices: GroundChoices,
  reading: Reading,
): Promise<OpenedGround> {
  const named: { tile: GroundTile; crs: HorizontalCrs }[] = [];
  for (const tile of tiles) {
    const crs = systemOf(tile, choices);
    if ('kind' in crs) return crs;
    named.push({ tile, crs: crs.value });
  }
  const vertical = verticalOf(tiles, choices);
  if ('kind' in vertical) return vertical;
  const canvas = canvasOf(named);
  if (!canvas.ok) return refused(canvas.problem);
  const { width, height } = canvas.value;
  const window = choices.window ?? { column: 0, row: 0, width, height };
  const fault = windowFault(window, canvas.value);
  if (fault) return fault;
  if (Math.min(window.width, window.height) < SMALLEST_SIDE)
    return tooSmall(window, tiles[0]!.name);
  if (window.width * window.height > MOST_CELLS) return askWindow(tiles, canvas.value, reading);
  const raw = await readCanvas(tiles, canvas.value, window, reading);
  if (!raw.ok) return refused(raw.problem);
  const place = { name: tiles[0]!.name, crs: ok(canvas.value.crs), vertical: vertical.value };
  const made = await runWork(toGrid(place, raw.value), reading);
  if (!made.ok) {
    const tooMany = made.problem.code === 'window-needed';
    return tooMany ? askWindow(tiles, canvas.value, reading) : refused(made.problem);
  }
  const { crs, affine } = canvas.value;
  return {
    kind: 'opened',
    grid: made.value.grid,
    draft: draftOf(made.value.grid, choices, {
      tiles,
      crsName: crs.name,
      vertical: vertical.value,
      sourceCellMeters: groundCellMeters(crs, affine, width, height),
      notes: [
        ...vertical.notes,
        ...(choices.window ? ['Cut out of a larger survey.'] : []),
        ...made.value.notes,
      ],
    }),
  };
}

/** One raster is its own canvas, also where it is turned; several are joined. */
function canvasOf(named: readonly { tile: GroundTile; crs: HorizontalCrs }[]): Result<Canvas> {
  const { tile, crs } = named[0]!;
  if (named.length === 1) {
    const { width, height, affine } = tile;
    return ok({ width, height, affine, crs, tiles: [], notes: [] });
  }
  return planMosaic(
    named.map(({ tile: { name, width, height, affine }, crs: system }) => ({
      name,
      width,
      height,
      affine,
      crs: system,
    })),
  );
}

function windowFault(window: PixelWindow, canvas: Canvas): OpenedGround | null {
  const { column, row, width, height } = window;
  const whole = [column, row, width, height].every((n) => Number.isInteger(n) && n >= 0);
  const inside = column + width <= canvas.width && row + height <= canvas.height;
  if (whole && inside && width > 0 && height > 0) return null;
  return refused({
    code: 'window-outside',
    what: `The chosen part does not lie inside the survey of ${canvas.width} × ${canvas.height} cells.`,
    wayOut: 'Choose the part again.',
  });
}

function tooSmall({ width, height }: PixelWindow, where: string): OpenedGround {
  return refused({
    code: 'raster-too-small',
    what: `The ground has ${width} × ${height} cells; slope and water need at least ${SMALLEST_SIDE} × ${SMALLEST_SIDE}.`,
    wayOut: 'Open the whole survey, or choose a larger part of it.',
    where,
  });
}
