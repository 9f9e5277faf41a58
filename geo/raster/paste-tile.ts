import type { Work } from '../work.ts';
import type { CellWindow } from './cell-window.ts';
import type { PlacedTile } from './mosaic.ts';
import { resampleBilinear, type ToSource } from './resample-bilinear.ts';

/** A part of a tile that was read: its cells, and where they begin in the tile. */
export interface TilePart {
  readonly data: Float32Array;
  readonly window: CellWindow;
}

/** Cells of a tile that are needed to fill a part of the canvas; null where it does not reach. */
export function partOfTile(placed: PlacedTile, wanted: CellWindow): CellWindow | null {
  const shared = overlap(placed.reach, wanted);
  if (!shared) return null;
  const point = new Float64Array(2);
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i <= 16; i++) {
    for (const [u, v] of [
      [i / 16, 0],
      [i / 16, 1],
      [0, i / 16],
      [1, i / 16],
    ] as const) {
      placed.toTile(shared.column + u * shared.width, shared.row + v * shared.height, point);
      left = Math.min(left, point[0]!);
      right = Math.max(right, point[0]!);
      top = Math.min(top, point[1]!);
      bottom = Math.max(bottom, point[1]!);
    }
  }
  // Two cells beyond: one for the neighbours of a sample, one for bent edges.
  const spare = placed.how === 'whole-cells' ? 0 : 2;
  const bare = placed.how === 'whole-cells' ? Math.round : Math.floor;
  const box = {
    column: bare(left) - spare,
    row: bare(top) - spare,
    width: bare(right) - bare(left) + 2 * spare,
    height: bare(bottom) - bare(top) + 2 * spare,
  };
  return overlap(box, { column: 0, row: 0, width: placed.tile.width, height: placed.tile.height });
}

/**
 * Puts a part of a tile into a part of the canvas: only where the canvas has no number yet, so no
 * data never overwrites data and the first tile in name order keeps an overlap. Bilinear where the
 * tile's cells are not the canvas's (see `resampleBilinear`).
 * @param canvas row-major cells of `wanted`, NaN where nothing is yet; changed in place
 * Throws RangeError where `canvas` does not fit `wanted`.
 */
export function* pasteTile(
  placed: PlacedTile,
  part: TilePart,
  canvas: Float32Array,
  wanted: CellWindow,
): Work<void> {
  if (canvas.length !== wanted.width * wanted.height) {
    throw new RangeError(`canvas of ${canvas.length} cells for ${wanted.width} × ${wanted.height}`);
  }
  const shared = overlap(placed.reach, wanted);
  if (!shared) return;
  const { column: partColumn, row: partRow, width, height } = part.window;
  let cells = part.data;
  let cellsWidth = width;
  let offset = 0;
  if (placed.how === 'whole-cells') {
    const column = shared.column - placed.reach.column - partColumn;
    const row = shared.row - placed.reach.row - partRow;
    offset = row * width + column;
  } else {
    const toPart: ToSource = (column, row, out) => {
      placed.toTile(shared.column + column, shared.row + row, out);
      out[0]! -= partColumn;
      out[1]! -= partRow;
    };
    const source = { data: part.data, width, height };
    cells = yield* resampleBilinear(source, toPart, shared.width, shared.height);
    cellsWidth = shared.width;
  }
  for (let row = 0; row < shared.height; row++) {
    const from = offset + row * cellsWidth;
    const to = (shared.row - wanted.row + row) * wanted.width + shared.column - wanted.column;
    fillHoles(cells, from, canvas, to, shared.width);
    if (row % 256 === 255) yield { share: row / shared.height, doing: 'Joining the tiles' };
  }
}

function fillHoles(from: Float32Array, at: number, into: Float32Array, to: number, count: number) {
  for (let i = 0; i < count; i++) {
    const before = into[to + i]!;
    if (before !== before) into[to + i] = from[at + i]!;
  }
}

function overlap(a: CellWindow, b: CellWindow): CellWindow | null {
  const column = Math.max(a.column, b.column);
  const row = Math.max(a.row, b.row);
  const width = Math.min(a.column + a.width, b.column + b.width) - column;
  const height = Math.min(a.row + a.height, b.row + b.height) - row;
  return width > 0 && height > 0 ? { column, row, width, height } : null;
}
