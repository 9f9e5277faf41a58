import type { Grid } from './grid.ts';

/**
 * Height between cell centres at frame x, y (metres), bilinear from the four centres around it.
 * A point off the grid, or in a cell without data, has none: NaN; the outer boundary counts as on
 * the grid. In the half cell between the outermost centres and the rim, the nearest centres serve.
 * Neighbours without data are left out and the weights of the others scaled up to one (as
 * `gdalwarp -r bilinear`), so a hole does not grow. Example: four cells 1 2 / 3 4 give 2.5 midway.
 */
export function sampleBilinear(grid: Grid, x: number, y: number): number {
  const { data, width, height } = grid;
  const here = sampleNearest(grid, x, y);
  if (Number.isNaN(here)) return NaN;
  const across = clamp((x - grid.west) / grid.cellWidth - 0.5, width - 1);
  const down = clamp((grid.north - y) / grid.cellHeight - 0.5, height - 1);
  const left = Math.min(Math.floor(across), Math.max(0, width - 2));
  const top = Math.min(Math.floor(down), Math.max(0, height - 2));
  const right = Math.min(left + 1, width - 1);
  const bottom = Math.min(top + 1, height - 1);
  const u = across - left;
  const v = down - top;
  const nw = data[top * width + left]!;
  const ne = data[top * width + right]!;
  const sw = data[bottom * width + left]!;
  const se = data[bottom * width + right]!;
  const whole = (nw * (1 - u) + ne * u) * (1 - v) + (sw * (1 - u) + se * u) * v;
  if (!Number.isNaN(whole)) return whole;
  let weight = 0;
  let sum = 0;
  const add = (z: number, w: number) => {
    if (w === 0 || Number.isNaN(z)) return;
    weight += w;
    sum += w * z;
  };
  add(nw, (1 - u) * (1 - v));
  add(ne, u * (1 - v));
  add(sw, (1 - u) * v);
  add(se, u * v);
  return sum / weight;
}

/**
 * Height of the cell that holds frame x, y (metres); NaN off the grid or without data. A point on
 * a line between cells belongs to the cell east or south of it, on the outer boundary to the rim.
 */
export function sampleNearest(grid: Grid, x: number, y: number): number {
  const index = cellAt(grid, x, y);
  return index < 0 ? NaN : grid.data[index]!;
}

/** Index of the cell that holds frame x, y (metres), or -1 off the grid. */
export function cellAt(
  place: Pick<Grid, 'width' | 'height' | 'west' | 'north' | 'cellWidth' | 'cellHeight'>,
  x: number,
  y: number,
): number {
  const { width, height } = place;
  const across = (x - place.west) / place.cellWidth;
  const down = (place.north - y) / place.cellHeight;
  if (!(across >= 0 && across <= width && down >= 0 && down <= height)) return -1;
  if (width === 0 || height === 0) return -1;
  const column = Math.min(Math.floor(across), width - 1);
  const row = Math.min(Math.floor(down), height - 1);
  return row * width + column;
}

function clamp(value: number, most: number): number {
  return value < 0 ? 0 : value > most ? most : value;
}
