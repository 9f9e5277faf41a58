import { affineBounds, affineInverse, type Affine } from './affine.ts';
import { rowsPerBand } from './row-bands.ts';
import type { Work } from '../work.ts';

/** A picture and its place: RGBA, row-major from its first row; alpha 0 is no data. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8ClampedArray;
  readonly affine: Affine;
}

/**
 * A picture that is turned, sheared or mirrored against its coordinate system, made north-up: rows run
 * east, the first row north. Cells become square in coordinates, of the same area as before, or larger
 * where the turned frame would hold more than `mostPixels`. Bilinear between pixel centres, colours
 * weighted by opacity; beyond the picture alpha is 0. Yields per band of rows.
 * Throws RangeError where the cells have no area.
 * Example: a picture of 100 × 50 cells of 1 m turned by 90° gives one of 50 × 100.
 */
export function* turnPhoto(picture: Picture, mostPixels: number): Work<Picture> {
  const { width, height, affine } = picture;
  const inverse = affineInverse(affine);
  const bounds = affineBounds(affine, width, height);
  const across = bounds.east - bounds.west;
  const down = bounds.north - bounds.south;
  let cell = Math.sqrt(Math.abs(affine.a * affine.e - affine.b * affine.d));
  const tooMany = (across / cell) * (down / cell) - mostPixels;
  if (tooMany > 0) cell = Math.sqrt((across * down) / mostPixels);
  // Sheared almost to a line it is one row, of no more pixels than that.
  cell = Math.max(cell, across / mostPixels, down / mostPixels);
  // A hair less, so that rounding never adds a row that no pixel lies in.
  const columns = Math.max(1, Math.ceil(across / cell - 1e-6));
  const rows = Math.max(1, Math.ceil(down / cell - 1e-6));
  const turned: Affine = { a: cell, b: 0, c: bounds.west, d: 0, e: -cell, f: bounds.north };
  const pixels = new Uint8ClampedArray(4 * columns * rows);
  const band = rowsPerBand(columns);
  for (let row = 0; row < rows; row += band) {
    const end = Math.min(rows, row + band);
    for (let r = row; r < end; r++) turnRow(picture, inverse, turned, r, columns, pixels);
    yield { share: end / rows, doing: 'Turning the photo north-up' };
  }
  return { width: columns, height: rows, pixels, affine: turned };
}

function turnRow(
  { width, height, pixels }: Picture,
  inverse: Affine,
  turned: Affine,
  row: number,
  columns: number,
  out: Uint8ClampedArray,
): void {
  const y = turned.f + turned.e * (row + 0.5);
  let x = turned.c + turned.a / 2;
  let to = 4 * row * columns;
  for (let column = 0; column < columns; column++, x += turned.a, to += 4) {
    const u = inverse.a * x + inverse.b * y + inverse.c;
    const v = inverse.d * x + inverse.e * y + inverse.f;
    if (!(u >= 0 && u < width && v >= 0 && v < height)) continue;
    const i = Math.floor(u - 0.5);
    const j = Math.floor(v - 0.5);
    const s = u - 0.5 - i;
    const t = v - 0.5 - j;
    const left = i < 0 ? 0 : i;
    const right = i + 1 < width ? i + 1 : width - 1;
    const top = (j < 0 ? 0 : j) * width;
    const bottom = (j + 1 < height ? j + 1 : height - 1) * width;
    const a = 4 * (top + left);
    const b = 4 * (top + right);
    const c = 4 * (bottom + left);
    const d = 4 * (bottom + right);
    const wa = (1 - s) * (1 - t) * pixels[a + 3];
    const wb = s * (1 - t) * pixels[b + 3];
    const wc = (1 - s) * t * pixels[c + 3];
    const wd = s * t * pixels[d + 3];
    const alpha = wa + wb + wc + wd;
    if (alpha < 0.5) continue;
    for (let k = 0; k < 3; k++) {
      out[to + k] =
        (wa * pixels[a + k] + wb * pixels[b + k] + wc * pixels[c + k] + wd * pixels[d + k]) / alpha;
    }
    out[to + 3] = alpha;
  }
}
