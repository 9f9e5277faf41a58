import type { PixelWindow } from '../opening.ts';
import type { TiffImage } from './tiff-image.ts';
import type { ReadBlock } from './walk-blocks.ts';

/**
 * Calls `hide` for every picked cell of a mask block that is masked out (0), or left out of the file.
 *
 * @param step every how many cells of the window one is picked; `hide` gets picked columns and rows
 */
export function takeMask(
  block: ReadBlock,
  mask: TiffImage,
  window: PixelWindow,
  step: number,
  hide: (column: number, row: number) => void,
): void {
  const bytes = block.block && new Uint8Array(block.block);
  const bytesPerRow = Math.ceil((mask.blockWidth * mask.bits) / 8);
  const picked = pickedCells(block, window, step);
  for (let y = picked.firstRow; y < picked.endRow; y++) {
    const at = (window.row + y * step - block.row) * bytesPerRow;
    for (let x = picked.firstColumn; x < picked.endColumn; x++) {
      const column = window.column + x * step - block.column;
      const seen =
        bytes !== null &&
        (mask.bits === 1
          ? ((bytes[at + (column >> 3)] >> (7 - (column & 7))) & 1) !== 0
          : bytes[at + (column * mask.bits) / 8] !== 0);
      if (!seen) hide(x, y);
    }
  }
}

/** Which picked columns and rows of a window lie in a block. */
export function pickedCells(block: ReadBlock, window: PixelWindow, step: number) {
  const first = (start: number, from: number) => Math.max(0, Math.ceil((start - from) / step));
  const end = (stop: number, from: number, size: number) =>
    Math.ceil(Math.min(stop - from, size) / step);
  return {
    firstColumn: first(block.column, window.column),
    endColumn: end(block.column + block.width, window.column, window.width),
    firstRow: first(block.row, window.row),
    endRow: end(block.row + block.height, window.row, window.height),
  };
}
