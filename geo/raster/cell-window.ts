/** A rectangle of whole cells in a grid. */
export interface CellWindow {
  readonly column: number;
  readonly row: number;
  readonly width: number;
  readonly height: number;
}

/** Numbers for the cells of a rectangle of a grid: row-major, row 0 north, NaN is no data. */
export interface CellField {
  readonly data: Float32Array;
  readonly window: CellWindow;
}

/** The whole of a grid as a window. */
export function wholeWindow(place: {
  readonly width: number;
  readonly height: number;
}): CellWindow {
  return { column: 0, row: 0, width: place.width, height: place.height };
}

/** Throws RangeError with the value when a window is not whole cells inside the grid. */
export function expectWindowInside(
  window: CellWindow,
  place: { readonly width: number; readonly height: number },
): void {
  const { column, row, width, height } = window;
  const whole = [column, row, width, height].every((n) => Number.isInteger(n) && n >= 0);
  if (!whole || column + width > place.width || row + height > place.height) {
    throw new RangeError(
      `window ${column},${row} ${width}x${height} is not inside a grid of ${place.width}x${place.height}`,
    );
  }
}
