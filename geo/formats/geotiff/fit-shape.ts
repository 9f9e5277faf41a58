import type { Frame, HorizontalCrs } from '../../frame/crs-types.ts';
import { openCrs } from '../../frame/open-frame.ts';
import { affineInverse, affinePoint, type Affine } from '../../raster/affine.ts';
import type { GridShape } from '../../raster/make-grid.ts';
import type { ToSource } from '../../raster/resample-bilinear.ts';

interface Cells {
  readonly width: number;
  readonly height: number;
  readonly affine: Affine;
}

const STEPS_ALONG_EDGE = 64;

/**
 * The grid in a frame that holds all of a raster of another system: square cells of the same area
 * (at the raster's centre), edges on whole multiples of the cell, and where each new cell lies in
 * the old raster. Null where the raster's edge or centre has no place in the frame.
 */
export function fitShape(
  cells: Cells,
  crs: HorizontalCrs,
  frame: Frame,
): { shape: GridShape; toSource: ToSource } | null {
  try {
    return fit(cells, crs, frame);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function fit(
  cells: Cells,
  crs: HorizontalCrs,
  frame: Frame,
): { shape: GridShape; toSource: ToSource } | null {
  const points = openCrs(crs);
  const { affine, width, height } = cells;
  const toFrame = (column: number, row: number): [number, number] =>
    frame.fromLngLat(...points.toLngLat(...affinePoint(affine, column, row)));

  const [x0, y0] = toFrame(width / 2 - 0.5, height / 2 - 0.5);
  const [x1, y1] = toFrame(width / 2 + 0.5, height / 2 - 0.5);
  const [x2, y2] = toFrame(width / 2 - 0.5, height / 2 + 0.5);
  const cell = Math.sqrt(Math.abs((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)));

  if (!(cell > 0)) return null;

  let west = Infinity;
  let east = -Infinity;
  let south = Infinity;
  let north = -Infinity;
  for (let i = 0; i <= STEPS_ALONG_EDGE; i++) {
    const share = i / STEPS_ALONG_EDGE;
    for (const [x, y] of [
      toFrame(share * width, 0),
      toFrame(share * width, height),
      toFrame(0, share * height),
      toFrame(width, share * height),
    ]) {
      west = Math.min(west, x);
      east = Math.max(east, x);
      south = Math.min(south, y);
      north = Math.max(north, y);
    }
  }
  // A hair is given away, so that a raster already on the lines does not gain an empty row.
  const hair = 1e-6;
  const left = Math.floor(west / cell + hair);
  const top = Math.ceil(north / cell - hair);
  const shape: GridShape = {
    width: Math.ceil(east / cell - hair) - left,
    height: top - Math.floor(south / cell + hair),
    west: left * cell,
    north: top * cell,
    cellWidth: cell,
    cellHeight: cell,
  };
  const back = affineInverse(affine);
  const toSource: ToSource = (column, row, out) => {
    let x = NaN;
    let y = NaN;
    try {
      const [lng, lat] = frame.toLngLat(shape.west + column * cell, shape.north - row * cell);
      [x, y] = points.fromLngLat(lng, lat);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
    }
    out[0] = back.a * x + back.b * y + back.c;
    out[1] = back.d * x + back.e * y + back.f;
  };
  return { shape, toSource };
}
