import type { PixelWindow } from '../../workers/messages.ts';

/** Geometry of choosing a part of a raster that is too large to open whole; all in its pixels. */
export interface RasterSize {
  readonly fullWidth: number;
  readonly fullHeight: number;
}

const LEAST = 64;

/** The largest window about the middle that may be opened, with the raster's own proportions. */
export function firstWindow(size: RasterSize, maxCells: number): PixelWindow {
  const shrink = Math.min(1, Math.sqrt(maxCells / (size.fullWidth * size.fullHeight)));
  const width = Math.max(1, Math.floor(size.fullWidth * shrink));
  const height = Math.max(1, Math.floor(size.fullHeight * shrink));
  return {
    column: Math.floor((size.fullWidth - width) / 2),
    row: Math.floor((size.fullHeight - height) / 2),
    width,
    height,
  };
}

/** Moved by so many pixels, kept inside the raster. */
export function movedWindow(
  window: PixelWindow,
  columns: number,
  rows: number,
  size: RasterSize,
): PixelWindow {
  return {
    ...window,
    column: clamp(Math.round(window.column + columns), 0, size.fullWidth - window.width),
    row: clamp(Math.round(window.row + rows), 0, size.fullHeight - window.height),
  };
}

/** Its lower right corner moved by so many pixels, kept inside the raster and not below 64. */
export function resizedWindow(
  window: PixelWindow,
  columns: number,
  rows: number,
  size: RasterSize,
): PixelWindow {
  const mostWidth = size.fullWidth - window.column;
  const mostHeight = size.fullHeight - window.row;
  return {
    ...window,
    width: clamp(Math.round(window.width + columns), Math.min(LEAST, mostWidth), mostWidth),
    height: clamp(Math.round(window.height + rows), Math.min(LEAST, mostHeight), mostHeight),
  };
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(Math.max(value, least), most);
}
